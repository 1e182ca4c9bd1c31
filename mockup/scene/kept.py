"""What an earlier scene was made of, kept for the next: unchanged meshes and textures stay the same objects."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from typing import Any, TypeVar, cast
from weakref import WeakKeyDictionary

import numpy as np

from mockup.model.part import Kind

Made = TypeVar("Made")

ROOM_BYTES = 320 * 2**20  # four scenes with their art, about; our choice
MOST = 4000  # entries; four large scenes have about a thousand
_HEAVY = ("pixels", "art", "texture", "decals", "mesh", "vertices", "normals", "faces", "uv", "body", "lid")


class Kept:
    """Results by what they were made from, the least recently used dropped when they are too many or too large.

    `room_bytes` counts their arrays, one that two of them share twice. Whoever asks with an equal key gets
    the same object. For one thread at a time.
    """

    def __init__(self, room_bytes: int = ROOM_BYTES, most: int = MOST) -> None:
        self._room, self._most = room_bytes, most
        self._used = 0
        self._entries: OrderedDict[Hashable, tuple[Any, int]] = OrderedDict()
        self._kinds: WeakKeyDictionary[Kind, str] = WeakKeyDictionary()

    def get(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """Return what was made for an equal key before, or make and keep it."""
        entry = self._entries.get(key)
        if entry is None:
            made = make()
            entry = self._entries[key] = (made, _weight(made))
            self._used += entry[1]
            while len(self._entries) > 1 and (self._used > self._room or len(self._entries) > self._most):
                _, (_, weight) = self._entries.popitem(last=False)
                self._used -= weight
        else:
            self._entries.move_to_end(key)
        return cast(Made, entry[0])

    def __contains__(self, key: Hashable) -> bool:
        return key in self._entries

    def content(self, kind: Kind) -> str:
        """Return what a kind consists of as text: equal for two readings of one description."""
        if kind not in self._kinds:
            self._kinds[kind] = repr((kind.above, kind.below, kind.lens, kind.shaft))
        return self._kinds[kind]


def _weight(made: Any) -> int:
    """Return about how many bytes of arrays an object holds."""
    if isinstance(made, np.ndarray):
        return int(made.nbytes)
    if isinstance(made, Mapping):
        return sum(_weight(each) for each in made.values())
    if isinstance(made, tuple | list):
        return sum(_weight(each) for each in made)
    held = getattr(made, "__dict__", {})
    return sum(_weight(held[name]) for name in _HEAVY if name in held)
