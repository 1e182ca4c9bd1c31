"""Plug-ins: one file or folder per render engine."""
