"""Variants: what differs, the sheet that shows it, and what may be tried on."""
