"""Places of a pedal that can be pointed at in a photograph, and the camera that follows from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from mockup.comparison.beside.options import BesideOptions, named
from mockup.measure import camera as measured
from mockup.measure.frame import found_frame
from mockup.model.enclosure import Enclosure, faces
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.mesh import Floats
from mockup.model.scene import Body, Camera
from mockup.options import bad_option
from mockup.scene.projection import projected

FOOT = "-foot"
EDGES = ("near", "far", "left", "right")
_FIT_PX = 0.02  # of the picture's longer side: a camera that leaves more has been told something wrong; our choice

_SURE_PX = 0.002  # of it: one that leaves less is the one; our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Seen:
    """Where things are seen in a photograph: corners and parts by name (2,), and two points (2, 2) of each edge."""

    places: Mapping[str, Floats]
    lines: Mapping[str, Floats]

    @property
    def corners(self) -> dict[str, Floats]:
        """The corners where two lines meet, by name; `InputError` where two that ought to meet never do."""
        found = {}
        for along, across, foot in product(("near", "far"), ("left", "right"), ("", FOOT)):
            if along + foot in self.lines and across + foot in self.lines:
                one, two = (
                    np.cross(*np.column_stack([self.lines[each + foot], (1.0, 1.0)])) for each in (along, across)
                )
                meet = np.cross(one, two)
                if abs(meet[2]) < 1e-9 * np.abs(meet[:2]).max():
                    raise bad_option("line", f"{along} and {across} never meet", "look at their points again")
                found[f"{along}-{across}{foot}"] = meet[:2] / meet[2]
        return found


@dataclass(frozen=True, kw_only=True, eq=False)
class Found:
    """A camera, as it was fitted, for a photograph that sees `points` (n, 3) at `pixels` (n, 2), by name.

    Without `is_deep` all that it was found by lies in one plane: how long its lens is, is half a guess. `is_marked`:
    the printed marks told it, with its lens.
    """

    fit: measured.Camera
    names: tuple[str, ...]
    points: Floats
    pixels: Floats
    off_px: float
    is_deep: bool = True
    is_marked: bool = False

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height of the photograph."""
        return self.fit.size_px

    @property
    def camera(self) -> Camera:
        """The camera as pictures are taken with it, its lens straight."""
        ahead, down = self.fit.turn[2], self.fit.turn[1]
        far = float(np.linalg.norm(self.points.mean(axis=0) - self.fit.eye))
        eye, target, up = (tuple(each.tolist()) for each in (self.fit.eye, self.fit.eye + far * ahead, -down))
        return Camera(eye=eye, target=target, up=up, fov_deg=self.fit.fov_deg)


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


def edges(box: Enclosure) -> dict[str, Floats]:
    """Return both ends (2, 3) of each edge that a line may be laid along, by name."""
    at = corners(box)
    return {
        edge + foot: np.array([at[f"{each}{foot}"] for each in ends])
        for foot in ("", FOOT)
        for edge, ends in (
            ("near", ("near-left", "near-right")),
            ("far", ("far-left", "far-right")),
            ("left", ("far-left", "near-left")),
            ("right", ("far-right", "near-right")),
        )
    }


def seen(options: BesideOptions, known: Mapping[str, Floats]) -> Seen:
    """Return where corners, parts and edges are seen, in pixels."""
    lines: dict[str, Floats] = {}
    for text in options.line:
        name, ends = named("line", text, 4)
        if name.removesuffix(FOOT) not in EDGES:
            raise bad_option("line", f"there is no edge {name!r}", nearest(name, [*EDGES, *(e + FOOT for e in EDGES)]))
        lines[name] = np.array(ends).reshape(2, 2)
        if np.hypot(*(lines[name][1] - lines[name][0])) < 1.0:
            raise bad_option("line", f"both points of {name} are one", "give two that lie far apart")
    found = {}
    folded = {name.casefold(): name for name in known}
    for text in options.at:
        name, place = named("at", text, 2)
        if name.casefold() not in folded:
            raise bad_option("at", f"there is no corner or part {name!r}", nearest(name, known))
        found[folded[name.casefold()]] = np.array(place)
    return Seen(places=found, lines=lines)


def solved(
    box: Enclosure,
    known: Mapping[str, Floats],
    told: Seen,
    size_px: tuple[int, int],
    near: Found | None = None,
    *,
    is_quick: bool = False,
) -> Found:
    """Return the pinhole camera that sees known points and the box's edges where told; `InputError` where none does.

    A camera `near` it is where to start from, which takes a tenth of the time; where that leaves much, or would see
    the top from below, it is looked for from everywhere. `is_quick`: only where it would see the top from below.
    """
    places = {**told.corners, **told.places}
    names, count = tuple(places), len(told.lines) + len(told.places)
    points, pixels = np.array([known[name] for name in names]), np.array([places[name] for name in names])
    is_enough = len(told.lines) >= measured.LEAST_LINES and len(names) >= measured.LEAST_LINES
    if len(names) < measured.LEAST_POINTS and not is_enough:
        what = f"{count} lines and places are not enough for a camera"
        remedy = "give the four edges of the top with --line, and a lower edge or parts with --at"
        raise InputError(Fault(file="--line", what=what, remedy=remedy))
    ends = edges(box)
    lines = measured.Lines(
        points=np.array([ends[name] for name in told.lines]).reshape(-1, 2, 3),
        pixels=np.array(list(told.lines.values())).reshape(-1, 2, 2),
    )
    try:
        fit = None
        if near is not None:
            fit = measured.solved(points, pixels, size_px, lines=lines, has_lens=False, near=near.fit)
        is_good = fit is not None and (is_quick or fit.rms_px <= _SURE_PX * max(size_px))
        if fit is None or not is_good or fit.eye[2] <= box.height_mm:
            fit = measured.solved(points, pixels, size_px, lines=lines, has_lens=False)
    except ValueError as error:
        raise InputError(Fault(file="--at", what=str(error), remedy="look at the places again")) from None
    if not fit.rms_px <= _FIT_PX * max(size_px):
        worst = names[int(np.hypot(*fit.left_px.T).argmax())]
        what = f"no camera sees these places so: {fit.rms_px:.0f} px are left, most at {worst}"
        raise InputError(Fault(file="--at", what=what, remedy="look at that place again, and that left is left"))
    every = np.concatenate([points, lines.points.reshape(-1, 3)])
    is_deep = bool(np.linalg.matrix_rank(every - every.mean(axis=0), tol=1.0) == 3)
    return Found(fit=fit, names=names, points=points, pixels=pixels, off_px=fit.rms_px, is_deep=is_deep)


def by_marks(box: Enclosure, pixels: NDArray[np.uint8]) -> Found:
    """Return the camera of a photograph (h, w, 3) with the printed frame of marks on the top, its lens with it.

    Raises `ValueError` as `found_frame` does.
    """
    top = faces(box)["top"]
    return marked(box, found_frame(pixels, (top.width_mm, top.height_mm)).camera)


def marked(box: Enclosure, on_face: measured.Camera) -> Found:
    """Return a camera whose points are the top's (u right, v down, z into the box) as one whose points are the world's.

    It is `is_marked`.
    """
    over = np.diag([1.0, -1.0, -1.0])  # from the world's axes to the face's
    turn = on_face.turn @ over
    fit = replace(on_face, turn=turn, shift=on_face.shift - turn @ faces(box)["top"].to_world(np.zeros(2)))
    at = {name: point for name, point in corners(box).items() if not name.endswith(FOOT)}
    points = np.array(list(at.values()))
    return Found(fit=fit, names=tuple(at), points=points, pixels=fit.pixels(points), off_px=fit.rms_px, is_marked=True)


def scaled(found: Found, size_px: tuple[int, int]) -> Found:
    """Return the same camera for the same picture at another size."""
    share = size_px[0] / found.size_px[0]
    fit = replace(found.fit, size_px=size_px, focal=found.fit.focal * share, left_px=found.fit.left_px * share)
    return replace(found, fit=fit, pixels=found.pixels * share, off_px=found.off_px * share)


def px_per_mm(found: Found, point: Floats) -> float:
    """Return how many pixels a millimetre across the line of sight takes at a point (3,)."""
    across = found.camera.basis()[:3, 0]
    ends = projected(found.camera, found.size_px, np.array([point - across / 2, point + across / 2]))
    return float(np.hypot(*(ends[1] - ends[0])))
