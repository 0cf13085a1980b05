"""The commands, a module for each kind; `cli` puts them together."""
