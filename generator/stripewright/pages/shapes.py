"""Shapes that a page draws several times, written once.

Colours and their hatches, colourways, and sizes that are alike: half of all drawings. It is for
pages that carry everything with them.
"""

from __future__ import annotations

import re
from collections import Counter

_LEAST = 120
"""Letters of a shape that are worth a name of its own."""
_PATH = re.compile(rf'<path ((?:[^<>"]|"[^"]*")*?)\bd="([^"]{{{_LEAST},}})"([^<>]*?)\s*/>')
_BODY = re.compile(r"<body\b[^>]*>")


def drawn_once(page: str) -> str:
    """The same page, in which shapes that come again are named.

    Only shapes that say their own filling: one without is a clip or a pattern, which may not be
    named in every browser. No heading has an id that begins with a low line.
    """
    counted = Counter(found[2] for found in _PATH.finditer(page) if _is_filled(found))
    names = {
        shape: f"_s{number}"
        for number, shape in enumerate((one for one, many in counted.items() if many > 1), 1)
    }
    if not names:
        return page

    def named(found: re.Match[str]) -> str:
        name = names.get(found[2]) if _is_filled(found) else None
        if name is None:
            return found[0]
        rest = f"{found[1]}{found[3].strip()}".strip()
        return f'<use href="#{name}" {rest}/>'

    shapes = "".join(f'<path id="{name}" d="{shape}"/>' for shape, name in names.items())
    hidden = f'<svg display="none" aria-hidden="true"><defs>{shapes}</defs></svg>'
    return _BODY.sub(lambda body: f"{body[0]}\n{hidden}", _PATH.sub(named, page), count=1)


def _is_filled(found: re.Match[str]) -> bool:
    return 'fill="' in found[1] + found[3]
