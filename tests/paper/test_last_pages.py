"""A PDF of several sizes, of several lengths: no size ends on a page of a few lines."""

from __future__ import annotations

import subprocess

import pytest

from support.studio_here import built, studio

HAT = """\
---
title: Hat
summary: A hat.
published: 2026-01-05
kind: hat
machine: {{bed: circular, needles: 80}}
gauge: 16 sts x 22 rows / 4 in
yarns:
  deep: {{name: Deep, colour: "#1f3d5c", weight: 5, ball: 100 g / 120 m}}
  foam: {{name: Foam, colour: "#dfe9e4", weight: 5, ball: 100 g / 120 m}}
pieces:
  hat: {{form: tube, ends: [open, gathered], stripes: [{stripes}]}}
sizes:
  child: {{machine: {{bed: circular, needles: 72}}, audience: child}}
---
Words.
"""
LENGTHS = (2, 13, 20)


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    told = {
        f"hat-{n}": HAT.format(stripes=", ".join(["deep 5", "foam 4"] * (n // 2) + ["deep 5"]))
        for n in LENGTHS
    }
    return built(studio(tmp_path_factory.mktemp("lengths"), told), paper=True).files


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("length", LENGTHS)
def test_no_size_ends_in_a_few_lines(files, tmp_path, length, paper):
    (tmp_path / "a.pdf").write_bytes(files[f"patterns/hat-{length}/hat-{length}-{paper}.pdf"])
    told = subprocess.run(["pdftotext", "-layout", tmp_path / "a.pdf", "-"],
                          capture_output=True, check=True).stdout.decode()  # fmt: skip
    pages = [[line for line in page.splitlines() if line.strip()]
             for page in told.split("\f")[:-1]]  # fmt: skip
    child = next(at for at, page in enumerate(pages) if page[0].strip() == "child")
    assert len(pages[child - 1]) >= 9
    assert len(pages[-1]) >= 12
