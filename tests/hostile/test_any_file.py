"""Any file, of any kind, through the whole line: made or refused with a line, and quickly.

`through` holds the promises; see `support/whole_line.py`. The same runs by hand under a
coverage-guided fuzzer: `tests/fuzz/fuzz.py`.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from support.hostile import HOSTILE
from support.mutations import any_file, seeds
from support.studio_here import pattern
from support.whole_line import through

INPUTS = max(1000, int(os.environ.get("STRIPEWRIGHT_EXPLORE", "0")))
SLOW_ENOUGH = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example]


@pytest.mark.slow
@settings(max_examples=INPUTS, deadline=None, suppress_health_check=SLOW_ENOUGH, database=None)
@given(st.randoms(use_true_random=False))
def test_any_file_is_made_or_refused_with_a_line(chance):
    kind, data = any_file(lambda n: chance.randrange(n) if n > 1 else 0)
    through(kind, data)


@pytest.mark.parametrize("kind", ["patterns", "posts", "pages", "sheets", "settings", "theme"])
def test_what_files_are_altered_from_is_mostly_sound(kind):
    """Else the altered ones would never get past the reader."""
    sound = 0
    for text in dict.fromkeys(seeds(kind)[:8]):
        sound += not any(problem.severity == "error" for problem in through(kind, text.encode()))
    assert sound


SMALL = pattern(title="TITLE").replace("title: TITLE", "title: {}")


def bomb(levels: int, width: int) -> str:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * width)}]" for n in range(1, levels)]
    return "\n".join(lines) + "\n"


def front(more: str) -> str:
    return SMALL.replace("summary:", more + "summary:").replace("{}", "T", 1)


def value(old: str, new: str) -> str:
    text = SMALL.replace("title: {}", "title: T")
    assert old in text, old
    return text.replace(old, new)


def body(text: str) -> str:
    return pattern(body=text)


REFUSED = {
    "aliases that expand": front(bomb(9, 10)),
    "aliases in a stripe list": value("stripes: [deep 10, foam 4, deep 10, foam 5, deep 9]",
                                      "stripes: &s [deep 1, {repeat: 99, stripes: *s}]"),
    "merge keys that expand": front("b0: &b0 {x: 1}\n" + "".join(f"b{n}: &b{n} {{<<: [*b{n - 1}, *b{n - 1}], y{n}: *b{n - 1}}}\n" for n in range(1, 30))),
    "deep lists": front("tags: " + "[" * 20_000 + "]" * 20_000 + "\n"),
    "deep keys": front("".join("  " * n + "a:\n" for n in range(3000))),
    "deep keys in braces": front("x: " + "{a: " * 5000 + "1" + "}" * 5000 + "\n"),
    "a huge whole number": value("needles: 22", "needles: " + "9" * 5000),
    "a huge number": value("weight: 5", "weight: 1e308"),
    "more than a number": value("needles: 22", "needles: 1e999"),
    "nan": value("needles: 22", "needles: .nan"),
    "inf": value("gauge: 14 sts x 20 rows / 10 cm", "gauge: .inf"),
    "nan in a gauge": value("14 sts", "nan sts"),
    "no length at all": value("10 cm", "0 cm"),
    "a month too many": value("2026-01-05", "2026-13-05"),
    "a day too many": value("2026-01-05", "2026-02-30"),
    "year nought": value("2026-01-05", "0000-01-01"),
    "a year too late": value("2026-01-05", "10000-01-01"),
    "the first day": value("2026-01-05", "0001-01-01"),
    "the last day": value("2026-01-05", "9999-12-31"),
    "a long title": SMALL.replace("title: {}", "title: " + "t" * 300),
    "text turned around": SMALL.replace("title: {}", 'title: "\u202egnirts"'),
    "zero-width text": SMALL.replace("title: {}", 'title: "a\u200bb"'),
    "a slug above": front("slug: ../x\n"),
    "a slug that is a device": front("slug: con\n"),
    "a slug with a folder": front("slug: a/b\n"),
    "a slug of two cases": front("slug: Small\n"),
    "a slug with a null": front('slug: "a\\0b"\n'),
    "a key like a tag": front("<http://x>: 1\n"),
    "a key like a tag, deeper": value("weight: 5", "<one>: 5"),
    "a yarn's key like a tag": value("  deep:", "  <several>:"),
    "a key like a mark of the checker": front('"[key]": 1\n'),
    "an object": front("tags: !!python/object/apply:os.system [id]\n"),
    "a repeat of repeats": value("stripes: [deep 10, foam 4, deep 10, foam 5, deep 9]",
                                 "stripes: [" + "{repeat: 1000, stripes: [" * 5 + "deep 1" + "]}" * 5 + "]"),
    "a stripe without end": value("deep 10,", "deep 999999999,"),
    "a million pieces of text": front("tags: [" + "a, " * 200_000 + "a]\n"),
    "endless loops": body("{% for a in range(1000) %}{% for b in range(1000) %}{% for c in range(1000) %}x{% endfor %}{% endfor %}{% endfor %}"),
    "endless output": body("{% for a in range(1000) %}{% for b in range(1000) %}" + "x" * 1000 + "{% endfor %}{% endfor %}"),
    "multiplied text": body("{{ 'x' * 999999999 }}"),
    "a power": body("{{ 9 ** 9 ** 9 }}"),
    "a walk to the program": body("{{ cover.__class__.__mro__ }}"),
    "a format string": body("{{ '{0.__class__}'.format(cover) }}"),
    "the environment": body("{{ environ }}{{ self._TemplateReference__context }}"),
    "a file": body("{% include '/etc/passwd' %}"),
    "a script's address": body("[x](javascript:alert(1))"),
    "a script's address, hidden": body("[x](jAvA&#x53;cript:alert(1))"),
    "an address of data": body("[x](data:text/html;base64,AAAA)"),
    "an address of a file": body("[x](file:///etc/passwd)"),
    "a picture of data": body("![x](data:image/svg+xml,<svg>)"),
    "a picture from elsewhere": body("![x](../../../etc/passwd)"),
    **{f"a megabyte of {part!r}": body(part * ((1 << 20) // len(part) - 1000))
       for part in ("[", "![", "- a\n", "|a|b\n", "# a\n", "> ", "word ")},
    **{f"much of {part!r}": body(part * (199_000 // len(part)))
       for part in ("[ ", "![ ", "- a\n", "|a|b\n", "# a\n", "**_a_** ", "<https://a.b> ", "[a](https://a.b) ")},
    "a loop of headings": body("{% for a in range(1000) %}{% for b in range(1000) %}\n# a\n{% endfor %}{% endfor %}"),
    "links begun without end": body("[x](\u00e9" * 12_000),
    "more headings than any page has": body("".join(f"# heading {n}\n" for n in range(4_900))),
    "a comment begun without end": body("{#" * 32_000),
    "anchors that lead nowhere": body("".join(f"# heading {n}\n" for n in range(2000))
                                      + "".join(f"[a](#headinx-{n}) " for n in range(2000))),
    "an anchor like none of very many": body("".join(f"# heading {n}\n" for n in range(2000)) + "[a](#xyz)"),
    "a text for each of many stripes": value("stripes: [deep 10, foam 4, deep 10, foam 5, deep 9]",
                                             "stripes: [{repeat: 425, stripes: [deep 1, foam 1]}]").replace(
        "summary:", "techniques:\n  change: '{% for a in range(1000) %}" + "x" * 1000 + " {% endfor %}'\nsummary:", 1),
    "accents without end on one letter": body("Z" + "\u0351" * 65_537),
    "a word of a megabyte": body("w" * 1_000_000),
    "a long word": body("w" * 100_000),
    "long front matter": front("tags: [" + "a, " * 70_000 + "a]\n"),
    "a long value": front("series: " + "a " * 15_000 + "\n"),
    "a wide table": body("|" + "a|" * 300 + "\n|" + "-|" * 300 + "\n" + "x\n" * 1000),
}  # fmt: skip

MADE = {
    "right-to-left text": SMALL.replace("title: {}", "title: כרית פסים"),
    "emoji": SMALL.replace("title: {}", "title: \U0001f9f6 \U0001f469\u200d\U0001f469\u200d\U0001f467 \U0001f3f4\U000e0067\U000e0062\U000e0065\U000e006e\U000e0067\U000e007f"),
    "a long word": SMALL.replace("title: {}", "title: " + "w" * 120),
    "accents without end": SMALL.replace("title: {}", "title: Z" + "\u0351" * 100),
    "nested quotes": body("> " * 500 + "x"),
    "nested lists": body("".join("  " * n + "- x\n" for n in range(300))),
    "brackets": body("[" * 5000),
    "stars": body("*a **b " * 3000),
    "backticks": body(" ".join("`" * n + "x" for n in range(250))),
    "references": body("".join(f"[a{n}]: https://a.example.org/\n" for n in range(2000)) + "[a1] " * 2000),
    "entities": body("&#0;&#x110000;&amp;&lt;script&gt; " * 500),
    "HTML as text": body("<script>alert(1)</script>\n\n<iframe src=x></iframe>"),
    "a table of one line": body("|a" * 2000 + "\n" + "|-" * 2000 + "\n"),
    "a heading of one word": body("# " + "x" * 9_000),
    "headings of one word": body("# a\n\n" * 2000),
    "a long list": body("- a\n" * 2000),
}  # fmt: skip


@pytest.mark.parametrize("text", REFUSED.values(), ids=REFUSED)
def test_a_hostile_pattern_is_refused_with_its_line(text):
    problems = through("patterns", text.encode("utf-8", "surrogatepass"))
    errors = [problem for problem in problems if problem.severity == "error"]
    assert errors
    assert all(problem.place.line for problem in errors)


def test_a_book_of_very_many_rows_is_refused():
    sheet = "{title: Hat, form: hat, machine: {bed: circular, needles: 40}, gauge: 14 sts x 21 rows / 10 cm, rows: 5000}"
    text = f"---\ntitle: T\nsummary: S\nsheets: [{', '.join([sheet] * 40)}]\n---\n"
    [problem] = through("sheets", text.encode(), paper=True)
    assert "200,000 rows together; 10,000 is the most" in problem.message


@pytest.mark.parametrize("text", MADE.values(), ids=MADE)
def test_an_odd_pattern_is_made(text):
    assert [p for p in through("patterns", text.encode()) if p.severity == "error"] == []


MEMORY = """
import json, re, sys
from pathlib import Path
from support.whole_line import through
for text in json.load(sys.stdin):
    through("patterns", text.encode("utf-8", "surrogatepass"))
print(int(re.search(r"VmHWM:\\s*(\\d+)", Path("/proc/self/status").read_text())[1]) // 1024)
"""
MOST_MEMORY_MB = 300


@pytest.mark.slow
def test_none_of_them_takes_much_memory():
    """In a process of its own: what a process once took is never given back in its figures."""
    tests = str(Path(__file__).resolve().parents[1])
    run = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, {tests!r}){MEMORY}"],
        input=json.dumps([*REFUSED.values(), *MADE.values()]),
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert int(run.stdout) < MOST_MEMORY_MB


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("kind", ["settings", "theme"])
def test_a_token_never_leaves_its_declaration(kind, text):
    quoted = json.dumps(text)
    if kind == "theme":
        through(kind, f"tokens: {{accent: {quoted}, paper: {quoted}}}\n".encode())
    else:
        settings_text = seeds("settings")[0] + f"\ntokens:\n  accent: {quoted}\n"
        through(kind, settings_text.encode())
