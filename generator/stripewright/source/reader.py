"""One source file's bytes -> a Document and what is wrong with it."""

from __future__ import annotations

from stripewright.problems import Place, Problem, error
from stripewright.source.document import Document
from stripewright.source.yaml_tree import read_yaml

MOST_BYTES = 1 << 20


def read_document(data: bytes, file: str) -> tuple[Document, list[Problem]]:
    """Take a pattern, post, page or sheets file apart. Never raises for what is in it.

    Args:
        data: the file's bytes.
        file: its name in problems, relative to the studio.

    Returns:
        The document (with what could be read) and the problems found.
    """
    text = data.decode("utf-8-sig").replace("\r\n", "\n")
    lines = text.split("\n")
    if lines[0].strip() != "---" or "---" not in lines[1:]:
        return Document(file, {}, {}, text), [error(Place(file, 1), "no front matter between --- lines")]
    end = lines.index("---", 1)
    front, places, problems = read_yaml("\n".join(lines[1:end]), file, 2)
    return Document(file, front, places, "\n".join(lines[end + 1 :]), end + 2), problems


def read_settings(data: bytes, file: str) -> tuple[Document, list[Problem]]:
    """Read a file that is YAML and nothing else, like content/studio.yaml."""
    front, places, problems = read_yaml(data.decode("utf-8-sig"), file, 1)
    return Document(file, front, places), problems
