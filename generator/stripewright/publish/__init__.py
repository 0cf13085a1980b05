"""{path: bytes} -> disk, whole or not at all."""
