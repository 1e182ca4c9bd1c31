"""Calibration: what a test strip tells of a printer's ink and film."""
