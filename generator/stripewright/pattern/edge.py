"""An end of a piece, and how it is finished."""

from __future__ import annotations

from typing import Any, ClassVar, Literal, get_args

from pydantic import Field, model_validator

from stripewright.pattern.base import AuthorModel, Whole

EdgeKind = Literal["open", "seamed", "gathered", "grafted", "hemmed"]


class Edge(AuthorModel):
    """An end of a piece and how it is finished, written `seamed`, or `{edge: seamed, rows: 2}`."""

    text_form: ClassVar[dict[str, Any] | None] = {
        "enum": [*get_args(EdgeKind)],
        "examples": ["seamed"],
    }

    edge: EdgeKind = Field(examples=["seamed"])
    """open (cast on or cast off and left), seamed, gathered, grafted or hemmed."""
    rows: Whole | None = Field(default=None, ge=0, le=200, examples=["2"])
    """Allowance rows, when the author knows better than common practice."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        return {"edge": value} if isinstance(value, str) else value
