"""What lies in the store is judged by its shape as well as by its hash: whatever is none such is made again."""

from __future__ import annotations

import io
import json
from dataclasses import asdict
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from mockup import cache
from mockup.comparison.differences.figures import Figures, InkFigures, LabelFigures
from mockup.comparison.sweep import job
from mockup.model.finding import Subject

LABEL = LabelFigures(
    subject=Subject(kind="label", name="TONE", face="top"),
    face="top",
    height_mm=2.5,
    contrast_low=None,
    contrast_high=0.1 + 0.2,
    wanted=4.5,
    hidden_above=0.0,
    hidden_player=1 / 3,
    hidden_by=("TONE", "GAIN"),
)
FIGURES = Figures(
    stops=1, warnings=2, notes=0, ink=(InkFigures(face="top", inked_mm2=12.25, face_mm2=6720.0),), labels=(LABEL,),
    parts=3, holes=4, drillings=9,
)  # fmt: skip
RECORD = {"figures": asdict(FIGURES), "hidden_limit": 0.2}


@pytest.fixture
def store(tmp_path: Path) -> cache.Store:
    return cache.Store(folder=tmp_path)


def test_figures_come_back_to_the_last_digit(store: cache.Store) -> None:
    store.put("figures", json.dumps(RECORD).encode())
    assert job.measured(store, "figures") == job.Measured(figures=FIGURES, hidden_limit=0.2)


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"null",
        b"[" * 100_000 + b"]" * 100_000,
        b'{"figures": ' * 50_000 + b"1" + b"}" * 50_000,
        b"\xff\xfe",
        json.dumps(RECORD | {"hidden_limit": "much"}).encode(),
        json.dumps({"figures": {**RECORD["figures"], "labels": 3}, "hidden_limit": 0.2}).encode(),  # type: ignore[dict-item]
        json.dumps({"figures": {}, "hidden_limit": 0.2}).encode(),
    ],
)
def test_an_entry_of_another_shape_is_none(store: cache.Store, body: bytes) -> None:
    store.put("figures", body)
    assert store.get("figures") == body, "its hash is right"
    assert job.measured(store, "figures") is None


def test_a_picture_of_another_kind_or_damaged_is_none(store: cache.Store) -> None:
    out = io.BytesIO()
    Image.fromarray(np.full((12, 16, 3), 99, np.uint8)).save(out, "PNG")
    store.put("picture", out.getvalue())
    found = job.picture(store, "picture")
    assert found is not None
    assert found.shape == (12, 16, 3)
    for body in (b"", b"BM" + bytes(60), out.getvalue()[:50], json.dumps(RECORD).encode()):
        store.put("picture", body)
        assert job.picture(store, "picture") is None
