"""The JSON Schemas that a new studio gets, made anew from the models.

python tests/support/schemas.py
"""

import json
from pathlib import Path

FOLDER = Path(__file__).parents[2] / "generator" / "stripewright" / "starter" / "content" / "schema"


def schema_files():
    """Each file's path and what should stand in it."""
    from stripewright.pattern.schema import DOCUMENTED, json_schema

    for kind in DOCUMENTED:
        text = json.dumps(json_schema(kind), indent=1, ensure_ascii=False) + "\n"
        yield FOLDER / f"{kind}.json", text


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for path, text in schema_files():
        path.write_text(text, encoding="utf-8")
