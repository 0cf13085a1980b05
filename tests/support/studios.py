"""Studios made by rule, of any number of patterns of realistic length.

The same seed gives the same files on any machine.
"""

from __future__ import annotations

import random
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_TEXT = (
    "row stripe needle counter cast fold seam lining yarn tail colour pale deep wide narrow first last "
    "turn again slowly even edge hand machine carriage crank weight swatch wash rest measure count knit "
    "cushion harbour morning tide lamp window quiet rope sail shore"
)
WORDS = _TEXT.split()
TAGS = ("sea", "garden", "winter", "gift", "first projects", "mirrored", "bold", "quiet")
SHELF = tuple(f"#{random.Random(f'shelf/{n}').randrange(1 << 24):06x}" for n in range(40))
"""The colours of one range of yarn: a maker's patterns are knitted from the same forty."""
LEVELS = ("basic", "easy", "intermediate", "complex")
WORDS_A_BODY = 600

SETTINGS = """\
title: The long shelf
maker: Ottilie Vane
summary: Striped things, made by rule.
address: https://shelf.example.org/
shops:
  - {host: shop.example.org}
"""


def pattern_text(number: int, seed: int = 1) -> str:
    """A pattern file: two pieces, 8 to 60 stripes in the cover, a body of about 600 words."""
    lot = random.Random(f"{seed}/{number}")
    keys = ["deep", "foam", "sand", "rust", "moss"][: lot.randint(2, 5)]
    stripes = lot.randint(8, 60)
    runs = [f"{keys[n % len(keys)]} {lot.randint(2, 12)}" for n in range(stripes)]
    paid = number % 4 == 3
    access = (
        "access: paid\nprice: 6.50\nshop: https://shop.example.org/item" if paid else "access: free"
    )
    shades = lot.sample(SHELF, len(keys))
    yarns = "\n".join(
        f'  {key}: {{name: Yarn {key}, colour: "{shade}", weight: 5, '
        f"ball: 100 g / 120 m, price: 4.50}}"
        for key, shade in zip(keys, shades, strict=True)
    )
    day = f"20{18 + number % 8:02}-{1 + number % 12:02}-{1 + number % 28:02}"
    return f"""---
title: Shelf pattern {number}
summary: Number {number} of the shelf, {stripes} stripes in {len(keys)} colours.
kind: cushion
{access}
published: {day}
level: {lot.choice(LEVELS)}
tags: [{", ".join(sorted(lot.sample(TAGS, 2)))}]
machine: {{bed: circular, needles: {lot.choice((22, 40, 46, 48))}}}
swatch: {{stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}}
yarns:
{yarns}
pieces:
  cover:
    form: tube
    ends: [seamed, seamed]
    stripes: [{", ".join(runs)}]
  lining: {{form: tube, like: cover, yarn: {keys[0]}}}
fill: medium
---
{_prose(lot, 60)}

## Before you start

Knit {{{{ cover.worked_rows }}}} rows in all; the counter reads {{{{ cover.change(2) }}}} at the second change.

{_prose(lot, 180)}

## Along the way

- {_prose(lot, 12)}
- {_prose(lot, 12)}
- {_prose(lot, 12)}

{_prose(lot, 180)}

## At the end

{_prose(lot, WORDS_A_BODY - 456)}
"""


def plain_text(title: str, access: str = "access: free") -> str:
    """A pattern with two colours that everyone tells apart, and nothing to warn of."""
    text = pattern_text(4)
    text = re.sub(r"stripes: \[[^\]]*\]", "stripes: [deep 10, foam 20, deep 30]", text)
    yarn = '{{name: {}, colour: "{}", weight: 5, ball: 100 g / 120 m, price: 4.50}}'
    yarns = f"yarns:\n  deep: {yarn.format('Deep', '#1f3d5c')}\n  foam: {yarn.format('Foam', '#dfe9e4')}\n"
    text = re.sub(r"yarns:\n.*?(?=pieces:)", yarns, text, flags=re.DOTALL)
    return text.replace("Shelf pattern 4", title).replace("access: free", access)


def post_text(number: int, seed: int = 1) -> str:
    """A post of about 200 words."""
    lot = random.Random(f"{seed}/post/{number}")
    return f"""---
title: From the shelf {number}
summary: Letter number {number}.
published: 2025-{1 + number % 12:02}-{1 + number % 28:02}
tags: [{lot.choice(TAGS)}]
---
{_prose(lot, 200)}
"""


def generate_studio(folder: Path, patterns: int, seed: int = 1) -> Path:
    """Write a studio of so many patterns, and a post to every fifty; give its folder back."""
    for kind in ("patterns", "posts", "pages", "sheets", "photos"):
        (folder / "content" / kind).mkdir(parents=True, exist_ok=True)
    (folder / "content/studio.yaml").write_text(SETTINGS, encoding="utf-8")
    for number in range(patterns):
        path = folder / "content/patterns" / f"shelf-{number:05}.md"
        path.write_text(pattern_text(number, seed), encoding="utf-8")
    for number in range(max(1, patterns // 50)):
        path = folder / "content/posts" / f"letter-{number:04}.md"
        path.write_text(post_text(number, seed), encoding="utf-8")
    return folder


def _prose(lot: random.Random, words: int) -> str:
    """Sentences of invented words, so many in all."""
    sentences = []
    while words > 0:
        length = lot.randint(8, 16)
        if words - length < 8:  # a last sentence of few words would stand elsewhere by chance
            length = words
        words -= length
        sentences.append(" ".join(lot.choice(WORDS) for _ in range(length)).capitalize() + ".")
    return " ".join(sentences)
