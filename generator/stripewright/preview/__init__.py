"""The studio in a browser while it is being written. Nothing of it ever gets into a site."""
