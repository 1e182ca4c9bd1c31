"""What several checks need and is costly to work out: made once for a design, kept as long as it lives."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import TypeVar
from weakref import WeakKeyDictionary

from mockup.checks.panel.built import Built

T = TypeVar("T")
SEEN = "seen"  # in a design that is watched: the set of the names of its fields that were read


def once(make: Callable[[Built], T]) -> Callable[[Built], T]:
    """Return a function that works like `make` and remembers its answer for every built design.

    Where somebody watches what is read of a design (`SEEN`), a remembered answer counts as reading it all again.
    """
    kept: WeakKeyDictionary[Built, tuple[T, frozenset[str]]] = WeakKeyDictionary()

    @functools.wraps(make)
    def remembered(built: Built) -> T:
        seen: set[str] = vars(built.design).get(SEEN, set())
        if built not in kept:
            before = set(seen)
            seen.clear()
            kept[built] = make(built), frozenset(seen)
            seen |= before
        answer, reads = kept[built]
        seen |= reads
        return answer

    return remembered
