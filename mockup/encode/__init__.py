"""Data to the bytes of a file format."""
