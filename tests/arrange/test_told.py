"""A change that does not clear everything says so first; one that brings something new is no cure, and not written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from mockup import api
from mockup.arrange.mending import Mending, bad, proven
from mockup.arrange.search import Change
from mockup.arrange.told import mended_data, mended_lines
from mockup.checks.report.run import run
from mockup.layout.edit.apply import apply
from mockup.layout_mending import MendedLayout, write_mended
from mockup.model.design import Design
from mockup.model.edit import Edit
from mockup.model.errors import InputError

LAYOUT = 'name = "T"\nunits = "mm"\n[box]\nsize = "112x60x31"\n' + "".join(
    f'[[part]]\nname = "{name}"\nkind = "pot-16"\nleft = {left}\ntop = 40\n' for name, left in (("A", 13), ("B", 36))
)


@cache
def closer() -> Mending:
    """Return the proven change that moves a knob 6 mm nearer to one that it only came too close to."""

    def after(edits: Sequence[Edit]) -> Design:
        return api.loads(apply(LAYOUT, edits, "layout.toml"))

    design = after(())
    nearer = replace(design.parts[1], u_mm=design.parts[1].u_mm - 6.0)
    return proven(
        design, after, bad(run(design)), Change(parts=(design.parts[0], nearer), moved_mm=6.0, lacking_mm=1.0)
    )


def layout(path: Path, plain: Mending, conceding: Mending | None = None) -> MendedLayout:
    place = path / "layout.toml"
    place.write_text(LAYOUT)
    return MendedLayout(path=place, text=LAYOUT, plain=plain, conceding=conceding)


def test_what_warned_and_then_stops_is_new() -> None:
    found = closer()
    assert [each.severity for each in found.before] == ["warn"]
    assert [each.severity for each in found.brought] == ["stop"]
    assert not found.cured
    assert not found.left


def test_moves_that_bring_something_new_say_so_first_and_are_not_written(tmp_path: Path) -> None:
    bringing = closer()
    given = replace(bringing, cured=bringing.before, brought=(), left=(), concession="a smaller knob on B")
    found = layout(tmp_path, bringing, given)
    assert list(mended_lines(found)) == [
        "Moving parts does not clear everything: 1 stop would be new.",
        "With a smaller knob on B nothing stops or warns; --concede shows that change, with --write makes it.",
        "Moves alone are no cure here; --json has those that come nearest, and what they bring.",
    ]
    assert not mended_data(found)["is_complete"]
    with pytest.raises(InputError) as caught:
        write_mended(found)
    assert str(caught.value) == (
        "layout.toml: is not changed: the moves would bring 1 stop; add --concede for a smaller knob on B"
    )
    assert found.path.read_text() == LAYOUT
    said = list(mended_lines(found, concede=True))
    assert said[:2] == ["Move B 6 mm left.", "This cures 1 warning:"]
    assert write_mended(found, concede=True).read_text() != LAYOUT


def test_without_a_concession_the_refusal_says_what_is_left_to_do(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"would bring 1 stop; .*move, turn or leave out a part yourself$") as caught:
        write_mended(layout(tmp_path, closer()), concede=True)
    assert "\n" not in str(caught.value)


def test_moves_that_clear_a_part_say_what_stays_and_may_be_written(tmp_path: Path) -> None:
    bringing = closer()
    partly = replace(bringing, brought=(), left=bringing.before, design=api.loads(LAYOUT))
    found = layout(tmp_path, partly)
    assert next(mended_lines(found)) == "Moving parts does not clear everything: 1 warning stays."
    assert "It does not cure 1 warning:" in list(mended_lines(found))
    assert write_mended(found).read_text() != LAYOUT
