"""The generated reference, `generator/REFERENCE.md`.

`python tests/support/docs.py` renews it; tests/docs/test_docs.py holds it current.
"""

from __future__ import annotations

from pathlib import Path

import click

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = "generator/REFERENCE.md"

_TOP = """\
# Reference

What can be written, and what each command does. Made by the program from its own models
(`python tests/support/docs.py` renews it); `stripewright explain KEY` prints one part of it."""


def commands() -> str:
    """Every command's help, as the terminal shows it."""
    from stripewright.cli import main

    parts = []
    top = click.Context(main, info_name="stripewright", **main.context_settings)
    for name, command in sorted(main.commands.items()):
        context = click.Context(command, top, info_name=name, terminal_width=100)
        parts.append(f"### {name}\n\n```text\n{command.get_help(context)}\n```")
    return "\n\n".join(parts)


def reference() -> str:
    """The whole reference."""
    from stripewright.pattern.reference import key_reference
    from stripewright.pipeline.explain import words
    from stripewright.words.reference import text_reference as templates

    parts = (
        _TOP,
        "## What can be written",
        key_reference(words()),
        "## The text and the techniques",
        templates(),
        "## The commands",
        commands(),
    )
    return "\n\n".join(part.strip() for part in parts) + "\n"


if __name__ == "__main__":
    (ROOT / REFERENCE).write_text(reference(), encoding="utf-8")
