"""Worked pattern -> words: steps, making up, cautions, the author's body as Markdown tokens."""
