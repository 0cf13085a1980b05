"""Worked pattern -> SVG. A drawing decides nothing: it sets what was computed."""
