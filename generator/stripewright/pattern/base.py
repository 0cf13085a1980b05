"""What all models share."""

from pydantic import BaseModel, ConfigDict


class Written(BaseModel):
    """Something the author wrote: frozen, and with no key that isn't known."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)
