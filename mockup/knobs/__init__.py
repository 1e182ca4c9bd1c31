"""Plug-ins: one file per style of knob."""
