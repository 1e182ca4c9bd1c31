"""What is posted: the turn keeps to its size, and what is nobody else's business stays at home."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mockup import api
from mockup.encode.animation import animation
from mockup.encode.document import Document
from mockup.encode.markdown import markdown
from mockup.model.errors import InputError
from mockup.model.making import Making
from mockup.model.picture import Picture
from mockup.outputs import share
from mockup.outputs.pages.log_words import sections

LAYOUT = """
name = "Sea Foam"
units = "mm"
[box]
size = "112x60x31"
[making]
paint = "teal enamel, batch 7"
suppliers = "box: the shop at the corner"
remarks = "next time half a millimetre more"
[[copy]]
serial = "T-417"
to = "Ada"
"""


def encoded(frames: list[np.ndarray]) -> bytes:
    return animation(frames, frame_ms=100.0, kind="webp")


def test_a_turn_is_made_smaller_until_it_is_light_enough() -> None:
    rng = np.random.default_rng(5)
    frames = [rng.integers(0, 255, (240, 320, 3), np.uint8) for _ in range(2)]
    whole = encoded(frames)
    assert share.lightest(encoded, frames, len(whole) / 1e6) == whole
    assert len(share.lightest(encoded, frames, len(whole) / 3e6)) <= len(whole) / 3
    with pytest.raises(InputError, match=r"--turn-mb: a turn of 2 pictures is larger than 0\.0005 MB"):
        share.lightest(encoded, frames, 0.0005)


def test_a_log_for_others_leaves_out_what_is_nobody_elses_business() -> None:
    design = api.loads(LAYOUT)

    def words(making: Making, findings: tuple[()] | None) -> str:
        told = sections(replace(design, making=making), findings)
        return markdown(Document(title="", under="", sections=told, foot=""), "files")[0].decode()

    own, others = words(design.making, ()), words(design.making.for_others, None)
    private = ("What the checks found", "the shop at the corner", "half a millimetre more", "Ada", "T-417")
    assert [word for word in private if word not in own] == []
    assert [word for word in private if word in others] == []
    assert "teal enamel" in others
    assert "Drill table" in others


@pytest.mark.parametrize(("wide", "names"), [(1000, ["hero.jpg", "hero-small.jpg"]), (800, ["hero.jpg"])])
def test_a_small_copy_is_made_where_it_is_smaller(wide: int, names: list[str]) -> None:
    picture = Picture(pixels=np.zeros((600, wide, 3), np.uint8))
    found = share._stills(api.loads(LAYOUT), {"hero": picture}, None)
    assert [each.name for each in found] == names
    assert [each.shown_px is not None for each in found] == [False] * (len(names) - 1) + [True]
    assert max(found[-1].shown_px or ()) == 800
