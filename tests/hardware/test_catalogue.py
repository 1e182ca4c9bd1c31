"""The parts table is made of what lies in the folder."""

from __future__ import annotations

from types import ModuleType

import pytest

from mockup import hardware, manual
from mockup.model.part import Kind
from mockup.plugins import Folder

# The names that layout files may rely on, from the first release on.
PROMISED = {
    "pot-9",
    "pot-16",
    "pot-24",
    "rotary-switch",
    "toggle",
    "toggle-mini",
    "slide-switch",
    "footswitch",
    "footswitch-momentary",
    "jack-open",
    "jack-enclosed",
    "dc-socket",
    "din-5",
    "lamp-3",
    "lamp-5",
    "battery-9v",
    "board",
    "toggle-mini-single",
    "toggle-sub-mini",
    "dc-socket-nut-outside",
    "dc-socket-8",
    "lamp-3-bare",
    "lamp-5-bare",
    "fader-30",
    "fader-60",
}


def test_every_promised_kind_is_there() -> None:
    table = hardware.kinds()
    assert set(table) >= PROMISED
    assert all(kind.name == name for name, kind in table.items())


def test_tables_do_not_share_state() -> None:
    first = hardware.kinds()
    first.clear()
    assert hardware.kinds()


def test_two_kinds_of_one_name_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    twin = ModuleType("twin")
    twin.kinds = lambda: (Kind(name="twin", family="twin", about="x"),)  # type: ignore[attr-defined]
    monkeypatch.setattr(Folder, "all", lambda self: iter([("one", twin), ("two", twin)]))
    with pytest.raises(ValueError, match="two and twin both make a 'twin'"):
        hardware.kinds()


def test_only_rotary_parts_take_a_knob() -> None:
    takes = {name for name, kind in hardware.kinds().items() if kind.shaft is not None}
    assert takes == {"pot-9", "pot-16", "pot-24", "rotary-switch"}


def test_the_manuals_table_has_every_kind_with_its_hole_depth_and_thread() -> None:
    rows = [line.strip("| ").split(" | ") for line in manual.page("parts").splitlines() if line.startswith("| `")]
    told = {name.strip("`"): (hole, float(deep), thread, inside) for name, hole, deep, thread, inside in rows}
    assert set(told) == {name for name, kind in hardware.kinds().items() if kind.mount == "panel"}
    for name, (hole, deep, thread, inside) in told.items():
        kind = hardware.kinds()[name]
        outline, held = kind.cutouts[0].outline, kind.mounting
        sizes = (outline.width_mm, outline.height_mm)[: 1 if outline.kind == "circle" else 2]
        assert [float(each) for each in hole.split(" x ")] == [pytest.approx(each, abs=0.051) for each in sizes]
        assert deep == pytest.approx(kind.depth_mm, abs=0.051)
        if kind.thread is not None:
            assert thread == f"{kind.thread.designation}, {held.thread_mm:.1f}".replace(".0", "")
        assert inside == (", ".join(f"{each.name} {each.thickness_mm:g}" for each in held.inside) or "-")
