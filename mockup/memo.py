"""The one memory: what a pure function has made of equal arguments before, it need not make again.

An entry's key is the function and the digest of its arguments, so that nothing in it is ever out of date.
Whoever asks with equal arguments gets the very same object, which is how the GPU and the window tell what is
unchanged. There is one bound for everything, `BOUND_BYTES`; what was used least recently goes first.
What takes long and is small is remembered on disk besides, where somebody has given the memory a shelf
(`mockup.cache`): finished pictures by their own names, and the results of `recall_kept`.
"""

from __future__ import annotations

import dataclasses
import functools
import threading
from collections import Counter, OrderedDict
from collections.abc import Callable, Hashable, Mapping
from typing import Any, NamedTuple, ParamSpec, Protocol, TypeVar, cast

import numpy as np

from mockup.model.digest import content

P = ParamSpec("P")
T = TypeVar("T")

BOUND_BYTES = 384 * 2**20  # four large scenes with their art and what checks see in it; our choice
_ENTRY_BYTES = 1000  # the least that an entry takes beside its arrays, about
_OBJECT_BYTES = 100  # what a table, a list or a dataclass takes with the small values in it, about: measured
_SMALL = frozenset({float, int, bool, str, type(None)})
_Blocks = dict[int, int]


class _Entry(NamedTuple):
    """A result, the blocks of memory that it holds, and the bytes of its objects beside them."""

    made: Any
    blocks: _Blocks
    beside: int


class Shelf(Protocol):
    """Where bytes are kept from one run to the next, under a name for a maker and one for what they were made of."""

    def recall(self, maker: str, of: str) -> bytes | None:
        """Return what was kept, or None."""
        ...

    def keep(self, maker: str, of: str, body: bytes) -> None:
        """Keep it, or not, where the disk refuses."""
        ...


class Memo:
    """Results by what they were made from, at most `bound_bytes` of them, safe to use from several threads.

    Arrays count with their bytes, once however many results share them, and every entry with what its objects take.
    The newest result stays even where it is too large alone.
    """

    def __init__(self, bound_bytes: int = BOUND_BYTES) -> None:
        self.shelf: Shelf | None = None
        self._bound = bound_bytes
        self._lock = threading.Lock()
        self.clear()

    def recall(self, function: Hashable, of: Any, make: Callable[[], T]) -> T:
        """Return what was made under an equal name and equal data `of`, or make and keep it.

        Two threads that ask at the same time may both make it; both get the same one.
        """
        key = function, content(of)
        with self._lock:
            if key in self._entries:
                self._entries.move_to_end(key)
                return cast(T, self._entries[key].made)
        made = make()
        blocks, beside = _blocks(made)
        with self._lock:
            if key not in self._entries:
                self._keep(key, _Entry(made, blocks, beside))
            return cast(T, self._entries[key].made)

    def recall_kept(self, maker: str, of: Any, make: Callable[[], bytes]) -> bytes:
        """Return what a maker made of equal data in this run or an earlier one, or make and keep it.

        Nothing made (no bytes) is not kept: it is tried again the next time.
        """
        if self.shelf is None:
            return make()
        name = content(of).hex()
        found = self.shelf.recall(maker, name)
        if found is None:
            found = make()
            if found:
                self.shelf.keep(maker, name, found)
        return found

    def holds(self, function: Hashable, of: Any) -> bool:
        """Return whether `recall` would find its answer at once."""
        with self._lock:
            return (function, content(of)) in self._entries

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._entries: OrderedDict[Hashable, _Entry] = OrderedDict()
            self._shares: Counter[int] = Counter()
            self.size_bytes = 0

    def _keep(self, key: Hashable, entry: _Entry) -> None:
        self._entries[key] = entry
        self.size_bytes += entry.beside + sum(size for block, size in entry.blocks.items() if not self._shares[block])
        self._shares.update(entry.blocks.keys())
        while self.size_bytes > self._bound and len(self._entries) > 1:
            _, dropped = self._entries.popitem(last=False)
            self._shares.subtract(dropped.blocks.keys())
            gone = [block for block in dropped.blocks if self._shares[block] <= 0]
            self.size_bytes -= dropped.beside + sum(dropped.blocks[block] for block in gone)
            for block in gone:
                del self._shares[block]


MEMORY = Memo()
"""This process's own."""


def memoize(function: Callable[P, T]) -> Callable[P, T]:
    """Return a pure function of plain data that remembers what it returned; nobody may change that."""

    @functools.wraps(function)
    def remembering(*args: P.args, **kwargs: P.kwargs) -> T:
        return MEMORY.recall(function, (args, kwargs), lambda: function(*args, **kwargs))

    return remembering


@memoize
def same(value: T) -> T:
    """Return the object that was given here before, where there was one of equal content."""
    return value


def _blocks(made: Any) -> tuple[_Blocks, int]:
    """Return the bytes of each block of memory that a result holds, by identity, and what its objects take besides."""
    found: _Blocks = {}
    seen: set[int] = set()
    left = [made]
    objects = 0
    while left:
        each = left.pop()
        kind = type(each)
        if kind in _SMALL or id(each) in seen:
            continue
        seen.add(id(each))
        objects += 1
        if kind is tuple or kind is list:
            if each and type(each[0]) not in _SMALL:  # a point or a list of numbers is small
                left += each
        elif isinstance(each, np.ndarray) and each.base is not None:
            left.append(each.base)
        elif isinstance(size := len(each) if kind is bytes else getattr(each, "nbytes", None), int):
            found[id(each)] = size
        elif isinstance(each, Mapping):
            left += each.values()
        elif dataclasses.is_dataclass(each):
            left += (getattr(each, name) for name in kind.__dataclass_fields__)
    return found, max(_ENTRY_BYTES, objects * _OBJECT_BYTES)
