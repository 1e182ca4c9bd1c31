"""The net of faces: the box unfolded in true proportion, every part a dot on its own face."""

from __future__ import annotations

from pathlib import Path

import pytest

from mockup import api
from mockup.model.enclosure import DECAL_FACES, faces
from mockup.window.frame.net import face_at, net_faces
from mockup.window.shell.cards import cards

CARD = cards((1280, 800)).net


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_net_lies_in_its_card_and_is_true_in_proportion(examples: Path, scale: float) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    card = cards((round(1280 * scale), round(800 * scale)), scale).net
    found = {each.name: each for each in net_faces(design, card, scale)}
    assert set(found) == set(DECAL_FACES)
    for each in found.values():
        assert card.holds(*each.rect[:2])
        assert card.holds(*each.rect[2:])
    left, top, right, low = found["top"].rect
    real = faces(design.enclosure)["top"]
    assert (right - left) / (low - top) == pytest.approx(real.width_mm / real.height_mm, rel=0.05)
    assert found["far"].rect[3] <= top  # far above the top, near below it, left and right beside it
    assert found["near"].rect[1] >= low
    assert found["left"].rect[2] <= left
    assert found["right"].rect[0] >= right
    assert found["lid"].rect[0] >= found["right"].rect[2]


def test_every_part_is_a_dot_on_its_own_face(examples: Path) -> None:
    design = api.load(examples / "lantern_moth" / "layout.toml")
    found = net_faces(design, CARD, 1.0)
    for each in found:
        assert len(each.dots) == sum(part.face == each.name for part in design.parts)
        for dot in each.dots:
            assert face_at(found, *dot) == each.name
    assert face_at(found, CARD.x + 1, CARD.y + 1) is None
