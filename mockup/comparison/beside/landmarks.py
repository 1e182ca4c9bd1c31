"""Places of a pedal that can be pointed at in a photograph, and the camera that follows from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from mockup.comparison.beside.options import BesideOptions, named
from mockup.measure import camera as measured
from mockup.model.enclosure import Enclosure, faces
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.mesh import Floats
from mockup.model.scene import Body, Camera
from mockup.options import bad_option
from mockup.scene.projection import projected

FOOT = "-foot"
EDGES = ("near", "far", "left", "right")
_FIT_PX = 0.02  # of the picture's longer side: a camera that leaves more has been told something wrong; our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Found:
    """A camera for pictures of `size_px`; `points` (n, 3) and `pixels` (n, 2) are what it was found by, by name."""

    camera: Camera
    size_px: tuple[int, int]
    names: tuple[str, ...]
    points: Floats
    pixels: Floats
    off_px: float


def corners(box: Enclosure) -> dict[str, Floats]:
    """Return the box's eight sharp corners (3,), as if nothing were rounded: where the lines of its edges meet."""
    top = faces(box)["top"]
    found = {}
    for along, across in product(("near", "far"), ("left", "right")):
        u, v = top.width_mm * (across == "right"), top.height_mm * (along == "near")
        found[f"{along}-{across}"] = top.to_world(np.array([u, v]))
        x, y = box.width_mm / 2 * (1 if across == "right" else -1), box.length_mm / 2 * (1 if along == "far" else -1)
        found[f"{along}-{across}{FOOT}"] = np.array([x, y, 0.0])
    return found


def tops(bodies: Sequence[Body]) -> dict[str, Floats]:
    """Return the middle of the top of each part (3,): of what stands highest on it."""
    found: dict[str, list[Floats]] = {}
    for body in bodies:
        if body.part is not None and body.group == "hardware":
            found.setdefault(body.part, []).append(body.mesh.vertices)
    middles = {}
    for part, all_points in found.items():
        points = np.concatenate(all_points)
        high = points[points[:, 2] > points[:, 2].max() - 0.5]
        middles[part] = (high.min(axis=0) + high.max(axis=0)) / 2
    return middles


def seen(options: BesideOptions, known: Mapping[str, Floats]) -> dict[str, Floats]:
    """Return where corners and parts are seen, in pixels (2,): those named, and those where two lines meet."""
    lines: dict[str, Floats] = {}
    for text in options.line:
        name, ends = named("line", text, 4)
        if name.removesuffix(FOOT) not in EDGES:
            raise bad_option("line", f"there is no edge {name!r}", nearest(name, [*EDGES, *(e + FOOT for e in EDGES)]))
        first, second = np.array([*ends[:2], 1.0]), np.array([*ends[2:], 1.0])
        if np.hypot(*(second - first)[:2]) < 1.0:
            raise bad_option("line", f"both points of {name} are one", "give two that lie far apart")
        lines[name] = np.cross(first, second)
    found = {}
    for along, across, foot in product(("near", "far"), ("left", "right"), ("", FOOT)):
        if along + foot in lines and across + foot in lines:
            meet = np.cross(lines[along + foot], lines[across + foot])
            if abs(meet[2]) < 1e-9 * np.abs(meet[:2]).max():
                raise bad_option("line", f"{along} and {across} never meet", "look at their points again")
            found[f"{along}-{across}{foot}"] = meet[:2] / meet[2]
    folded = {name.casefold(): name for name in known}
    for text in options.at:
        name, place = named("at", text, 2)
        if name.casefold() not in folded:
            raise bad_option("at", f"there is no corner or part {name!r}", nearest(name, known))
        found[folded[name.casefold()]] = np.array(place)
    return found


def solved(known: Mapping[str, Floats], places: Mapping[str, Floats], size_px: tuple[int, int]) -> Found:
    """Return the pinhole camera that sees known points at their pixels; `InputError` where there is none."""
    names = tuple(places)
    points, pixels = np.array([known[name] for name in names]), np.array([places[name] for name in names])
    if len(names) < measured.LEAST_POINTS:
        what = f"{len(names)} places are not enough for a camera, which needs {measured.LEAST_POINTS}"
        remedy = "give the four edges of the top with --line, and two lower corners or parts with --at"
        raise InputError(Fault(file="--at", what=what, remedy=remedy))
    if np.linalg.matrix_rank(points - points.mean(axis=0), tol=1.0) < 3:
        remedy = "add a lower corner, such as --at near-left-foot=X,Y, or a knob"
        raise InputError(Fault(file="--at", what="all places lie in one plane", remedy=remedy))
    try:
        fit = measured.solved(points, pixels, size_px, has_lens=False)
    except ValueError as error:
        raise InputError(Fault(file="--at", what=str(error), remedy="look at the places again")) from None
    if fit.rms_px > _FIT_PX * max(size_px):
        worst = names[int(np.hypot(*fit.left_px.T).argmax())]
        what = f"no camera sees these places so: {fit.rms_px:.0f} px are left, most at {worst}"
        raise InputError(Fault(file="--at", what=what, remedy="look at that place again, and that left is left"))
    ahead, down = fit.turn[2], fit.turn[1]
    far = float(np.linalg.norm(points.mean(axis=0) - fit.eye))
    eye, target, up = (tuple(each.tolist()) for each in (fit.eye, fit.eye + far * ahead, -down))
    taken = Camera(eye=eye, target=target, up=up, fov_deg=fit.fov_deg)
    return Found(camera=taken, size_px=size_px, names=names, points=points, pixels=pixels, off_px=fit.rms_px)


def scaled(found: Found, size_px: tuple[int, int]) -> Found:
    """Return the same camera for the same picture at another size."""
    share = size_px[0] / found.size_px[0]
    return replace(found, size_px=size_px, pixels=found.pixels * share, off_px=found.off_px * share)


def px_per_mm(found: Found, point: Floats) -> float:
    """Return how many pixels a millimetre across the line of sight takes at a point (3,)."""
    across = found.camera.basis()[:3, 0]
    ends = projected(found.camera, found.size_px, np.array([point - across / 2, point + across / 2]))
    return float(np.hypot(*(ends[1] - ends[0])))
