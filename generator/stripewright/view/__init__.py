"""Worked pattern, words and drawings -> what may be shown. Free and paid part ways here, once."""
