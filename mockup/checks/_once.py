"""What several checks need and is costly to work out: made once for a design, kept as long as it lives."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import TypeVar
from weakref import WeakKeyDictionary

from mockup.checks._built import Built

T = TypeVar("T")


def once(make: Callable[[Built], T]) -> Callable[[Built], T]:
    """Return a function that works like `make` and remembers its answer for every built design."""
    kept: WeakKeyDictionary[Built, T] = WeakKeyDictionary()

    @functools.wraps(make)
    def remembered(built: Built) -> T:
        if built not in kept:
            kept[built] = make(built)
        return kept[built]

    return remembered
