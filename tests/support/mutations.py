"""Files of a studio, altered at random: valid ones with wrong parts in them, and plain soup.

Chance comes from outside as `pick(n)`, a whole number from 0 to n - 1, so that hypothesis, a
fuzzer or a seed may each be the one that decides.
"""

from __future__ import annotations

import io
import json
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.studio import shipped_themes
from support.hostile import HOSTILE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("patterns", "posts", "pages", "sheets", "settings", "theme")

VALUES = [
    "", "~", "true", "no", "0", "-1", "1", "40", "1e308", "1e999", "-.inf", ".nan", "0x7f", "0b1", "1_000", "012",
    "9" * 40, "0.0000000000001", "1e-320", "5000", "1000000", "-0.0", "1/3", "50 %", "1e5 %", "1 cm", "1e9 km", "0 cm",
    "12 ft", "3 in", "-3 cm", "100 g / 120 m", "0 g / 0 m", "1e308 g / 1e-308 m", "14 sts x 21 rows / 10 cm",
    "1e300 sts x 1e300 rows / 1e-300 cm", "0 sts x 0 rows / 0 cm", "2026-09-05", "0000-00-00", "9999-12-31", "2026-02-30",
    "10000-01-01", "2026-09-05T25:61:00", "2026-09-05 12:00:00 +99:99", "0:00", "99:99:99", "2:30",
    "free", "paid", "circular", "flat", "tube", "panel", "cover", "lining", "seam_end cover", "graft cover cover",
    "../x", "..", "con", "a/b", "NUL.txt", "index", "patterns", "-", "a--b", "A", "http://x", "javascript:alert(1)", "data:text/html,x",
    "https://shop.example.org/x", "https://x:99999/", "//x", "[]", "{}", "[[]]", "[deep 1, foam 1]", "[deep 100000]", "[deep -1]",
    "{repeat: 1000000, stripes: [deep 1]}", "[{mirror: [{repeat: 99, stripes: [{repeat: 99, stripes: [deep 9]}]}]}]",
    "[{fibonacci: [deep, foam], stripes: 999}]", "[{graded: [deep], first: 9, by: -9, stripes: 99}]", "{length: 50 cm, parts: [deep 1]}",
    "[open, open]", "[grafted, grafted]", "[{edge: hemmed, rows: 999}, open]", "*x", "&x [*x]", "!!python/object/apply:os.system [x]",
    "!!binary aGk=", "!!set {a}", "<<", "|", ">-", '"\\u202e"', '"\\0"', '"\\ud800"', '"a\\nb"', "x" * 300, "\U0001f9f6" * 200,
    "\u05d0\u05d1 \u05d2", "{{ 7 * 7 }}", "{% for a in range(9) %}", "red;} body{display:none", "url(//x)", "var(--x)",
    "rgb(1 2 3)", "calc(1px + (2px))", "en-GB", "de", "xx-ZZ", "ar", "EUR", "JPY", "XXX", "KWD",
]  # fmt: skip

SNIPPETS = [
    "---\n", "\n", "\n\n", "  ", "\t", "- ", "? ", ": ", "#", "[", "]", "{", "}", '"', "'", "&a ", "*a", "<<: *a\n", "%YAML 9\n", "...\n",
    "\x00", "\x85", "\u2028", "\u202e", "\u200b", "\ufeff", "\U0001f9f6", "`", "\\", "@", "[" * 80, "{a: " * 80, "- " * 80, "> " * 80,
    "# ", "## Heading\n", "####### x\n", "* " * 40, "_" * 60, "**a*" * 30, "[" * 60 + "]" * 60, "![a](b)", "![a](forecast-swatch.png)",
    "[a](javascript:alert(1))", "[a](pattern:no-such)", "[a](pattern:lamplit-bolster)", "[a]: data:x\n", "<b>x</b>", "<script>x</script>", "<!-- ", "-->",
    "| a | b |\n| - | - |\n| 1 | 2 |\n", "```\n", "    code\n", "~~~x\n", "&#0;", "&lt;", "&#x110000;", "![", "](", "<http://x>", "a@b.c",
    "{{ ", " }}", "{% ", " %}", "{# ", " #}", "{{ cover.worked_rows }}", "{{ cover.change(2) }}", "{{ cover.change(999) }}", "{{ 9 ** 9 ** 9 }}",
    "{% for a in range(1000) %}", "{% endfor %}", "{% if 1 %}", "{% endif %}", "{% set a = [1] %}", "{{ cover.__class__ }}", "{{ 'x' * 999999999 }}",
    "{{ cover.finished_length | cm }}", "{{ 1 | round(99) }}", "{{ a | join }}", "{{ -1e308 * 10 }}", "{{ cover.changes | sum }}", "{{ 1 / 0 }}",
    "slug: x\n", "title: x\n", "published: 2026-01-01\n", "access: paid\n", "price: 5\n", "yarns:\n", "pieces:\n", "fill: firm\n",
    "sizes:\n  w: {machine: {bed: circular, needles: 60}}\n", "  lining: {form: tube, like: cover, yarn: deep}\n", "audience: infant\n",
    "fit: {head: 56 cm, ease: -10 %}\n", "making_up: [seam_end cover]\n", "tokens: {accent: red}\n", "raw_html: yes\n",
]  # fmt: skip

_VALUE = re.compile(r"(?<=: )[^,{}\[\]\n#]+|(?<=\[)[^,\[\]{}\n]+|(?<=, )[^,:{}\[\]\n]+")


@cache
def seeds(kind: str) -> tuple[str, ...]:
    """The valid files (and some with mistakes) of a kind that others are made from."""
    if kind == "theme":
        paths = sorted(shipped_themes().glob("*/theme.yaml"))
    elif kind == "settings":
        paths = [
            ROOT / "content/studio.yaml",
            *sorted((ROOT / "tests/cases").rglob("settings-*.yaml")),
        ]
    else:
        paths = 4 * sorted((ROOT / "content" / kind).glob("*.md"))  # mostly sound ones
        if kind == "patterns":
            paths += sorted((ROOT / "tests/compute/cases").rglob("*.md"))
            paths += sorted((ROOT / "tests/cases").rglob("*.md"))
    return tuple(path.read_text(encoding="utf-8") for path in paths)


def any_file(pick: Callable[[int], int], heavy: Sequence[str] = ()) -> tuple[str, bytes]:
    """A kind of file and its bytes.

    Args:
        pick: gives a number under another one.
        heavy: patterns that ask for much, taken for one file in eight.
    """
    kind = KINDS[(0, 0, 0, 0, 0, 1, 2, 3, 4, 5)[pick(10)]]
    if pick(16) == 0:
        return kind, soup(pick)
    text = _one(pick, heavy if heavy and kind == "patterns" and pick(4) == 0 else seeds(kind))
    for _ in range((1, 1, 2, 4)[pick(4)]):
        text = _MUTATIONS[pick(len(_MUTATIONS))](text, pick)
    data = text.encode("utf-8", errors="surrogatepass" if pick(8) == 0 else "replace")
    if pick(16) == 0 and data:
        at = pick(len(data))
        data = data[:at] + bytes([pick(256)]) + data[at + 1 :]
    return kind, data


def soup(pick: Callable[[int], int]) -> bytes:
    """Bytes and snippets without a plan."""
    parts = []
    for _ in range(pick(30)):
        way = pick(4)
        if way == 0:
            parts.append(bytes(pick(256) for _ in range(pick(8))))
        else:
            parts.append(_text(pick).encode("utf-8", "replace"))
    return b"".join(parts)


def _one(pick: Callable[[int], int], of):
    return of[pick(len(of))]


def _text(pick: Callable[[int], int]) -> str:
    return _one(pick, _one(pick, [VALUES, SNIPPETS, list(HOSTILE.values())]))


def _value(text: str, pick: Callable[[int], int]) -> str:
    """Another value in the place of one."""
    places = [match.span() for match in _VALUE.finditer(text)]
    if not places:
        return text + _text(pick)
    start, end = _one(pick, places)
    new = _one(pick, _one(pick, [VALUES, VALUES, list(HOSTILE.values())]))
    if pick(3) == 0:
        new = json.dumps(new)
    return text[:start] + new + text[end:]


def _swap_values(text: str, pick: Callable[[int], int]) -> str:
    """A value of the file in the place of another."""
    places = [match.span() for match in _VALUE.finditer(text)]
    if not places:
        return text
    (start, end), (a, b) = _one(pick, places), _one(pick, places)
    return text[:start] + text[a:b] + text[end:]


def _insert(text: str, pick: Callable[[int], int]) -> str:
    at = pick(len(text) + 1)
    return text[:at] + _text(pick) + text[at:]


def _insert_line(text: str, pick: Callable[[int], int]) -> str:
    lines = text.split("\n")
    lines.insert(pick(len(lines) + 1), _text(pick).rstrip("\n"))
    return "\n".join(lines)


def _into_body(text: str, pick: Callable[[int], int]) -> str:
    start = text.rfind("\n---\n") + 5
    at = start + pick(max(1, len(text) - start + 1))
    return text[:at] + _text(pick) + text[at:]


def _cut(text: str, pick: Callable[[int], int]) -> str:
    at = pick(len(text) + 1)
    return text[:at] + text[at + pick(60) :]


def _cut_line(text: str, pick: Callable[[int], int]) -> str:
    lines = text.split("\n")
    del lines[pick(len(lines))]
    return "\n".join(lines)


def _again(text: str, pick: Callable[[int], int]) -> str:
    """Some lines, once more, somewhere else."""
    lines = text.split("\n")
    at, to = pick(len(lines)), pick(len(lines) + 1)
    lines[to:to] = lines[at : at + 1 + pick(4)]
    return "\n".join(lines)


def _digits(text: str, pick: Callable[[int], int]) -> str:
    """Another number in the place of one."""
    places = [match.span() for match in re.finditer(r"[0-9]+(\.[0-9]+)?", text)]
    if not places:
        return text
    start, end = _one(pick, places)
    numbers = [
        "0",
        "1",
        "2",
        "3",
        "7",
        "13",
        "99",
        "999",
        "100000",
        "0.001",
        "1e9",
        "-4",
        str(pick(300)),
    ]
    return text[:start] + _one(pick, numbers) + text[end:]


def _splice(text: str, pick: Callable[[int], int]) -> str:
    other = _one(pick, seeds(KINDS[pick(len(KINDS))]))
    return text[: pick(len(text) + 1)] + other[pick(len(other) + 1) :]


_MUTATIONS = [_value, _value, _value, _value, _digits, _digits, _digits, _swap_values, _swap_values, _insert,
              _insert_line, _into_body, _into_body, _cut, _cut_line, _again, _splice]  # fmt: skip


_NUMBERS = [
    "cover.worked_rows", "cover.change(2)", "cover.changes[0]", "cover.finished_length", "cover.changes | length", "1", "0", "-1", "2.5",
    "40", "7",
]  # fmt: skip
_LISTS = ["cover.changes", "range(9)", "range(300)", "[1, 2, 3]", "[cover]", "range(999999)"]
_NAMES = [
    "cover", "a", "b", "none", "true", "loop.index", "loop.last", "cover['rows']", "cover.__class__", "self", "().__class__", "x.y.z", "'x'",
    "'<b>'", "'## Before'", "'x' * 99", "{'a': 1}", "(1, 2)", "cover.changes[-1]", "nosuch", "title", "9 ** 9", "1e308",
]  # fmt: skip
_FILTERS = [
    "cm", "inch", "m", "yd", "g", "oz", "rc", "round", "round(1)", "round(99)", "abs", "sum", "min", "max", "length", "first", "last",
    "join", "join(' ')", "lower", "upper", "capitalize", "safe", "attr('x')", "map('upper')", "tojson", "nosuch", "center(999999999)",
]  # fmt: skip
_SIGNS = ["+", "-", "*", "/", "//", "%", "==", "<", "and", "or", "**", "~", "in", "is"]
_LINES = [
    "\n",
    "\n\n",
    " ",
    "# ",
    "## ",
    "- ",
    "> ",
    "| a | b |\n| - | - |\n",
    "`",
    "**",
    "[x](",
    ")",
    "<b>",
    "word ",
    "é",
    "\u0301",
    "\t",
]


def any_template(pick: Callable[[int], int]) -> bytes:
    """A sound pattern whose introduction, text and own techniques are templates without a plan.

    Args:
        pick: gives a number under another one.
    """
    text = (ROOT / "content/patterns/lamplit-bolster.md").read_text(encoding="utf-8")
    start = text.rfind("\n---\n") + 5
    body = _block(pick, 3)
    if pick(4) == 0:
        at = pick(max(1, len(text) - start + 1))
        body = text[start : start + at] + body + text[start + at :]
    front = text[: start - 4]
    if pick(4) == 0:
        word = json.dumps(_block(pick, 2))
        front += f"techniques:\n  change: {word}\n"
    return f"{front}---\n{body}".encode("utf-8", "replace")


def _block(pick: Callable[[int], int], deep: int) -> str:
    parts = []
    for _ in range(1 + pick(8)):
        way = pick(12)
        if way < 4:
            parts.append(f"{{{{ {_expression(pick, 3)} }}}}")
        elif way == 4 and deep:
            name = _one(pick, ["a", "b", "c"])
            parts.append(
                f"{{% for {name} in {_one(pick, _LISTS)} %}}{_block(pick, deep - 1)}{{% endfor %}}"
            )
        elif way == 5 and deep:
            other = f"{{% else %}}{_block(pick, deep - 1)}" if pick(2) else ""
            parts.append(f"{{% if {_expression(pick, 2)} %}}{_block(pick, deep - 1)}{other}{{% endif %}}")  # fmt: skip
        elif way == 6:
            parts.append(f"{{% set a = {_expression(pick, 2)} %}}")
        elif way == 7 and pick(6) == 0:
            parts.append(_one(pick, SNIPPETS))
        elif way == 8 and pick(6) == 0:
            parts.append(_one(pick, ["{#", "{# x #}", "{%- ", "-%}", "{{{", "}}}", "{%", "{{", "{% raw %}", "{% endraw %}"]) * (1 + pick(40) * (pick(8) == 0)))  # fmt: skip
        else:
            parts.append(_one(pick, _LINES) * (1 + pick(400) * (pick(30) == 0)))
    return "".join(parts)


def _expression(pick: Callable[[int], int], deep: int) -> str:
    way = pick(5) if deep else 0
    if way < 2:
        return _one(pick, _NAMES if pick(12) == 0 else _NUMBERS)
    if way == 2:
        return f"{_expression(pick, deep - 1)} | {_one(pick, _FILTERS if pick(6) == 0 else _FILTERS[:11])}"
    if way == 3:
        return f"({_expression(pick, deep - 1)} {_one(pick, _SIGNS if pick(9) == 0 else _SIGNS[:10])} {_expression(pick, deep - 1)})"
    return f"{_one(pick, _LISTS)}[{_one(pick, ['0', '-1', '99', 'a'])}]"


@cache
def pictures() -> tuple[bytes, ...]:
    """Small sound pictures of every format that is read, with what cameras write beside them."""
    from PIL import Image
    from pillow_heif import register_heif_opener

    register_heif_opener()
    wave = Image.radial_gradient("L").resize((64, 48))
    plain = Image.merge(
        "RGB", (wave, wave.rotate(90), wave.transpose(Image.Transpose.FLIP_LEFT_RIGHT))
    )
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "x"
    made = []
    for kind, image, options in (
        ("JPEG", plain, {"exif": exif}), ("JPEG", plain, {"progressive": True}), ("JPEG", plain.convert("CMYK"), {}),
        ("PNG", plain, {}), ("PNG", plain.convert("P"), {"transparency": 3}), ("PNG", wave.convert("I;16"), {}),
        ("WEBP", plain, {"exif": exif}), ("WEBP", plain.convert("RGBA"), {"lossless": True}), ("TIFF", plain, {"compression": "tiff_lzw"}),
        ("BMP", plain, {}), ("GIF", plain, {}), ("HEIF", plain, {}), ("PDF", plain, {}),
    ):  # fmt: skip
        out = io.BytesIO()
        image.save(out, kind, **options)
        made.append(out.getvalue())
    return tuple(made)


def any_picture(pick: Callable[[int], int]) -> bytes:
    """The bytes of a picture, damaged."""
    data = bytearray(_one(pick, pictures()))
    for _ in range(1 + pick(4)):
        way, at = pick(6), pick(len(data) or 1)
        if way == 0:
            data[at : at + 1] = bytes([pick(256)])
        elif way == 1:
            del data[at:]
        elif way == 2:
            del data[at : at + 1 + pick(40)]
        elif way == 3:  # a size, a count or an offset of another magnitude
            big = _one(pick, [0, 1, 255, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFFF, 40_000, 1 << 20])
            data[at : at + 4] = big.to_bytes(4, _one(pick, ["big", "little"]))
        elif way == 4:
            data[at:at] = data[at : at + 1 + pick(200)] * (1 + pick(20))
        else:
            other = _one(pick, pictures())
            data[at:] = other[pick(len(other)) :]
    return bytes(data)
