"""Where the trade puts a part, as places in order of preference; whether there is room is asked elsewhere.

All of it is common practice without a source: pots in rows and mirrored pairs from the far edge, switches on the
centre line between them, a lamp over its footswitch, jacks that face each other, IN on the right and OUT on the left,
power at the far side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces

ROW_MM = 18.0  # from the far edge to the first row of knobs
STEP_MM = 2.0  # between two places that are tried along a line
LAMP_MM = 23.0  # from a footswitch to the lamp over it
FOOT_MM = 19.0  # from the near edge to a footswitch
SAME_MM = 1.0  # two parts so close to one line stand in one row
JACK_SHARE = 0.5  # of the box's length from the far edge to the jacks


@dataclass(frozen=True, kw_only=True)
class Spot:
    """A place that a part may be put at; of a pair, `twin` is where its other half would stand."""

    face: FaceName
    u_mm: float
    v_mm: float
    depth_mm: float = 0.0
    twin: tuple[float, float] | None = None

    def holds(self, part: Placement) -> Placement:
        """Return a part in this place."""
        return replace(part, face=self.face, u_mm=self.u_mm, v_mm=self.v_mm, depth_mm=self.depth_mm)


def spots(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the places that the trade would choose for a part, the first choice first; every one once."""
    seen: set[tuple[object, ...]] = set()
    for spot in _wished(design, part):
        key = (spot.face, round(spot.u_mm, 2), round(spot.v_mm, 2), round(spot.depth_mm, 1), spot.twin is None)
        if key not in seen:
            seen.add(key)
            yield spot


def _wished(design: Design, part: Placement) -> Iterator[Spot]:
    family = part.kind.family
    if part.kind.mount == "inside":
        yield from _inside(design, part)
    elif family == "jack":
        yield from _jack(design, part)
    elif family in ("dc-socket", "din-socket"):
        yield from _socket(design, part)
    elif family == "footswitch":
        yield from _footswitch(design, part)
    elif family == "lamp":
        yield from _lamp(design, part)
    elif part.kind.shaft is not None:
        yield from _turned(design, part)
    elif family in ("toggle", "slide-switch"):
        yield from _flicked(design, part)
    else:
        yield from _row(design, part, _first_row(design, part))


def _on_top(design: Design, part: Placement, *families: str) -> list[Placement]:
    """Return the other parts of some families on the top, all families where none is named."""
    return [
        each
        for each in design.parts
        if each.face == "top"
        and each.kind.mount == "panel"
        and each.name != part.name
        and (not families or each.kind.family in families)
    ]


def _turned(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the other half of a pair, the middle of a row, the column under a knob, then new rows of pairs."""
    top = faces(design.enclosure)["top"]
    middle = top.width_mm / 2
    knobs = [each for each in _on_top(design, part) if each.kind.shaft is not None]
    for each in knobs:
        if abs(each.u_mm - middle) > SAME_MM and not _at(knobs, 2 * middle - each.u_mm, each.v_mm):
            yield Spot(face="top", u_mm=2 * middle - each.u_mm, v_mm=each.v_mm)
    for v in dict.fromkeys(round(each.v_mm, 2) for each in knobs):
        yield Spot(face="top", u_mm=middle, v_mm=v)
    for v in _down(top, _first_row(design, part)):
        for each in knobs:
            if each.u_mm < middle - SAME_MM:
                yield Spot(face="top", u_mm=each.u_mm, v_mm=v, twin=(2 * middle - each.u_mm, v))
        for u in _inward(top):
            yield Spot(face="top", u_mm=u, v_mm=v, twin=(2 * middle - u, v))
        yield Spot(face="top", u_mm=middle, v_mm=v)


def _first_row(design: Design, part: Placement) -> float:
    """Return how far from the far edge the first row stands: as others do, else so that a large knob is clear."""
    wide = part.knob.diameter_mm / 2 + 8.0 if part.knob is not None else 0.0
    rows = [each.v_mm for each in _on_top(design, part) if each.kind.shaft is not None]
    return min(rows, default=max(ROW_MM, wide))


def _flicked(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the centre line between the knobs of a row, then down it, then pairs of switches."""
    top = faces(design.enclosure)["top"]
    middle = top.width_mm / 2
    others = _on_top(design, part, part.kind.family)
    for each in others:
        if abs(each.u_mm - middle) > SAME_MM and not _at(others, 2 * middle - each.u_mm, each.v_mm):
            yield Spot(face="top", u_mm=2 * middle - each.u_mm, v_mm=each.v_mm)
    yield from _row(design, part, _first_row(design, part))


def _row(design: Design, part: Placement, first: float) -> Iterator[Spot]:
    top = faces(design.enclosure)["top"]
    middle = top.width_mm / 2
    for v in (first, *_down(top, max(first - 4.0, 8.0))):
        yield Spot(face="top", u_mm=middle, v_mm=v)
    for v in _down(top, first):
        for u in _inward(top):
            yield Spot(face="top", u_mm=u, v_mm=v, twin=(2 * middle - u, v))


def _lamp(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the places over each footswitch that has no lamp, else over where one will stand."""
    top = faces(design.enclosure)["top"]
    lamps, feet = _on_top(design, part, "lamp"), _on_top(design, part, "footswitch")
    free = [foot for foot in feet if not any(abs(lamp.u_mm - foot.u_mm) <= SAME_MM for lamp in lamps)]
    below = [(foot.u_mm, foot.v_mm) for foot in free] or [(top.width_mm / 2, top.height_mm - FOOT_MM)]
    for u, v in below:
        for away in _steps(0.0, 60.0):
            yield Spot(face="top", u_mm=u, v_mm=v - LAMP_MM - away)
    for knob in _on_top(design, part):
        for v in (knob.v_mm + 14.0, knob.v_mm - 14.0):
            yield Spot(face="top", u_mm=knob.u_mm, v_mm=v)
    yield from _row(design, part, top.height_mm / 2)


def _footswitch(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the near edge: the middle, the other half of a pair, a quarter from either end, then farther in."""
    top = faces(design.enclosure)["top"]
    middle, feet = top.width_mm / 2, _on_top(design, part, "footswitch")
    for foot in feet:
        if abs(foot.u_mm - middle) > SAME_MM:
            yield Spot(face="top", u_mm=2 * middle - foot.u_mm, v_mm=foot.v_mm)
    rows = [*dict.fromkeys(round(foot.v_mm, 2) for foot in feet), *_up(top, top.height_mm - FOOT_MM)]
    for v in rows:
        yield Spot(face="top", u_mm=middle, v_mm=v)
        for share in (0.25, 0.2, 0.15, 0.3):
            yield Spot(face="top", u_mm=top.width_mm * share, v_mm=v)
            yield Spot(face="top", u_mm=top.width_mm * (1 - share), v_mm=v)


def _jack(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the right side for the first jack and the left for the second, facing each other, then the far side."""
    jacks = [each for each in design.parts if each.kind.family == "jack" and each.name != part.name]
    sides: list[FaceName] = ["right", "left"]
    sides.sort(key=lambda side: sum(each.face == side for each in jacks))
    sheets = faces(design.enclosure)
    for side in sides:
        for each in jacks:
            if each.face in ("left", "right") and each.face != side:
                yield Spot(face=side, u_mm=sheets[side].width_mm - each.u_mm, v_mm=each.v_mm)
    for side in sides:
        face = sheets[side]
        wish = face.width_mm * (1 - JACK_SHARE if side == "right" else JACK_SHARE)
        yield from _along(face, wish)
    yield from _along(sheets["far"], sheets["far"].width_mm * (0.25 if sides[0] == "right" else 0.75))


def _socket(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield the far side from its middle, as high as there is room, then the other sides from their far ends."""
    sheets = faces(design.enclosure)
    far, right = sheets["far"], sheets["right"]
    for face, wish in ((far, far.width_mm / 2), (sheets["left"], 20.0), (right, right.width_mm - 20.0)):
        for u in _outward(face, wish):
            for v in _levels(face):
                yield Spot(face=face.name, u_mm=u, v_mm=v)


def _along(face: Face, wish: float) -> Iterator[Spot]:
    """Yield places along a side at half its height, nearest to a wish first, then at other heights."""
    for v in _levels(face):
        for u in _outward(face, wish):
            yield Spot(face=face.name, u_mm=u, v_mm=v)


def _levels(face: Face) -> tuple[float, ...]:
    half = face.height_mm / 2
    return tuple(half + off for off in (0.0, -2.0, 2.0, -4.0, 4.0, 6.0, -6.0))


def _outward(face: Face, wish: float) -> Iterator[float]:
    for away in _steps(0.0, face.width_mm):
        for u in (wish - away, wish + away) if away else (wish,):
            if 0.0 < u < face.width_mm:
                yield u


def _inside(design: Design, part: Placement) -> Iterator[Spot]:
    """Yield places on the lid's side of the box, from the middle out, then nearer to the top."""
    box, top = design.enclosure, faces(design.enclosure)["top"]
    deep = box.body_mm - box.top_mm - part.kind.depth_mm
    places = [
        (u, v) for u in _steps(6.0, top.width_mm - 6.0, 5.0) for v in _steps(6.0, top.height_mm - 6.0, 5.0)
    ]  # fmt: skip
    middle = (top.width_mm / 2, top.height_mm / 2)
    places.sort(key=lambda at: abs(at[0] - middle[0]) + abs(at[1] - middle[1]))
    for depth in dict.fromkeys(max(deep - gap, 0.0) for gap in (1.0, 0.0, 3.0, 6.0, 10.0)):
        for u, v in [middle, *places]:
            yield Spot(face="top", u_mm=u, v_mm=v, depth_mm=depth)


def _inward(top: Face) -> Iterator[float]:
    """Yield columns left of the middle, a quarter of the width first."""
    quarter = top.width_mm / 4
    for away in _steps(0.0, quarter):
        yield from (quarter + away, quarter - away) if away else (quarter,)


def _down(face: Face, start: float) -> list[float]:
    return list(_steps(start, face.height_mm))


def _up(face: Face, start: float) -> list[float]:
    return [v for v in reversed(_steps(0.0, start)) if v > 0] if start > 0 else []


def _steps(low: float, high: float, step: float = STEP_MM) -> Sequence[float]:
    return [low + index * step for index in range(max(int((high - low) / step) + 1, 0))]


def _at(parts: Sequence[Placement], u: float, v: float) -> bool:
    return any(abs(each.u_mm - u) <= SAME_MM and abs(each.v_mm - v) <= SAME_MM for each in parts)
