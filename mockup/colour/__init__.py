"""Colour arithmetic: encodings, differences, and the one view transform."""
