"""Art that was touched up in places is predicted again there only, and comes out as if made anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.decal import ink_over_paint as ink
from mockup.decal.composite import composite, face_texture
from mockup.films import films
from mockup.finishes import sheens
from mockup.memo import MEMORY
from mockup.model.finish import Artwork, Decal, Finish

FINISH = Finish(paint=(0.2, 0.5, 0.4), sheen=sheens()["gloss"])
ROWS, COLUMNS = 300, 40


def decal(pixels: np.ndarray, turn: float = 0.0) -> Decal:
    art = Artwork(name="a.png", pixels=pixels)
    return Decal(
        art=art, face="top", u_mm=30, v_mm=50, width_mm=40, height_mm=60, rotation_deg=turn, film=films()["clear"]
    )


def noise(seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).integers(0, 256, (ROWS, COLUMNS, 4), dtype=np.uint8)


@settings(max_examples=40)
@given(
    st.sampled_from([0.0, 90.0, 180.0, 270.0, -90.0, 450.0]),
    st.lists(st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLUMNS - 1)), min_size=1, max_size=4),
    st.sampled_from(["photo", "proof"]),
)
def test_touched_up_is_as_made_anew(turn: float, places: list[tuple[int, int]], look: str) -> None:
    pixels = noise()
    before = face_texture((decal(pixels, turn),), FINISH, look)  # type: ignore[arg-type]
    assert before is not None
    kept = before.pixels.copy()
    after = pixels.copy()
    for row, column in places:
        after[row, column] ^= 255
    touched = face_texture((decal(after, turn),), FINISH, look)  # type: ignore[arg-type]
    MEMORY.clear()
    anew = face_texture((decal(after, turn),), FINISH, look)  # type: ignore[arg-type]
    assert touched is not None and anew is not None
    assert (touched.pixels == anew.pixels).all()
    assert (before.pixels == kept).all(), "what was shown before is not written over"


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many rows were predicted each time that some were."""
    rows: list[int] = []
    plain = ink.Lookup.apply

    def noted(table: ink.Lookup, art: np.ndarray) -> np.ndarray:
        rows.append(len(art))
        return plain(table, art)

    monkeypatch.setattr(ink.Lookup, "apply", noted)
    MEMORY.clear()
    return rows


def test_only_rows_near_the_changed_ones_are_predicted(seen: list[int]) -> None:
    pixels = noise()
    composite(decal(pixels), FINISH)
    assert sum(seen) == ROWS
    seen.clear()
    after = pixels.copy()
    after[10:20, 5:8] ^= 255
    composite(decal(after), FINISH)
    assert 10 <= sum(seen) <= ROWS // 4


def test_moved_and_equal_art_is_not_predicted_again(seen: list[int]) -> None:
    face_texture((decal(noise()),), FINISH, "photo")
    seen.clear()
    face_texture((replace(decal(noise()), u_mm=31.0),), FINISH, "photo")
    assert seen == []
    face_texture((decal(noise()),), replace(FINISH, paint=(0.9, 0.1, 0.1)), "photo")
    assert sum(seen) == ROWS
