"""The icons of the window by their names; each stands beside a word or has a tip."""

from __future__ import annotations

from imgui_bundle import icons_fontawesome_6


def icon(name: str) -> str:
    """Return the letter that draws an icon, such as "rotate-left"; `AttributeError` where there is none."""
    letter: str = getattr(icons_fontawesome_6, f"ICON_FA_{name.upper().replace('-', '_')}")
    return letter
