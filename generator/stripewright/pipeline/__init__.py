"""The main line, as calls: read, work, write, draw, view, render, commit."""
