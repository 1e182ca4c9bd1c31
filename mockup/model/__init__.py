"""The words everything else speaks: frozen data, no behaviour beyond arithmetic on itself.

The output that writes a 3D model bears the same name as this room, so the room can be called:
``mockup.model(design)`` is that output's Python door; so it is with ``mockup.measure``.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import Any


class Room(ModuleType):
    """A package that is called as the output of its name."""

    def __call__(self, *args: Any, **options: Any) -> Any:
        """Return what the output makes."""
        return import_module("mockup.api").door(self.__name__.rpartition(".")[2])(*args, **options)


sys.modules[__name__].__class__ = Room
