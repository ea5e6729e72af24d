"""The description of the interface (OpenAPI 3.1); tests hold it against the routes."""

from __future__ import annotations

from typing import Any

from wormwright import __version__
from wormwright.app.tried import FIELDS
from wormwright.web.stages import STAGES
from wormwright.web.typed import LONGEST, MOST_ENTRIES

Data = dict[str, Any]

_TEXT: Data = {"type": "string", "maxLength": LONGEST}
_TEXTS: Data = {"type": "object", "additionalProperties": _TEXT}
_ROW: Data = {"type": "integer", "minimum": 1, "maximum": 999_999_999}


def openapi() -> Data:
    """Every route of the interface."""
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "wormwright",
            "version": __version__,
            "description": "The use cases of the command line for one job or a folder of jobs. "
            "Figures are sent as text with their unit, as written at the bench.",
        },
        "paths": {
            "/api/jobs": {"get": _get("Every job with its state", "jobs")},
            "/api/jobs/{job}/mark": {"get": _get("Changes when the job does", "mark", job=True)},
            "/api/jobs/{job}/readings": {
                "get": _get("Every reading, the last first", "readings", job=True),
                "post": _post("Store readings; sent again they are stored once", "entries"),
            },
            "/api/jobs/{job}/confirmations": {
                "post": _post("Say that a row asked about is right", "confirmation")
            },
            "/api/jobs/{job}/results": {
                "get": _get("Diagnosis, plans, operations", "results", job=True)
            },
            **{
                f"/api/jobs/{{job}}/stages/{s.key}": {"get": _get(s.question, "stage", job=True)}
                for s in STAGES
            },
            "/api/jobs/{job}/operations": {
                "get": _get("The order of work and its state", "operations", job=True)
            },
            "/api/jobs/{job}/trials": {
                "post": _post("What a setting would give; nothing is written", "trial", "tried")
            },
            "/api/jobs/{job}/sign-offs": {
                "post": _post("Sign an operation off", "sign_off", "signed")
            },
        },
        "components": {"schemas": _schemas()},
    }


def _ref(name: str) -> Data:
    return {"$ref": f"#/components/schemas/{name}"}


def _json(name: str) -> Data:
    return {"application/json": {"schema": _ref(name)}}


def _job() -> list[Data]:
    return [{"name": "job", "in": "path", "required": True, "schema": {"type": "string"}}]


def _refusals(*codes: str) -> Data:
    return {code: {"description": "Refused", "content": _json("refusal")} for code in codes}


def _get(summary: str, answer: str, *, job: bool = False) -> Data:
    codes = ("404", "422") if job else ()
    return {
        "summary": summary,
        **({"parameters": _job()} if job else {}),
        "responses": {
            "200": {"description": "The answer", "content": _json(answer)},
            **_refusals(*codes),
        },
    }


def _post(summary: str, body: str, answer: str = "stored") -> Data:
    return {
        "summary": summary,
        "parameters": _job(),
        "requestBody": {"required": True, "content": _json(body)},
        "responses": {
            "201": {"description": "Written down", "content": _json(answer)},
            "200": {"description": "Had been written down before", "content": _json(answer)},
            **_refusals("400", "403", "404", "413", "415", "422"),
        },
    }


def _object(**properties: Data) -> Data:
    return {"type": "object", "properties": properties, "required": list(properties)}


def _list(of: Data) -> Data:
    return {"type": "array", "items": of}


def _schemas() -> Data:
    word: Data = {"type": "string"}
    entry: Data = {
        "type": "object",
        "properties": {
            "kind": _TEXT,
            "raw": _TEXT,
            "table_angle": _TEXT,
            "worm_angle": _TEXT,
            "station": _TEXT,
            "instrument": _TEXT,
            "note": _TEXT,
            "column_unit": _TEXT,
            "u": _TEXT,
            "when": _TEXT,
            "conditions": _TEXTS,
            "supersedes": {"oneOf": [_ROW, {"type": "null"}]},
        },
        "required": ["kind", "raw"],
        "additionalProperties": False,
    }
    listed: Data = {
        "type": "object",
        "properties": {
            "entries": {**_list(_ref("entry")), "minItems": 1, "maxItems": MOST_ENTRIES}
        },
        "required": ["entries"],
        "additionalProperties": False,
    }
    return {
        "entry": entry,
        "entries": {"oneOf": [_ref("entry"), listed]},
        "confirmation": _object(seq=_ROW, when=_TEXT),
        "sign_off": {
            **_object(operation=word, initials=word, when=word),
            "properties": {
                name: {"type": "string", "maxLength": 500}
                for name in ("operation", "initials", "note", "when")
            }
            | {"gates": {"type": "object", "additionalProperties": {"type": "string"}}},
        },
        "jobs": _object(jobs=_list({"type": "object"})),
        "mark": _object(mark=word),
        "readings": _object(readings=_list({"type": "object"}), mark=word),
        "stored": _object(
            stored=_list({"type": "object"}),
            doubts=_list(_ref("doubt")),
            again={"type": "boolean"},
            mark=word,
        ),
        "signed": _object(words=word, again={"type": "boolean"}),
        "trial": {
            "type": "object",
            "properties": {name: {"type": "string", "maxLength": 60} for name in FIELDS},
            "additionalProperties": False,
        },
        "tried": _object(
            lines=_list(_object(key=word, label=word, value=word)),
            says=_list(word),
            false_tight={"type": "boolean"},
        ),
        "results": {"type": "object"},
        "stage": _object(stage=word, question=word, report=word, mark=word),
        "operations": _object(
            next=word,
            operations=_list({"type": "object"}),
            stale=_list({"type": "object"}),
            doubts=_list(_ref("doubt")),
        ),
        "doubt": _object(
            action={"enum": ["refuse", "ask", "warn"]},
            word=word,
            code=word,
            seen=word,
            why=word,
            do=word,
            rows=_list(_ROW),
        ),
        "refusal": {"type": "object", "properties": {"refused": word}, "required": ["refused"]},
    }
