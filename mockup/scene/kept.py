"""What an earlier scene was made of, kept for the next: unchanged meshes and textures stay the same objects."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from typing import Any, TypeVar, cast
from weakref import WeakKeyDictionary

import numpy as np

from mockup.model.mesh import Mesh
from mockup.model.part import Kind

Made = TypeVar("Made")

ROOM_BYTES = 384 * 2**20  # four large scenes with their art, about; our choice


class Kept:
    """Results by what they were made from, the least recently used dropped when they fill `room_bytes`.

    For one thread at a time. Whoever asks with an equal key gets the same object.
    """

    def __init__(self, room_bytes: int = ROOM_BYTES) -> None:
        self._room = room_bytes
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
            while self._used > self._room and len(self._entries) > 1:
                _, (_, weight) = self._entries.popitem(last=False)
                self._used -= weight
        else:
            self._entries.move_to_end(key)
        return cast(Made, entry[0])

    def content(self, kind: Kind) -> str:
        """Return what a kind consists of as text: equal for two readings of one description."""
        if kind not in self._kinds:
            self._kinds[kind] = repr((kind.above, kind.below, kind.lens, kind.shaft))
        return self._kinds[kind]


def _weight(made: Any) -> int:
    """Return about how many bytes of arrays an object holds."""
    if isinstance(made, np.ndarray):
        return int(made.nbytes)
    if isinstance(made, Mesh):
        return sum(each.nbytes for each in (made.vertices, made.normals, made.faces, made.uv) if each is not None)
    if isinstance(made, dict):
        return sum(_weight(each) for each in made.values())
    if isinstance(made, Iterable) and not isinstance(made, str):
        return sum(_weight(each) for each in made)
    return sum(_weight(each) for each in vars(made).values()) if hasattr(made, "__dataclass_fields__") else 0
