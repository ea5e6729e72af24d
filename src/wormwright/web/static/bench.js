// The bench page's own script: keeps what is typed, sends it when it can, shows what others enter.
// It reckons nothing: every figure shown comes from the server.
"use strict";
(() => {
  const body = document.body;
  const job = body.dataset.job;
  const store = {
    get(key, otherwise) {
      try { return JSON.parse(localStorage.getItem(key)) ?? otherwise; } catch { return otherwise; }
    },
    set(key, value) {
      try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch { return false; }
    },
  };
  const now = () => new Date().toISOString();
  const make = (tag, words, name) => {
    const made = document.createElement(tag);
    if (words) made.textContent = words;
    if (name) made.className = name;
    return made;
  };

  // Dark room.
  const dark = document.getElementById("dark");
  const shade = (on) => {
    document.documentElement.toggleAttribute("data-dark", on);
    if (dark) dark.setAttribute("aria-pressed", String(on));
  };
  shade(store.get("wormwright dark", false));
  if (dark) {
    dark.hidden = false;
    dark.addEventListener("click", () => {
      const on = !document.documentElement.hasAttribute("data-dark");
      store.set("wormwright dark", on);
      shade(on);
    });
  }

  // What is said once stays in its box; what is half typed survives a reload.
  const boxKey = (box) => `wormwright box ${location.pathname} ${box.name}`;
  const kept = document.querySelectorAll("form[data-draft] [name], [data-keep]");
  for (const box of kept) {
    if (box.type === "hidden" || box.type === "file") continue;
    const before = store.get(boxKey(box), null);
    if (before !== null && (box.tagName !== "SELECT" || [...box.options].some((o) => o.value === before || o.text === before))) box.value = before;
    box.addEventListener("input", () => store.set(boxKey(box), box.value));
  }
  for (const form of document.querySelectorAll("form[data-once]")) {
    form.addEventListener("submit", () => { form.elements.when.value ||= now(); });
  }
  if (!job) return;

  const wire = document.getElementById("wire");
  const say = (words) => { wire.textContent = words; wire.hidden = !words; };

  // The queue: readings typed and not yet answered for. It outlives a reload and a dead server.
  const queueKey = `wormwright queue ${job}`;
  const queue = () => store.get(queueKey, []);
  const send = async (path, thing) => {
    const answer = await fetch(path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(thing),
      signal: AbortSignal.timeout(15000),
    });
    return { status: answer.status, told: await answer.json() };
  };
  let busy = false;
  const flush = async () => {
    if (busy) return;
    busy = true;
    try {
      for (let waiting = queue(); waiting.length; waiting = queue()) {
        const first = waiting[0];
        const { status, told } = await send(`/api/jobs/${job}/${first.to}`, first.thing);
        if (status >= 500 || status === 401 || status === 421) throw new Error(String(status));
        store.set(queueKey, queue().filter((one) => one.thing.when !== first.thing.when));
        shown(status, told, first.thing);
      }
      say("");
    } catch {
      const left = queue().length;
      if (left) say(`Not connected. ${left} ${left === 1 ? "entry waits" : "entries wait"} on this device and will be sent.`);
    } finally { busy = false; }
  };
  const add = (to, thing) => {
    if (!store.set(queueKey, [...queue(), { to, thing }])) say("This browser keeps nothing: do not close the page before it has answered.");
    flush();
  };

  // The answer: in large figures, with what looks wrong and what to do.
  const answer = document.getElementById("answer");
  const doubt = (d) => {
    const box = make("section", "", `doubt ${d.action}`);
    const head = make("p");
    head.append(make("span", d.word, "word"), ` ${d.code || ""}: ${d.seen}`);
    box.append(head);
    if (d.do) box.append(make("p", `Do: ${d.do}`));
    return box;
  };
  function shown(status, told, thing) {
    if (!answer) return;
    answer.replaceChildren();
    if (status >= 400) {
      const box = make("section", "", "doubt refuse");
      box.append(make("p", `REFUSED, not stored: ${thing.raw ?? ""}`, "word"));
      for (const w of told.wrongs || []) box.append(make("p", `${w.field}: expected ${w.expected}, got ${w.got}. Do: ${w.do}`));
      if (!(told.wrongs || []).length) box.append(make("p", told.refused));
      answer.append(box);
      const raw = document.getElementById("raw");
      if (raw && raw.tagName === "INPUT" && !raw.value) { raw.value = thing.raw ?? ""; raw.select(); }
      return;
    }
    for (const row of told.stored || []) {
      const read = make("p", row.understood, "read");
      read.append(make("small", `row ${row.seq}${row.where ? " at " + row.where : ""}, typed ${row.raw}`));
      answer.append(read);
    }
    for (const d of told.doubts || []) answer.append(doubt(d));
    refresh();
  }

  // Entry of readings.
  const form = document.getElementById("entry");
  if (form) {
    const box = (name) => form.elements[name];
    const instead = document.getElementById("instead");
    const drift = document.getElementById("drift");
    const positions = () => {
      const parts = (box("places")?.value || "").split(",").map((p) => p.trim()).filter(Boolean);
      const unit = parts.length ? parts[parts.length - 1].replace(/^[0-9.\s]+/, "") : "";
      return parts.map((p) => (/^[0-9.\s]+$/.test(p) && unit ? `${p} ${unit}` : p));
    };
    const next = () => {
      const listed = positions();
      if (!listed.length || !box("place")) return;
      const at = listed.indexOf(box("place").value.trim());
      box("place").value = at + 1 < listed.length ? listed[at + 1] : listed[0];
      box("place").dispatchEvent(new Event("input"));
      drift.textContent = at + 1 === listed.length ? `Go back to the first position, ${listed[0]}, and read it once more: the difference is the drift.` : "";
      drift.hidden = !drift.textContent;
    };
    const first = () => {
      const listed = positions();
      if (listed.length && !listed.includes(box("place").value.trim())) box("place").value = listed[0];
    };
    if (box("places")) { box("places").addEventListener("change", first); first(); }
    const entry = (raw) => {
      const conditions = {};
      for (const one of form.querySelectorAll("[name^='with-']")) if (one.value.trim()) conditions[one.name.slice(5)] = one.value.trim();
      const said = (name) => (box(name) ? box(name).value.trim() : "");
      const thing = {
        kind: form.dataset.entry, raw, station: said("station"), instrument: said("instrument"), note: said("note"),
        column_unit: said("unit"), conditions, when: now(), supersedes: said("supersedes") ? Number(said("supersedes")) : null,
      };
      if (box("place")) thing[document.querySelector("label[for=place]").textContent.startsWith("Table") ? "table_angle" : "worm_angle"] = said("place");
      return thing;
    };
    const clear = (names) => {
      for (const name of names) if (box(name)) { box(name).value = ""; store.set(boxKey(box(name)), ""); }
      instead.hidden = true;
    };
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const column = (box("column")?.value || "").split(/\r?\n/).map((l) => l.trim()).filter(Boolean);
      const replacing = box("supersedes").value !== "";
      if (column.length) {
        const base = Date.now();
        for (const [at, raw] of column.entries()) { add("readings", { ...entry(raw), when: new Date(base + at).toISOString() }); next(); }
      } else {
        if (!box("raw").value.trim()) return;
        add("readings", entry(box("raw").value.trim()));
        if (!replacing) next();
      }
      clear(box("raw").tagName === "SELECT" ? ["column", "note", "supersedes"] : ["raw", "column", "note", "supersedes"]);
      box("raw").focus();
    });
    const unit = box("unit");
    const keypad = () => { if (box("raw").tagName === "INPUT") box("raw").inputMode = unit && unit.value ? "decimal" : "text"; };
    if (unit) unit.addEventListener("change", keypad);
    keypad();
    const sign = document.getElementById("sign");
    if (sign) {
      sign.hidden = false;
      sign.addEventListener("click", () => {
        const raw = box("raw");
        raw.value = raw.value.startsWith("-") ? raw.value.slice(1) : `-${raw.value.replace(/^\+/, "")}`;
        raw.focus();
      });
    }
    document.addEventListener("click", (event) => {
      const at = event.target.closest("button");
      if (!at) return;
      if (at.dataset.instead) {
        box("supersedes").value = at.dataset.instead;
        if (box("place") && at.dataset.place) box("place").value = at.dataset.place;
        instead.textContent = `Type what row ${at.dataset.instead} (${at.dataset.raw}) should be. The old row stays on file.`;
        instead.hidden = false;
        box("raw").focus();
      } else if (at.dataset.strike) {
        const thing = { ...entry("—"), supersedes: Number(at.dataset.strike), note: "struck out" };
        if (box("place")) for (const name of ["table_angle", "worm_angle"]) if (name in thing) thing[name] = at.dataset.place;
        add("readings", thing);
        box("raw").focus();
      } else if (at.dataset.confirm) {
        add("confirmations", { seq: Number(at.dataset.confirm), when: now() });
      }
    });
  }

  // A setting tried on paper: the picture follows the finger, the figures come from the server.
  const trial = document.getElementById("trial");
  if (trial) {
    const turning = document.getElementById("turning");
    const tried = document.getElementById("tried");
    let asked = 0, asking = false, again = false;
    const ask = async () => {
      if (asking) { again = true; return; }
      asking = true;
      const thing = {};
      for (const box of trial.querySelectorAll("input")) if (box.value.trim()) thing[box.name] = box.name === "angle" ? `${box.value} deg` : box.value.trim();
      const mine = ++asked;
      try {
        const { status, told } = await send(`/api/jobs/${job}/trials`, thing);
        if (mine === asked) {
          tried.replaceChildren();
          if (status >= 400) {
            const wrongs = told.wrongs && told.wrongs.length ? told.wrongs.map((w) => `${w.field}: expected ${w.expected}, got ${w.got}. ${w.do}`) : [told.refused];
            for (const words of wrongs) tried.append(make("p", words, "doubt refuse"));
          } else {
            for (const words of told.says) tried.append(make("p", words, "doubt warn"));
            if (told.false_tight) tried.append(make("p", "FALSE TIGHT: it would feel closed while the worm stands off centre.", "doubt refuse"));
            const list = make("dl", "", "facts");
            for (const line of told.lines) { list.append(make("dt", line.label)); list.append(make("dd", line.value, "figure")); }
            tried.append(list);
            marks(thing);
          }
        }
      } catch { say("Not connected. Trials need the server."); }
      asking = false;
      if (again) { again = false; ask(); }
    };
    // The marks follow when the finger rests; a pair whose marks cannot be drawn shows none.
    const blue = document.getElementById("blue");
    let resting;
    const marks = (thing) => {
      clearTimeout(resting);
      resting = setTimeout(() => {
        const next = new Image();
        next.alt = blue.querySelector("img").alt;
        next.onload = () => { blue.querySelector("img").replaceWith(next); blue.hidden = false; };
        next.onerror = () => { blue.hidden = true; };
        next.src = `${blue.dataset.address}?${new URLSearchParams(thing)}`;
      }, 150);
    };
    const turn = () => {
      const angle = Number(trial.elements.angle.value);
      document.getElementById("angle-said").textContent = `${angle}°`;
      if (turning) turning.style.transform = `rotate(${angle}deg)`;
    };
    trial.addEventListener("input", () => { turn(); ask(); });
    trial.addEventListener("submit", (event) => event.preventDefault());
    document.addEventListener("fresh", ask);
    turn();
    ask();
  }

  // What others enter, and what is being reckoned: ask for the mark of the job, fetch the live parts
  // anew when it has changed or while something is awaited.
  let mark = body.dataset.mark;
  const awaited = () => document.querySelector("[data-waiting]");
  const refresh = async () => {
    const page = await fetch(location.href, { headers: { Accept: "text/html" } });
    if (!page.ok) return;
    const fresh = new DOMParser().parseFromString(await page.text(), "text/html");
    mark = fresh.body.dataset.mark ?? mark;
    if (document.querySelector("[data-waiting=page]")) {
      if (!fresh.querySelector("[data-waiting=page]")) location.reload();
      return;
    }
    for (const part of document.querySelectorAll("[data-live]")) {
      const other = fresh.querySelector(`[data-live="${part.dataset.live}"]`);
      const held = document.activeElement;
      if (!other || part.innerHTML === other.innerHTML || (part.contains(held) && held.matches("input, select, textarea"))) continue;
      swap(part, other);
    }
    document.dispatchEvent(new Event("fresh"));
  };
  // A part takes the place of the one before it: what was open stays open, and a picture stays
  // until the next one has come.
  const swap = (part, other) => {
    const open = [...part.querySelectorAll("details")].map((d) => d.open);
    const before = [...part.querySelectorAll("img")];
    const nodes = [...document.importNode(other, true).childNodes];
    part.replaceChildren(...nodes);
    part.querySelectorAll("details").forEach((d, i) => { d.open = open[i] ?? d.open; });
    part.querySelectorAll("img").forEach((image, i) => {
      const old = before[i];
      if (!old || !old.complete || !old.naturalWidth) return;
      if (old.src === image.src) { image.replaceWith(old); return; }
      image.replaceWith(old);
      image.loading = "eager";
      image.decode().catch(() => {}).then(() => { if (old.isConnected) old.replaceWith(image); });
    });
  };
  const watch = async () => {
    try {
      const told = await (await fetch(`/api/jobs/${job}/mark`, { signal: AbortSignal.timeout(5000) })).json();
      if (awaited() || (told.mark !== mark && document.querySelector("[data-live]"))) { mark = told.mark; await refresh(); }
      if (queue().length) await flush();
      else if (wire.textContent.startsWith("Not connected")) say("");
    } catch {
      const left = queue().length;
      say(`Not connected.${left ? ` ${left} ${left === 1 ? "entry waits" : "entries wait"} on this device and will be sent.` : " What you type is kept on this device."}`);
    }
    setTimeout(watch, document.hidden ? 5000 : awaited() ? 400 : 1000);
  };
  flush();
  watch();
})();
