"""Which links to shops earn the maker something."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

if TYPE_CHECKING:
    from stripewright.pattern.settings import Settings


def is_sponsored(url: str | None, settings: Settings) -> bool:
    """Whether a link goes to a shop, or a host under it, that the settings mark as sponsored."""
    host = (urlsplit(url).hostname or "") if url else ""
    marked = (shop.host for shop in settings.shops if shop.sponsored)
    return any(host == name or host.endswith(f".{name}") for name in marked)
