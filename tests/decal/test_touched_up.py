"""Art that was touched up in places is predicted again there only, and comes out as if made anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.decal import composite
from mockup.decal.composite import face_texture, laid
from mockup.films import films
from mockup.finishes import sheens
from mockup.model.finish import Artwork, Decal, Finish

FINISH = Finish(paint=(0.2, 0.5, 0.4), sheen=sheens()["gloss"])


def decal(pixels: np.ndarray, turn: float = 0.0) -> Decal:
    art = Artwork(name="a.png", pixels=pixels)
    return Decal(
        art=art, face="top", u_mm=30, v_mm=50, width_mm=40, height_mm=60, rotation_deg=turn, film=films()["clear"]
    )


def noise(seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).integers(0, 256, (60, 40, 4), dtype=np.uint8)


@settings(deadline=None, max_examples=40)
@given(
    st.sampled_from([0.0, 90.0, 180.0, 270.0, -90.0, 450.0]),
    st.lists(st.tuples(st.integers(0, 59), st.integers(0, 39)), min_size=1, max_size=4),
    st.sampled_from(["photo", "proof"]),
)
def test_touched_up_is_as_made_anew(turn: float, places: list[tuple[int, int]], look: str) -> None:
    pixels = noise()
    before = laid((decal(pixels, turn),), FINISH, look)  # type: ignore[arg-type]
    kept = before.texture.pixels.copy()
    after = pixels.copy()
    for row, column in places:
        after[row, column] ^= 255
    changed = decal(after, turn)
    touched = laid((changed,), FINISH, look, before).texture  # type: ignore[arg-type]
    anew = face_texture((changed,), FINISH, look)  # type: ignore[arg-type]
    assert anew is not None
    assert (touched.pixels == anew.pixels).all()
    assert (touched.u_mm, touched.v_mm, touched.width_mm, touched.height_mm) == (
        anew.u_mm,
        anew.v_mm,
        anew.width_mm,
        anew.height_mm,
    )
    assert (before.texture.pixels == kept).all(), "what was shown before is not written over"


def test_only_the_changed_pixels_are_predicted(monkeypatch: pytest.MonkeyPatch) -> None:
    pixels = noise()
    before = laid((decal(pixels),), FINISH, "photo")
    after = pixels.copy()
    after[10:20, 5:8] ^= 255
    seen: list[tuple[int, ...]] = []
    plain = composite.composite

    def noted(art: Artwork, *rest: object) -> np.ndarray:
        seen.append(art.pixels.shape)
        return plain(art, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(composite, "composite", noted)
    laid((decal(after),), FINISH, "photo", before)
    assert seen == [(10, 3, 4)]


def test_the_same_pixels_give_the_same_texture() -> None:
    before = laid((decal(noise()),), FINISH, "photo")
    assert laid((decal(noise()),), FINISH, "photo", before).texture is before.texture


@pytest.mark.parametrize(
    "other",
    [
        {"finish": Finish(paint=(0.9, 0.1, 0.1), sheen=sheens()["gloss"])},
        {"look": "proof"},
        {"decals": (replace(decal(noise()), u_mm=31.0),)},
        {"decals": (replace(decal(noise()), film=films()["white"]),)},
        {"decals": (decal(noise(), 12.0),)},
        {"decals": (decal(noise()), decal(noise(2)))},
        {"decals": (decal(np.zeros((30, 40, 4), np.uint8)),)},
    ],
)
def test_where_anything_else_changed_all_is_made_anew(other: dict[str, object]) -> None:
    start = {"decals": (decal(noise()),), "finish": FINISH, "look": "photo"}
    before = laid(**start)  # type: ignore[arg-type]
    wanted = {**start, **other}
    found = laid(**wanted, before=before).texture  # type: ignore[arg-type]
    anew = face_texture(*wanted.values())  # type: ignore[arg-type]
    assert anew is not None
    assert (found.pixels == anew.pixels).all()
    assert (found.u_mm, found.width_mm) == (anew.u_mm, anew.width_mm)
