"""Bytes -> front matter with a line for every value, and the Markdown body. No disk, no meaning."""
