"""A short name for what a value holds: equal content gives the same name, in any process, any day."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Mapping, Set
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

_BYTES = 20  # 160 bits: no two pictures of a lifetime meet
_known: WeakKeyDictionary[Any, bytes] = WeakKeyDictionary()  # of frozen data that is compared by identity, such as art


def digest(*values: Any) -> str:
    """Return the digest (40 hexadecimal digits) of plain data, in order.

    Numbers, text, bytes, None, tuples, lists, sets, mappings (in any order), numpy arrays and
    dataclasses of these; raises `TypeError` for anything else, rather than guess.
    """
    return _of(values).hex()


def _of(value: Any) -> bytes:
    made = hashlib.blake2b(digest_size=_BYTES)
    for piece in _pieces(value):
        made.update(len(piece).to_bytes(8, "big"))  # so that no two ways of cutting look alike
        made.update(piece)
    return made.digest()


def _pieces(value: Any) -> list[Any]:
    """Return what a value is made of, as bytes, its kind first."""
    if value is None or isinstance(value, bool | int | str | np.bool_ | np.integer):
        plain = value.item() if isinstance(value, np.generic) else value
        return [type(plain).__name__.encode(), str(plain).encode()]
    if isinstance(value, float | np.floating):
        return [b"float", float(value).hex().encode()]
    if isinstance(value, bytes):
        return [b"bytes", value]
    if isinstance(value, np.ndarray):
        return [b"array", f"{value.dtype.str}{value.shape}".encode(), _flat(value)]
    if isinstance(value, tuple | list):
        return [b"list", *map(_of, value)]
    if isinstance(value, Set):
        return [b"set", *sorted(map(_of, value))]
    if isinstance(value, Mapping):
        return [b"map", *sorted(_of(pair) for pair in value.items())]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return [b"data", _of_data(value)]
    raise TypeError(f"a {type(value).__name__} has no digest")


def _flat(values: NDArray[Any]) -> memoryview:
    return np.ascontiguousarray(values).reshape(-1).view(np.uint8).data


def _of_data(value: Any) -> bytes:
    """Return the digest of a dataclass; one compared by identity is worked out once."""
    params = type(value).__dataclass_params__
    is_kept = params.frozen and not params.eq and hasattr(value, "__weakref__")
    if is_kept and value in _known:
        return _known[value]
    named = [(each.name, getattr(value, each.name)) for each in dataclasses.fields(value)]
    found = _of([f"{type(value).__module__}.{type(value).__qualname__}", *named])
    if is_kept:
        _known[value] = found
    return found
