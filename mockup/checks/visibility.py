"""Lettering and small art that knobs and other hardware hide, from above and from the player's eye."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from mockup.checks import Case, part_text
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.art.regions import Region, regions
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import (
    Shadow,
    from_above,
    hidden_share,
    is_seen,
    lit_faces,
    meets,
    player_eye,
    shadows,
)
from mockup.model.edit import Address, Move
from mockup.model.enclosure import FaceName
from mockup.model.finding import Fact, Finding, Quantity, Subject, mm

LIMITS = """
[eye_low_mm]
value = 1405.0
about = "standing eye height of a short player (women, 5th percentile, no shoes)"
source = "Pheasant, Bodyspace, as quoted in teaching notes"

[eye_high_mm]
value = 1745.0
about = "standing eye height of a tall player (men, 95th percentile, no shoes)"
source = "Pheasant, Bodyspace, as quoted in teaching notes"
"""
READS = ("decals", "enclosure", "labels", "parts")
_DRIVE = part_text("DRIVE", "pot-16", top=30, knob={"style": "barrel", "diameter": 18})
_LABEL = '[[label]]\ntext = "LOW"\nleft = 26\nwidth = 6\nheight = 3\ntop = {}\n'
PLANTED = Case(_DRIVE + _LABEL.format(28))
SOUND = Case(_DRIVE + _LABEL.format(60))
ABOVE, USUAL = "above", "eye_mm"  # from straight above, and from the eye of a usual player
EYES = ("eye_low_mm", USUAL, "eye_high_mm")
STEP_MM, FARTHEST_MM = 0.2, 15.0  # how finely and how far a better place is looked for: our choice

Seat = tuple[Shadow, ...]


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for face in lit_faces(built):
        seats = _seats(built, face)
        for piece in (each for each in pieces(built) if each.label.face == face):
            yield from _of_piece(built, piece, seats)
        yield from _of_regions(built, [each for each in regions(built) if each.face == face], seats)


@dataclass(frozen=True, eq=False)
class Hidden:
    """How much of something is hidden (0 to 1) from each seat that sees its face, and by what, worst first."""

    shares: Mapping[str, float]
    by: tuple[str, ...]

    @property
    def worst(self) -> float:
        """The larger share of the two that count: from above, and from the usual eye."""
        return max(self.shares[ABOVE], self.shares.get(USUAL, 0.0))

    @property
    def facts(self) -> dict[str, Fact]:
        """The shares by name, for the template `seen`."""
        eyes = [self.shares[name] for name in EYES if name in self.shares] or [0.0]
        named = {
            "above": self.shares[ABOVE],
            "player": self.shares.get(USUAL, 0.0),
            "low": min(eyes),
            "high": max(eyes),
        }
        return {name: Quantity(round(100 * share), "%") for name, share in named.items()}

    @property
    def seen(self) -> str:
        """The template that says how much is hidden."""
        said = "{above} of it from straight above"
        if USUAL in self.shares:
            said += ", {player} from a standing player's eye"
            said += " ({low} to {high} from short to tall)" if self.facts["low"] != self.facts["high"] else ""
        return said


def hidden(found: Mapping[str, tuple[float, tuple[str, ...]]]) -> Hidden:
    """Return what is hidden, from the share and the parts that hide it for each seat."""
    shares = {name: share for name, (share, _) in found.items()}
    return Hidden(shares, tuple(dict.fromkeys(part for _, by in found.values() for part in by)))


def _seats(built: Built, face: FaceName) -> dict[str, Seat]:
    """Return what is hidden from straight above, and from each eye that sees the face."""
    seats = {ABOVE: from_above(built)[face]}
    for name in EYES:
        eye = player_eye(built, built.limits[name].value, built.limits["stance_mm"].value)
        if is_seen(built, face, eye):
            seats[name] = shadows(built, face, eye)
    return seats


def _of_piece(built: Built, piece: Piece, seats: Mapping[str, Seat]) -> Iterator[Finding]:
    limit = built.limits["hidden_percent"]
    found = hidden({name: hidden_share(piece.box(), seat) for name, seat in seats.items()})
    if 100 * found.worst > limit.value:
        move = _better_place(built, piece, seats, limit.value / 100)
        way = ("right" if move[0] > 0 else "left") if move[0] else ("down" if move[1] > 0 else "up") if move[1] else ""
        is_drawn = any(move) and piece.label.lettering is not None  # by us: the layout alone says where it stands
        address = Address(way=("label", piece.label.text))
        yield Finding(
            severity="warn",
            title="Lettering hidden",
            what="{first} is hidden by {parts}: " + found.seen,
            subjects=(piece.subject, *Subject.parts(*found.by)),
            edits=(Move(address=address, right_mm=move[0], down_mm=move[1]),) if is_drawn else (),
            remedy="Move {first} {far} {way}" if way else "Move the label, or choose a smaller or lower knob",
            measured=Quantity(round(100 * found.worst, 1), "%"),
            limit=limit,
            facts={"parts": Subject.parts(*found.by[:2]), "far": mm(max(map(abs, move))), "way": way, **found.facts},
            marks=(piece.mark,),
        )


def _better_place(built: Built, piece: Piece, seats: Mapping[str, Seat], most: float) -> tuple[float, float]:
    """Return the shortest straight move, right and down, that frees a label on every seat; none is (0, 0).

    It keeps the label on the flat of its face.
    """
    left, top, right, bottom = built.faces[piece.label.face].flat
    box, best, shortest = piece.box(), (0.0, 0.0), FARTHEST_MM + STEP_MM
    used = [seats[name] for name in (ABOVE, USUAL) if name in seats]
    for across, down in ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0)):
        for step in range(1, int(FARTHEST_MM / STEP_MM) + 1):
            shift = round(step * STEP_MM, 6)
            moved = box + np.array([across, down]) * shift
            (low_u, low_v), (high_u, high_v) = moved.min(axis=0), moved.max(axis=0)
            if shift >= shortest or low_u < left or low_v < top or high_u > right or high_v > bottom:
                break
            if all(hidden_share(moved, seat)[0] <= most for seat in used):
                best, shortest = (across * shift, down * shift), shift
    return best


def _of_regions(built: Built, here: Sequence[Region], seats: Mapping[str, Seat]) -> Iterator[Finding]:
    """Yield one note for all small art that hardware covers, and advice on what only a standing player does not see.

    A scale runs behind its own knob from where a player stands, whatever the layout.
    """
    limit = built.limits["hidden_percent"]
    hides = [(region, hidden({name: _share_of_ink(region, seat) for name, seat in seats.items()})) for region in here]
    covered = [case for case in hides if 100 * case[1].shares[ABOVE] > limit.value]
    if covered:
        region, worst = max(covered, key=lambda case: case[1].shares[ABOVE])
        parts = Subject.parts(*dict.fromkeys(case[1].by[0] for case in covered))
        yield Finding(
            severity="note",
            title="Art under hardware",
            what=("{many} small pieces of art lie" if len(covered) > 1 else "one small piece of art lies")
            + " under {subjects}; of the worst, {width} by {height}, {above} is covered",
            subjects=parts,
            remedy="Move anything that must stay visible",
            measured=Quantity(round(100 * worst.shares[ABOVE], 1), "%"),
            limit=limit,
            facts={
                "many": str(len(covered)),
                **{name: mm(round(side)) for name, side in zip(("width", "height"), region.size_mm, strict=True)},
                **worst.facts,
            },
            marks=tuple(case[0].mark for case in covered),
        )
    behind = [case for case in hides if case not in covered and 100 * case[1].worst > limit.value]
    if behind:
        parts = Subject.parts(*dict.fromkeys(case[1].by[0] for case in behind))
        yield Finding(
            severity="note",
            is_advice=True,
            title="Art behind hardware",
            what="small art behind {subjects} is hidden from a standing player",
            subjects=parts,
            limit=limit,
            measured=Quantity(round(100 * max(case[1].worst for case in behind), 1), "%"),
            marks=tuple(case[0].mark for case in behind),
        )


def _share_of_ink(region: Region, seat: Seat) -> tuple[float, tuple[str, ...]]:
    """Return which share of a region's ink lies in shadow, by drawing the shadows over it."""
    near = [shadow for shadow in seat if meets(region.box, shadow)]
    if not near:
        return 0.0, ()
    rows, columns = region.ink.shape
    each = []
    total = np.zeros(region.ink.shape, bool)
    for shadow in near:
        picture = Image.new("1", (columns, rows))
        pen = ImageDraw.Draw(picture)
        for polygon in shadow.outline:
            pen.polygon([(x, y) for x, y in region.to_cells(polygon).tolist()], fill=1)
        under = np.asarray(picture, bool) & region.ink
        total |= under
        each.append((under.sum() / region.ink.sum(), shadow.part))
    return float(total.sum() / region.ink.sum()), tuple(part for own, part in sorted(each, reverse=True) if own > 0)
