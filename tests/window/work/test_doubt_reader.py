"""The colours in doubt of one decal, read beside the window and told when they are there."""

from __future__ import annotations

import queue
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from mockup import api
from mockup.outputs.pages.doubt_rows import doubts
from mockup.window.work.doubt_reader import DoubtReader


def test_the_worst_colours_of_a_decal_come_once_they_are_read(pond: Path) -> None:
    design = api.load(pond)
    calls: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
    reader = DoubtReader(calls.put)
    try:
        assert reader.worst(design, 0) is None
        calls.get(timeout=60)()
        worst = reader.worst(design, 0)
        assert worst is not None
        assert [each.radius for each in worst] == sorted((each.radius for each in doubts(design)), reverse=True)[:3]
        other = replace(design.decals[0], art=replace(design.decals[0].art, name="other.png"))
        assert reader.worst(replace(design, decals=(other,)), 0) is None  # of another picture nothing is known
    finally:
        reader.close()
