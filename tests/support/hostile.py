"""Strings that try to break out of where they stand: HTML, attributes, SVG, JSON-LD, Atom, CSS."""

from __future__ import annotations

HOSTILE: dict[str, str] = {
    "script element": "<script>alert(1)</script>",
    "closes a script": "</script><script>alert(1)</script>",
    "closes a title": "</title><img src=x onerror=alert(1)>",
    "double quote": '"><b onmouseover="alert(1)">',
    "single quote": "' onfocus='alert(1)' x='",
    "comment": "--><!-- <!--<script>",
    "cdata": "]]><script>alert(1)</script><![CDATA[",
    "entity": "&lt;b&gt; &amp;amp; &#60;",
    "svg": '</text></svg><svg onload="alert(1)">',
    "jinja": "{{ site.title }} {% raw %} {# x #}",
    "line separators": "a\u2028b\u2029c",
    "control": "a\u0000b\u0007c\u001fd\u007fe\u0085f",
    "lone surrogate": "a\ud800b",
    "not characters": "a\ufffeb\uffffc\ufdd0d",
    "right to left": "\u202egnirts\u202c \u2066x\u2069",
    "combining": "Z\u0351\u036b\u0343\u036a\u0302",
    "astral": "\U0001f9f6 \U0001f3f4\U000e0067\U000e0062",
    "style": "</style><style>*{display:none}",
    "css": "red;} body{display:none",
    "url": "javascript:alert(1)",
    "spaces": "  a \t b \n c  ",
    "long word": "w" * 119,
}
"""By what each of them tries; every one fits a title of 120 characters."""
