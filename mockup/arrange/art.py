"""What is printed round parts that move: small films go along by themselves, the rest the builder has to draw anew."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.arrange.problem import Places
from mockup.checks.art.printed import printed_round
from mockup.geometry.planar import off_middle
from mockup.model.design import Design, Placement
from mockup.model.edit import Address, Edit, Move
from mockup.model.finish import Decal
from mockup.model.units import format_length

SMALL_MM = 45.0  # a film no wider and no higher belongs to the one part under it: our choice


@dataclass(frozen=True, kw_only=True)
class Along:
    """Edits of films that go along with their parts, and sentences about art that has to be moved in its picture."""

    edits: tuple[Edit, ...] = ()
    notes: tuple[str, ...] = ()


def drawn_along(design: Design, after: Places) -> Along:
    """Return what of a design's art has to move with its parts to their new places."""
    printed = printed_round(design)
    edits: dict[int, Edit] = {}
    notes: list[str] = []
    for old, new in zip(design.parts, after, strict=True):
        right, down = round(new.u_mm - old.u_mm, 6), round(new.v_mm - old.v_mm, 6)
        if not (right or down):
            continue
        for index, decal in enumerate(design.decals):
            if not _covers(decal, old):
                continue
            if _is_its_own(design, decal):
                address = Address(way=("decal", index), variant=design.variant)
                size = decal.width_mm, decal.height_mm
                edits[index] = Move(address=address, right_mm=right, down_mm=down, size_mm=size)
            elif old.name in printed and decal.art.file is not None:
                way = _way(right, down, design)
                notes.append(f"What {decal.art.name} shows round {old.name} has to move {way}, in the picture itself")
        if any(label.part == old.name and label.lettering is None for label in design.labels):
            notes.append(f"The lettering of {old.name} is part of the art: move it {_way(right, down, design)} there")
    return Along(edits=tuple(edits.values()), notes=tuple(dict.fromkeys(notes)))


def _covers(decal: Decal, part: Placement) -> bool:
    if decal.face != part.face or part.kind.mount != "panel":
        return False
    across, along = off_middle((part.u_mm, part.v_mm), (decal.u_mm, decal.v_mm), decal.rotation_deg)
    return abs(across) <= decal.width_mm / 2 and abs(along) <= decal.height_mm / 2


def _is_its_own(design: Design, decal: Decal) -> bool:
    """Return whether a film is small and lies over one part alone."""
    is_small = max(decal.width_mm, decal.height_mm) <= SMALL_MM
    return is_small and sum(_covers(decal, part) for part in design.parts) == 1


def _way(right_mm: float, down_mm: float, design: Design) -> str:
    """Return a move in words: ``1.2 mm right and 0.4 mm up``."""
    ways = ((right_mm, "right", "left"), (down_mm, "down", "up"))
    said = [f"{format_length(abs(mm), design.units)} {plus if mm > 0 else minus}" for mm, plus, minus in ways if mm]
    return " and ".join(said)
