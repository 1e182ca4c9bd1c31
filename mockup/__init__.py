"""See the pedal before you drill it: true-to-size previews of hand-built effects pedals.

::

    import mockup

    design = mockup.load("tidewater/layout.toml")
    made = mockup.still(design, view="above", size=(1600, 1600))
    mockup.save(made.picture, "above.png")

Every output plug-in is a function of its own name. Names are loaded when first used, so that importing the
package costs next to nothing.
"""

from __future__ import annotations

import sys
from typing import Any

from mockup.plugins import Folder

__version__ = "0.1.0"

_HOMES = {
    "mockup.api": (
        "build",
        "check",
        "demo",
        "load",
        "loads",
        "marked",
        "new",
        "output",
        "parts",
        "save",
        "schema",
        "sentences",
        "variants",
    ),
    "mockup.archive": ("pack", "unpack"),
    "mockup.comparison.api": ("beside", "compare", "sweep", "wander"),
    "mockup.comparison.files": ("Comparison",),
    "mockup.comparison.page_origin": ("PageOrigin", "which"),
    "mockup.comparison.sweep.files": ("Sweep",),
    "mockup.layout.edit.apply": ("apply",),
    "mockup.layout_mending": ("mend", "write_mended"),
    "mockup.layout_proposals": ("propose",),
    "mockup.model.design": ("Design",),
    "mockup.model.edit": (
        "Address",
        "AdoptVariant",
        "DuplicateTable",
        "InsertTable",
        "MakeVariant",
        "Move",
        "PutLength",
        "PutValue",
        "RemoveTable",
        "RemoveValue",
        "RemoveVariant",
        "RenameTable",
        "RenameVariant",
        "ReorderTable",
    ),
    "mockup.model.errors": ("EngineError", "Fault", "InputError", "MockupError", "OutputError"),
    "mockup.model.finding": ("Finding",),
    "mockup.model.picture": ("Picture",),
    "mockup.model.scene": ("Scene",),
    "mockup.options": ("Result",),
    "mockup.picture.options": ("PictureRequest",),
}
_OUTPUTS = {name.replace("-", "_"): name for name in Folder("mockup.outputs").names()}

_MODULES = ("as_built", "calibrate", "manual")

__all__ = sorted([*_MODULES, *_OUTPUTS, *(name for names in _HOMES.values() for name in names)])


def __getattr__(name: str) -> Any:
    from importlib import import_module

    if name in _OUTPUTS:
        door = import_module("mockup.api").door(_OUTPUTS[name])
        value: Any = sys.modules.get(f"{__name__}.{name}", door)  # a room of the same name can itself be called
    elif name in _MODULES:
        return import_module(f"{__name__}.{name}")
    else:
        home = next((home for home, names in _HOMES.items() if name in names), None)
        if home is None:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        value = getattr(import_module(home), name)
    globals()[name] = value
    return value
