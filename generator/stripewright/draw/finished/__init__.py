"""The finished view: one module a family of shapes."""
