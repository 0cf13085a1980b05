"""Views -> the site's files, as {path: bytes}. Knows no row that the view doesn't hold."""
