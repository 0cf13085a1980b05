"""The lowest versions that pyproject.toml declares, as constraints for pip: one a line.

python tests/support/minima.py > constraints.txt
"""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path

PYPROJECT = Path(__file__).resolve().parents[2] / "pyproject.toml"
_DECLARED = re.compile(r"(?P<name>[a-z0-9-]+)>=(?P<version>[0-9.]+)")


def minima(text: str) -> list[str]:
    """Every dependency of the program, held to the version that it must at least have.

    Raises:
        ValueError: a dependency declares no least version.
    """
    declared = tomllib.loads(text)["project"]["dependencies"]
    found = [_DECLARED.fullmatch(line) for line in declared]
    if not all(found):
        raise ValueError(f"each needs a least version: {declared}")
    return [f"{match['name']}=={match['version']}" for match in found if match]


if __name__ == "__main__":
    sys.stdout.write("\n".join(minima(PYPROJECT.read_text(encoding="utf-8"))) + "\n")
