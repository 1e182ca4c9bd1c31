"""The one memory against its definition: what it returns is what the function returns, and it never grows too large.

No outside reference: a memo is right where it cannot be told from the function that it remembers for.
"""

from __future__ import annotations

import gc
import sys
import threading
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from mockup.memo import MEMORY, Memo, memoize, same
from mockup.model import digest as digests
from mockup.model.digest import content, digest


@dataclass(frozen=True, kw_only=True, eq=False)
class Piece:
    """A nested value by identity, as parts and art are."""

    name: str
    pixels: Any
    below: tuple[Any, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Size:
    """A value by content, as a box is."""

    width: float
    more: dict[str, Any] = field(default_factory=dict)


PLAIN = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(allow_nan=True), st.text(max_size=5), st.binary(max_size=5)
)
PIXELS = arrays.arrays(st.sampled_from([np.uint8, np.float64, np.int32]), arrays.array_shapes(max_dims=3, max_side=4))
VALUES = st.recursive(
    PLAIN | PIXELS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(tuple),
        st.builds(Piece, name=st.text(max_size=3), pixels=PIXELS, below=st.lists(inner, max_size=2).map(tuple)),
        st.builds(Size, width=st.floats(), more=st.dictionaries(st.text(max_size=2), inner, max_size=2)),
    ),
    max_leaves=8,
)


def copied(value: Any) -> Any:
    """Return a value of equal content that shares no object of it that could be shared."""
    if isinstance(value, np.ndarray):
        return value.copy()
    if isinstance(value, tuple):
        return tuple(map(copied, value))
    if isinstance(value, dict):
        return {key: copied(value[key]) for key in reversed(value)}
    if isinstance(value, Piece):
        return Piece(name=value.name, pixels=value.pixels.copy(), below=copied(value.below))
    if isinstance(value, Size):
        return Size(width=value.width, more=copied(value.more))
    return value


def shown(value: Any) -> str:
    """Return all that a value holds as text: a pure function that sees everything."""
    if isinstance(value, np.ndarray):
        return f"{value.dtype}{value.shape}{value.tobytes().hex()}"
    if isinstance(value, tuple):
        return f"({','.join(map(shown, value))})"
    if isinstance(value, dict):
        return f"{{{','.join(f'{key!r}:{shown(value[key])}' for key in sorted(value))}}}"
    if isinstance(value, Piece | Size):
        return f"{type(value).__name__}({shown(vars(value))})"
    return f"{type(value).__name__} {value.hex() if isinstance(value, float) else repr(value)}"


remembered = memoize(shown)


@given(st.lists(VALUES, min_size=1, max_size=6))
def test_it_returns_what_the_function_returns(values: list[Any]) -> None:
    for value in (*values, *map(copied, values)):
        assert remembered(value) == shown(value)


@given(VALUES, VALUES)
def test_equal_content_and_nothing_else_has_an_equal_digest(one: Any, other: Any) -> None:
    assert digest(one) == digest(copied(one))
    is_nan = "nan" in shown((one, other))  # many bit patterns, one text
    assert is_nan or (digest(one) == digest(other)) == (shown(one) == shown(other))


@given(VALUES)
def test_equal_content_is_found_whatever_object_it_is_in(value: Any) -> None:
    calls: list[int] = []

    def make() -> object:
        calls.append(1)
        return object()

    memo = Memo()
    first = memo.recall("made", value, make)
    assert memo.recall("made", copied(value), make) is first
    assert memo.holds("made", copied(value))
    assert not memo.holds("made by another", value)
    assert calls == [1]


def test_a_digest_is_worked_out_once_for_each_object(monkeypatch: pytest.MonkeyPatch) -> None:
    hashed: list[object] = []
    plain = digests._flat

    def noted(values: np.ndarray) -> memoryview:
        hashed.append(values)
        return plain(values)

    monkeypatch.setattr(digests, "_flat", noted)
    piece = Piece(name="art", pixels=np.zeros(1000))
    nest = Piece(name="nest", pixels=np.zeros(3), below=(piece,))
    for _ in range(3):
        digest(nest)
        digest(replace(nest, name="other"), piece)
    assert sum(len(each) == 1000 for each in hashed) == 1  # type: ignore[arg-type]


def test_the_digests_of_what_is_gone_are_forgotten() -> None:
    gc.collect()
    before = len(digests._known)
    pieces = [Piece(name=str(number), pixels=np.zeros(2)) for number in range(500)]
    assert len({content(piece) for piece in pieces}) == 500
    assert len(digests._known) >= before + 500
    del pieces
    gc.collect()
    assert len(digests._known) <= before


@settings(max_examples=30)
@given(st.lists(st.tuples(st.integers(0, 12), st.integers(1, 60_000)), max_size=60))
def test_the_bound_holds_whatever_comes(asked: list[tuple[int, int]]) -> None:
    memo, bound, largest = Memo(100_000), 100_000, 1000 + 60_000
    for name, size in asked:
        made = memo.recall(name, size, lambda size=size: np.zeros(size, np.uint8))  # type: ignore[misc]
        assert len(made) == size
        assert memo.holds(name, size), "the newest stays"
        assert memo.size_bytes <= max(bound, largest)


def test_what_was_used_least_recently_goes_first() -> None:
    memo, made = Memo(2 * 1000 + 250), list[str]()

    def make(name: str) -> np.ndarray:
        made.append(name)
        return np.zeros(100, np.uint8)

    for name in ("a", "b", "a", "c", "a", "b"):
        memo.recall("made", name, lambda name=name: make(name))  # type: ignore[misc]
    assert made == ["a", "b", "c", "b"], "b was used least recently when c came"


def test_what_alone_is_too_large_stays_until_the_next() -> None:
    memo = Memo(10)
    large = memo.recall("large", 1, lambda: np.zeros(100_000, np.uint8))
    assert memo.recall("large", 1, lambda: np.zeros(1, np.uint8)) is large


def test_what_results_share_counts_once() -> None:
    """Three views and two holders of one array of 50 kB: 50 kB, and 1 kB an entry."""
    memo, whole = Memo(), np.zeros(50_000, np.uint8)
    for start in range(3):
        memo.recall("view", start, lambda start=start: whole[start * 100 : start * 100 + 50])  # type: ignore[misc]
    memo.recall("held", 1, lambda: Piece(name="a", pixels=whole))
    memo.recall("held", 2, lambda: {"b": (whole, whole)})
    assert memo.size_bytes == pytest.approx(50_000 + 5 * 1000, abs=10)
    memo.clear()
    assert memo.size_bytes == 0
    assert not memo.holds("held", 1)


def test_many_small_objects_count() -> None:
    """A table of a thousand tables takes over 100 kB by the interpreter's own count; one that counted 1 kB let 400 MB
    hold forty gigabytes of them."""
    memo = Memo()
    made = memo.recall("tables", 1, lambda: {str(number): {"at": number} for number in range(1000)})
    real = sys.getsizeof(made) + sum(map(sys.getsizeof, made.values()))
    assert 0.3 * real < memo.size_bytes < 3 * real


def test_a_mistake_is_not_remembered() -> None:
    answers = iter([ValueError("not now"), 7])

    def make() -> int:
        found = next(answers)
        if isinstance(found, Exception):
            raise found
        return found

    memo = Memo()
    with pytest.raises(ValueError, match="not now"):
        memo.recall("made", 1, make)
    assert memo.recall("made", 1, make) == 7


def test_threads_get_one_object_and_the_bound_holds() -> None:
    memo, start = Memo(40_000), threading.Barrier(8)
    found: list[list[int]] = [[] for _ in range(8)]
    faults: list[str] = []

    def work(number: int) -> None:
        start.wait()
        for step in range(400):
            size = 500 + (step * 7) % 97
            made = memo.recall("made", size, lambda size=size: np.full(size, size % 251, np.uint8))  # type: ignore[misc]
            if len(made) != size or made[0] != size % 251 or memo.size_bytes > 42_000:
                faults.append(f"{size}: {len(made)}, {memo.size_bytes}")
        start.wait()
        found[number].append(id(memo.recall("one", 0, lambda: np.zeros(9))))

    threads = [threading.Thread(target=work, args=(number,)) for number in range(8)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert not faults
    assert len({each[0] for each in found}) == 1


def test_equal_values_become_one_object() -> None:
    MEMORY.clear()
    one, other = (Piece(name="a", pixels=np.arange(5)) for _ in range(2))
    assert same(one) is one
    assert same(other) is one
    assert same(replace(other, name="b")) is not one
