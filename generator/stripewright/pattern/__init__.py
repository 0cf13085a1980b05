"""What the author wrote, as typed and frozen models. No arithmetic beyond reading a unit."""
