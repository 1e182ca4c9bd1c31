"""Rows lined up with a pinned control: every place is worked out by hand beside its case."""

from __future__ import annotations

import pytest

from mockup.arrange.layouts.controls import Wanted
from mockup.arrange.layouts.list_file import wanted
from mockup.arrange.layouts.rows import plans
from mockup.arrange.layouts.schemes import Scheme, schemes
from mockup.arrange.layouts.slots import Row, pinned_row
from mockup.arrange.relations import across_middle, in_middle, on_line
from mockup.enclosure.sizes import SIZES
from mockup.layout.resolve import favourite_style
from mockup.model.enclosure import faces

BOX = SIZES["121x66x39"]
MIDDLE = faces(BOX)["top"].width_mm / 2


def places(row: Row) -> list[tuple[str, float]]:
    return [(name, round(row.off_mm(index), 6)) for index, name in enumerate(row.names)]


@pytest.mark.parametrize(
    ("names", "pins", "stand"),
    [
        # two in a row, one pinned 16 mm left: the other 16 mm right
        ("AB", {"A": -16.0}, [("A", -16.0), ("B", 16.0)]),
        # the first in the list is pinned on the right: it is the second of the row
        ("AB", {"A": 16.0}, [("B", -16.0), ("A", 16.0)]),
        # three, one pinned in the middle: it stands there, the others at the usual 24 mm
        ("ABC", {"C": 0.0}, [("A", -24.0), ("C", 0.0), ("B", 24.0)]),
        # three, an outer one pinned at 20 mm: so do the others
        ("ABC", {"B": 20.0}, [("A", -20.0), ("C", 0.0), ("B", 20.0)]),
        # two pinned at 20 mm either side, one free: in the middle
        ("ABC", {"A": 20.0, "B": -20.0}, [("B", -20.0), ("C", 0.0), ("A", 20.0)]),
        # two, one in the middle: no mirror, so the other stands on at the usual 24 mm
        ("AB", {"A": 0.0}, [("A", 0.0), ("B", 24.0)]),
    ],
)
def test_a_row_lines_up_with_what_is_pinned(names: str, pins: dict[str, float], stand: list[tuple[str, float]]) -> None:
    row = Row(names=tuple(names), v_mm=30.0, apart_mm=24.0)
    found = pinned_row(row, {name: (off, 22.0) for name, off in pins.items()}, 33.0)
    assert found.v_mm == 22.0
    assert places(found) == stand


def four(pinned: str) -> Wanted:
    pot = '[[part]]\nname = "{}"\nkind = "pot-16"\n'
    text = "".join(pot.format(name) + (pinned if name == "C" else "") for name in "ABCD")
    return wanted(text + '[[part]]\nname = "S"\nkind = "footswitch"\n', "list")


def test_every_draft_with_a_pinned_part_in_a_row_is_straight_and_mirrored() -> None:
    """C is pinned 15 mm left of the middle and 40 mm down: who shares its row stands 15 mm right, 40 mm down."""
    given = four(f"left = {MIDDLE - 15.0 - faces(BOX)['top'].left_edge(40.0)}\ntop = 40\n")
    first = next(iter(schemes(given, BOX, favourite_style())))
    at = {part.name: (round(part.u_mm - MIDDLE, 3), round(part.v_mm, 3)) for part in first.parts}
    assert at["C"] == (-15.0, 40.0)
    assert (15.0, 40.0) in at.values()
    assert all(each.is_kept(first.parts) for each in first.relations)


def test_pinned_parts_of_two_heights_never_share_a_row() -> None:
    given = four("left = 18\ntop = 40\n")
    for plan in plans(given, {"A": 20.0, "C": 40.0}):
        for row in plan.rows:
            assert not {"A", "C"} <= set(row) or plan.liking >= 3.0


def test_what_is_mirrored_may_leave_its_row_but_not_its_partner() -> None:
    """A and B mirror each other about 30 and stand level, C stays in the middle; that all are level is let go."""
    order = (across_middle("A", "B", 60.0), on_line("row", "A", "C", 1), on_line("row", "C", "B", 1))
    scheme = Scheme(about="", parts=(), relations=(*order, in_middle("C", 30.0), on_line("over", "L", "C", 0)))
    assert set(scheme.mirrored) == {
        across_middle("A", "B", 60.0),
        on_line("pair", "A", "B", 1),
        in_middle("C", 30.0),
        on_line("over", "L", "C", 0),
    }
