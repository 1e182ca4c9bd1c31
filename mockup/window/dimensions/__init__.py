"""Drawings that take numbers: outlines in millimetres, with a number field at every dimension line."""
