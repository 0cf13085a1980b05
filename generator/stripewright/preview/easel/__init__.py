"""The easel: a piece is coloured at its true proportions, and what was coloured is written back."""
