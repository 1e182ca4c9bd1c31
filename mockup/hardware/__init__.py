"""Plug-ins: one file per family of parts."""
