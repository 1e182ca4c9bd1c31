"""Plug-ins: one file per thing a builder can take away."""
