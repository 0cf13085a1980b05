"""A theme's tokens: colour, type and space, in one place, as CSS custom properties.

`theme.yaml` lists them by name; a token whose name ends in `-dark` takes the place of the one
without the ending where the reader prefers a dark page. A studio's settings may give any of them
another value.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.pattern.base import STYLE, VARIABLE
from stripewright.problems import Place, Problem, did_you_mean, error
from stripewright.source.yaml_tree import read_yaml

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.pages.theme import Theme

DARK = "-dark"
_NAME = re.compile(VARIABLE)
_VALUE = re.compile(STYLE)
_FUNCTION = re.compile(r"([a-z-]*)\s*\(", re.IGNORECASE)
FUNCTIONS = {"", "calc", "clamp", "hsl", "max", "min", "oklch", "rgb", "var"}
"""CSS functions that a value may call: none of them fetches anything."""


def read_tokens(theme: Theme) -> tuple[dict[str, str], list[Problem]]:
    """The tokens of a theme's own theme.yaml, in its order, and what is wrong with them."""
    file = f"themes/{theme.name}/theme.yaml"
    text = theme.files.get("theme.yaml", b"").decode("utf-8", "replace")
    tree, problems = read_yaml(text, file, 1)
    found = tree.front.get("tokens")
    tokens = {str(k): str(v) for k, v in found.items()} if isinstance(found, dict) else {}
    for name, value in tokens.items():
        problems += _check(name, value, tree.place(("tokens", name)))
    return tokens, problems


def place_of_token(theme: Theme, name: str) -> Place:
    """Where a token's value stands in the theme's own theme.yaml."""
    text = theme.files.get("theme.yaml", b"").decode("utf-8", "replace")
    tree, _ = read_yaml(text, f"themes/{theme.name}/theme.yaml", 1)
    return tree.place(("tokens", name))


def check_tokens(
    theme: Theme, given: Mapping[str, str], place: Callable[[str], Place]
) -> list[Problem]:
    """What is wrong with a theme's tokens, and with those that a studio sets.

    Args:
        theme: the theme in use.
        given: the settings' tokens.
        place: where a token's value stands in the settings.
    """
    tokens, problems = read_tokens(theme)
    for name, value in given.items():
        if name not in tokens and name.removesuffix(DARK) not in tokens:
            hint = did_you_mean(name, tokens, say("it has {tokens}", ", ".join(tokens)))
            problems.append(
                error(
                    place(name),
                    say("the theme {name} has no token “{name2}”", theme.name, name),
                    hint,
                )
            )
        else:
            problems += _check(name, value, place(name))
    return problems


def _check(name: str, value: str, place: Place) -> list[Problem]:
    if not _NAME.fullmatch(name):
        return [
            error(place, say("“{name}” can't be a token's name", name), "write it like paper-dark")
        ]
    if is_safe(value):
        return []
    hint = say(
        'write a colour, a length or a list of fonts, like "#1f3d5c", 1.25rem or Georgia, serif'
    )
    return [error(place, say("“{value}” can't be the value of a token", value), hint)]


def is_safe(value: str) -> bool:
    """Whether a value stays inside its declaration: balanced, no comment, nothing fetched."""
    if not _VALUE.fullmatch(value) or len(value) > 300 or "*/" in value:
        return False
    if value.count('"') % 2 or value.count("'") % 2:
        return False
    depth = 0
    for sign in value:
        depth += (sign == "(") - (sign == ")")
        if depth < 0:
            return False
    return depth == 0 and all(name.lower() in FUNCTIONS for name in _FUNCTION.findall(value))


def tokens_css(theme: Theme, given: Mapping[str, str]) -> str:
    """The style sheet of the tokens. Values that `check_tokens` refuses are left out."""
    tokens, _ = read_tokens(theme)
    known = {n: v for n, v in given.items() if n in tokens or n.removesuffix(DARK) in tokens}
    tokens |= known
    safe = {n: v for n, v in tokens.items() if _NAME.fullmatch(n) and is_safe(v)}
    light = [f"  --{n}: {v};" for n, v in safe.items() if not n.endswith(DARK)]
    dark = [f"    --{n.removesuffix(DARK)}: {v};" for n, v in safe.items() if n.endswith(DARK)]
    lines = [":root {", "  color-scheme: light dark;", *light, "}", ""]
    if dark:
        lines += [
            "@media screen and (prefers-color-scheme: dark) {",
            "  :root {",
            *dark,
            "  }",
            "}",
            "",
        ]
    return "\n".join(lines)
