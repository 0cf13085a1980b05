"""Styles and scripts without their comments and indentation: a phone on the road pays for each."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=64)
def smaller(name: str, data: bytes) -> bytes:
    """A style or script as it is published; any other file as it is.

    Names stay as they are and licence comments (`/*! ... */`) stay in.
    """
    from rcssmin import cssmin
    from rjsmin import jsmin

    if name.endswith(".js"):
        return jsmin(data, keep_bang_comments=True)  # type: ignore[no-any-return]  # bytes in, bytes out
    if name.endswith(".css"):
        return cssmin(data, keep_bang_comments=True)  # type: ignore[no-any-return]  # as above
    return data
