"""Watch, rebuild, serve, refresh: the studio while it is being written."""
