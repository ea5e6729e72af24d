"""Write docs/reference/cli.md from the program's own help: `python scripts/make_cli_docs.py`."""

from __future__ import annotations

import inspect
from pathlib import Path

import click

from wormwright.cli.verbs import VERBS, wormwright

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "cli.md"
HEAD = """# The command line

<!-- Made by scripts/make_cli_docs.py from the program's help: change the help, not this page. -->

"""


def main() -> None:
    PAGE.parent.mkdir(parents=True, exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8", newline="\n")
    print(f"wrote {PAGE}")


def page() -> str:
    """The whole page."""
    parent = click.Context(wormwright, info_name="wormwright", help_option_names=["-h", "--help"])
    parts = [HEAD, _prose(wormwright.help or "")]
    for verb in VERBS:
        command = wormwright.get_command(parent, verb)
        if command is None:
            raise LookupError(f"the verb {verb} has no command")
        parts.append(_section(verb, command, parent))
    return "".join(parts).rstrip() + "\n"


def _section(verb: str, command: click.Command, parent: click.Context) -> str:
    context = click.Context(command, info_name=verb, parent=parent)
    usage = command.get_usage(context).removeprefix("Usage: ")
    lines = [f"\n## {verb}\n\n", f"```\n{' '.join(usage.split())}\n```\n\n"]
    lines.append(_prose(command.help or ""))
    records = [p.get_help_record(context) for p in command.get_params(context)]
    rows = [record for record in records if record is not None]
    lines.append("\n| option | what it does |\n|---|---|\n")
    lines += [f"| `{_cell(option)}` | {_cell(text)} |\n" for option, text in rows]
    return "".join(lines)


def _prose(help_text: str) -> str:
    r"""Paragraphs as they are; a block marked with \b as a fenced one."""
    out = []
    for paragraph in inspect.cleandoc(help_text).split("\n\n"):
        if paragraph.startswith("\b\n"):
            first, *rest = paragraph.removeprefix("\b\n").splitlines()
            titled = first.endswith(":")
            block = inspect.cleandoc("\n".join(rest if titled else [first, *rest]))
            out.append((f"{first}\n\n" if titled else "") + f"```\n{block}\n```\n")
        else:
            out.append(" ".join(paragraph.split()) + "\n")
    return "\n".join(out)


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


if __name__ == "__main__":
    main()
