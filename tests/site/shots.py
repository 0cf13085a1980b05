"""Pictures of every type of page, phone and desk, light and dark, both themes, to be looked at.

    python tests/site/shots.py [PAGE TYPE...]

They go to tests/shots/, which git ignores.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from support.browser import DESK, PHONE, chromium  # noqa: E402  # found by the line above
from support.pages import Site  # noqa: E402
from support.site import published_demo  # noqa: E402

SHOTS = ROOT / "tests" / "shots"


def main(wanted: list[str]) -> None:
    """Publish the demo in both themes and take the pictures."""
    SHOTS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, chromium() as browser:
        for theme in ("tideline", "ledger"):
            folder = Path(scratch) / theme
            folder.mkdir()
            site = Site(published_demo(folder, settings=f"theme: {theme}", paper=False))
            for device, options in (("phone", PHONE), ("desk", DESK)):
                for scheme in ("light", "dark"):
                    context = browser.new_context(**options, color_scheme=scheme)
                    page = context.new_page()
                    for kind, path in site.kinds().items():
                        if wanted and kind not in wanted:
                            continue
                        page.goto((site.folder / path).as_uri())
                        name = f"{theme}-{kind.replace(' ', '-')}-{device}-{scheme}.png"
                        page.screenshot(path=SHOTS / name, full_page=True)
                        print(SHOTS / name)
                    context.close()


if __name__ == "__main__":
    main(sys.argv[1:])
