"""A locale for tests alone, en-XA: every message accented, lengthened by a third, and in brackets.

Whatever is shown without brackets is no message of the catalogue; what breaks a page is too long
for translations, which are often longer than English. `python tests/support/pseudo.py COMMAND` runs
a command in it, like `preview`.
"""

from __future__ import annotations

import re
import sys
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path
from unittest.mock import patch

from stripewright import catalogue
from stripewright.catalogue import Locale

NAME = "en_XA"
_ACCENTED = str.maketrans("aceinosuyzACEINOSUYZ", "áçéíñöšúýžÁÇÉÍÑÖŠÚÝŽ")
_KEPT = re.compile(r"(\{\{.*?\}\}|\{%-?.*?-?%\}|\{\w*[^{}\s]*\}|%\(\w+\)s)", re.DOTALL)


def pseudo(message: str) -> str:
    """A message in en-XA; names in braces and conditions stay."""
    parts = _KEPT.split(message)
    parts[::2] = [part.translate(_ACCENTED) for part in parts[::2]]
    more = max(len("".join(parts[::2]).strip()) // 3, 1)
    longer = " ".join("·" * min(7, more - at) for at in range(0, more, 8))
    inner = "".join(parts)
    spaces = len(inner) - len(inner.lstrip()), len(inner) - len(inner.rstrip())
    head, tail = inner[: spaces[0]], inner[len(inner) - spaces[1] :] if spaces[1] else ""
    return f"{head}⟦{inner.strip()}{longer}⟧{tail}"


@lru_cache(maxsize=1)
def pseudo_locale() -> Locale:
    """All messages of the catalogue in en-XA."""
    from support.catalogue import messages

    told, places = {}, {}
    for message, found in messages().items():
        forms = (message,) if isinstance(message, str) else message
        told[forms[0]] = tuple(map(pseudo, forms))
        places[forms[0]] = tuple(found)
    return Locale(NAME, told, places)


@contextmanager
def in_pseudo():
    """Everything inside is told in en-XA, whatever the studio's language."""
    words = pseudo_locale()
    known = catalogue.locale
    with patch.object(catalogue, "locale", lambda _name: words):
        yield words
    assert catalogue.locale is known


def outside(text):
    """What stands outside the brackets that each message has."""
    left, depth = [], 0
    for sign in text:
        if sign == "⟦":
            depth += 1
        elif sign == "⟧":
            depth = max(depth - 1, 0)
        elif not depth:
            left.append(sign)
    return "".join(left)


if __name__ == "__main__":
    sys.path.append(str(Path(__file__).resolve().parents[1]))
    from stripewright.cli import main

    with in_pseudo():
        main()
