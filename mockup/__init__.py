"""See the pedal before you drill it: true-to-size previews of hand-built effects pedals.

::

    import mockup

    design = mockup.load("tidewater/layout.toml")
    picture = mockup.still(design, "above", size=(1600, 1600))
    mockup.save(picture, "above.png")

Names are loaded when first used, so that importing the package costs next to nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mockup.api import build, check, load, loads, marked, new, save, schema, still, turntable, variants
    from mockup.comparison.scripted import Comparison, compare
    from mockup.model.design import Design
    from mockup.model.errors import EngineError, Fault, InputError, MockupError, OutputError
    from mockup.model.finding import Finding
    from mockup.model.picture import Picture
    from mockup.model.scene import Scene

__version__ = "0.1.0"

_HOMES = {
    "mockup.api": (
        "build",
        "check",
        "load",
        "loads",
        "marked",
        "new",
        "save",
        "schema",
        "still",
        "turntable",
        "variants",
    ),
    "mockup.comparison.scripted": ("Comparison", "compare"),
    "mockup.model.design": ("Design",),
    "mockup.model.errors": ("EngineError", "Fault", "InputError", "MockupError", "OutputError"),
    "mockup.model.finding": ("Finding",),
    "mockup.model.picture": ("Picture",),
    "mockup.model.scene": ("Scene",),
}

__all__ = [
    "Comparison",
    "Design",
    "EngineError",
    "Fault",
    "Finding",
    "InputError",
    "MockupError",
    "OutputError",
    "Picture",
    "Scene",
    "build",
    "check",
    "compare",
    "load",
    "loads",
    "marked",
    "new",
    "save",
    "schema",
    "still",
    "turntable",
    "variants",
]


def __getattr__(name: str) -> Any:
    import importlib

    for home, names in _HOMES.items():
        if name in names:
            return getattr(importlib.import_module(home), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
