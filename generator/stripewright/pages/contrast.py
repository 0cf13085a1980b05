"""Whether a theme's colours can be read on one another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.pages.theme import SHIPPED
from stripewright.pages.tokens import DARK, place_of_token, read_tokens
from stripewright.problems import Problem, warning

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.pages.theme import Theme
    from stripewright.problems import Place

_LEAST = 4.5
"""WCAG 2.2, 1.4.3: contrast of text with what is behind it."""

PAIRS = (
    ("ink", "paper"),
    ("ink", "surface"),
    ("ink", "sunk"),
    ("soft", "paper"),
    ("accent", "paper"),
    ("accent", "surface"),
    ("on-accent", "accent"),
    ("mark", "paper"),
)
"""A text's colour and what is behind it, as the shipped styles set them."""


def check_contrast(
    theme: Theme, given: Mapping[str, str], place: Callable[[str], Place]
) -> list[Problem]:
    """Colours that can hardly be read, in light and in dark; one warning a place.

    Args:
        theme: the theme in use.
        given: the settings' tokens.
        place: where a token's value stands in the settings.
    """
    tokens, _ = read_tokens(theme)
    if not given and f"{SHIPPED}theme.yaml" not in theme.files:
        return []  # a shipped theme as it is, whose colours our tests hold
    values = {**tokens, **given}
    faults: dict[Place, list[str]] = {}
    for ending, when in (("", ""), (DARK, say(" on dark pages"))):
        for text, behind in PAIRS:
            names = [name + ending if name + ending in values else name for name in (text, behind)]
            if ending and not any(name.endswith(DARK) for name in names):
                continue
            ratio = _ratio(*(values.get(name, "") for name in names))
            if ratio is None or ratio >= _LEAST:
                continue
            said = say(
                "{names} on {names2} has a contrast of {ratio:.1f}{when}",
                names[0],
                names[1],
                ratio,
                when,
            )
            blamed = next((name for name in names if name in given), names[0])
            at = place(blamed) if blamed in given else place_of_token(theme, blamed)
            faults.setdefault(at, []).append(said)
    hint = say(
        "text needs {least} to be read (WCAG 2.2, 1.4.3): make one of the two darker or paler",
        _LEAST,
    )
    return [warning(at, "; ".join(said), hint) for at, said in faults.items()]


def _ratio(text: str, behind: str) -> float | None:
    """Contrast of two colours as CSS has them; None where one is no plain colour."""
    from coloraide import Color

    try:
        return float(Color(text).contrast(Color(behind), method="wcag21"))
    except ValueError:
        return None
