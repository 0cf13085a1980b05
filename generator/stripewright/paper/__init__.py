"""Worked pattern -> paper: PDF (Typst), planning sheets, PNG pictures."""
