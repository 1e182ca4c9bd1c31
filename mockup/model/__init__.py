"""The words everything else speaks: frozen data, no behaviour beyond arithmetic on itself.

The output that writes a 3D model bears the same name as this room, so the room can be called:
``mockup.model(design)`` is that output's Python door.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import Any


class _Room(ModuleType):
    def __call__(self, *args: Any, **options: Any) -> Any:
        return import_module("mockup.api").door("model")(*args, **options)


sys.modules[__name__].__class__ = _Room
