"""An engine that keeps what pedals share takes the same pictures as one that is set up anew for each."""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import mockup
from mockup.finishes import sheens
from mockup.picture import framing
from mockup.picture.open_engine import OpenEngine
from mockup.picture.options import PictureRequest


@pytest.mark.gl
def test_pictures_are_those_of_a_fresh_engine_whatever_came_before(examples: Path) -> None:
    """Eight-bit codes may differ by one where a driver adds up in another order."""
    design = mockup.load(examples / "copper_kettle" / "layout.toml")
    tone = design.parts[0]
    turned = replace(tone, knob=replace(tone.knob, pointer=0.9)) if tone.knob else tone
    ways = [
        design,
        replace(design, finish=replace(design.finish, paint=(0.9, 0.2, 0.1), sheen=sheens()["matte"])),
        replace(design, parts=(replace(tone, u_mm=20.0),)),
        replace(design, parts=(turned,), decals=()),
        design,
    ]
    sight = framing.sight("three-quarter", framing.extent(design), (120, 90))
    engine, request = OpenEngine(), PictureRequest(quality="draft")
    try:
        kept = [engine.take(pickle.loads(pickle.dumps(each)), [sight], request).pictures[0].pixels for each in ways]
        above = replace(sight, view="underside")
        engine.take(design, [above], request)  # lying on its knobs: the engine is opened again
    finally:
        engine.close()
    for pixels, each in zip(kept, ways, strict=True):
        anew = OpenEngine()
        fresh = anew.take(each, [sight], request).pictures[0].pixels
        anew.close()
        assert np.abs(pixels.astype(int) - fresh.astype(int)).max() <= 1
    assert len({pixels.tobytes() for pixels in kept[:4]}) == 4
    assert np.array_equal(kept[0], kept[4])
