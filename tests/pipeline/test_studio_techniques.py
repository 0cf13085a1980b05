"""The studio's own words for a technique: a mistake in them is told once, at its line of the settings."""

from __future__ import annotations

from support.studio_here import SETTINGS, built, pattern, studio


def test_a_mistake_in_a_studio_technique_names_its_line(tmp_path):
    settings = SETTINGS + "techniques:\n  seam_end: Sew {{ it shut.\n"
    here = studio(tmp_path / "s", {"one": pattern(), "two": pattern(title="Two")}, settings)
    places = {str(problem.place) for problem in built(here).problems}
    assert places == {"content/studio.yaml:6"}
