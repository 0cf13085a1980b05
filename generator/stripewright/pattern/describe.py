"""What the models say of themselves: each field's text, as it stands under it in the source."""

from __future__ import annotations

import ast
import inspect
from functools import lru_cache
from typing import TYPE_CHECKING

from stripewright.pattern.base import AuthorModel

if TYPE_CHECKING:
    from types import ModuleType


def field_texts(model: type[AuthorModel]) -> dict[str, str]:
    """The text under each field of a model, those it inherits too, in the model's order."""
    texts: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if issubclass(kind, AuthorModel) and kind is not AuthorModel:
            module = inspect.getmodule(kind)
            texts |= _texts(module).get(kind.__name__, {}) if module else {}
    return {field.alias or name: texts.get(name, "") for name, field in model.model_fields.items()}


@lru_cache
def _texts(module: ModuleType) -> dict[str, dict[str, str]]:
    """By class and field. Read from the source: an attribute's text isn't kept at run time."""
    found: dict[str, dict[str, str]] = {}
    for node in ast.parse(inspect.getsource(module)).body:
        if isinstance(node, ast.ClassDef):
            found[node.name] = {
                field.target.id: " ".join(text.value.value.split())
                for field, text in zip(node.body, node.body[1:], strict=False)
                if isinstance(field, ast.AnnAssign)
                and isinstance(field.target, ast.Name)
                and isinstance(text, ast.Expr)
                and isinstance(text.value, ast.Constant)
                and isinstance(text.value.value, str)
            }
    return found
