"""Plug-ins: one file per check."""
