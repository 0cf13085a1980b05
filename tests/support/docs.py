"""The generated parts of the README and of DEVELOPERS.md.

`python tests/support/docs.py` renews them; tests/docs/test_docs.py holds them current.
"""

from __future__ import annotations

import re
from pathlib import Path

import click

ROOT = Path(__file__).resolve().parents[2]


def commands() -> str:
    """Every command's help, as the terminal shows it."""
    from stripewright.cli import main

    parts = []
    top = click.Context(main, info_name="stripewright", **main.context_settings)
    for name, command in sorted(main.commands.items()):
        context = click.Context(command, top, info_name=name, terminal_width=100)
        parts.append(f"```text\n{command.get_help(context)}\n```")
    return "\n\n".join(parts)


def reference() -> str:
    """The front-matter reference, from the models."""
    from stripewright.compute.tables import heads
    from stripewright.pattern.reference import reference_markdown

    return reference_markdown(tuple(heads()))


def text() -> str:
    """What a pattern's text and techniques can say."""
    from stripewright.words.reference import reference_markdown

    return reference_markdown()


PARTS = {"README.md": {"commands": commands, "reference": reference, "text": text}}


def renewed(name: str) -> str:
    """A document with its generated parts made anew. Raises ValueError where a marker is missing."""
    text = (ROOT / name).read_text(encoding="utf-8")
    for part, make in PARTS[name].items():
        pattern = re.compile(rf"(<!-- {part}:begin -->\n).*?(<!-- {part}:end -->)", re.DOTALL)
        if not pattern.search(text):
            raise ValueError(f"{name} has no markers for {part}")
        body = make().strip() + "\n"
        text = pattern.sub(lambda found, body=body: found[1] + body + found[2], text)
    return text


if __name__ == "__main__":
    for document in PARTS:
        (ROOT / document).write_text(renewed(document), encoding="utf-8")
