"""How the user wants the window, kept between runs: theme, size of text, motion, units."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Literal

from mockup import files
from mockup.model.units import Unit
from mockup.window.shell.theme import LARGEST, SMALLEST

ThemeName = Literal["dark", "light"]
TEXT_STEP = 1.1


@dataclass(frozen=True, kw_only=True)
class Settings:
    """What is wanted. `scale` None is what the screen asks for, `units` None what each pedal measures in.

    `has_walked` is true once the first walk was taken or left.
    """

    theme: ThemeName = "dark"
    scale: float | None = None
    has_less_motion: bool = False
    units: Unit | None = None
    has_walked: bool = False


def read(text: str | None) -> Settings:
    """Return the settings of a text; whatever it does not say, or says wrongly, is as usual."""
    try:
        table = json.loads(text) if text is not None else {}
    except (ValueError, RecursionError):
        table = {}
    if not isinstance(table, dict):
        return Settings()
    units: dict[object, Unit] = {"mm": "mm", "in": "in"}
    unit = table.get("units")
    return Settings(
        theme="light" if table.get("theme") == "light" else "dark",
        scale=_scale(table.get("scale")),
        has_less_motion=table.get("has_less_motion") is True,
        units=units.get(unit) if isinstance(unit, str) else None,
        has_walked=table.get("has_walked") is True,
    )


def _scale(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if SMALLEST <= value <= LARGEST else None


def kept() -> Settings:
    """Return what was kept last, the usual where nothing was."""
    return read(files.read_state(files.window_file()))


def keep(settings: Settings) -> None:
    """Keep settings for the next run; raises `OutputError` where that cannot be."""
    files.write_all({files.window_file(): (json.dumps(asdict(settings), indent=2) + "\n").encode()})
