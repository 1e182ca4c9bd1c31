"""Checks run together, and what they find in words."""
