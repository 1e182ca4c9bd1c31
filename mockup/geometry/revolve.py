"""Solids of revolution with their true normals, plain or fluted."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.geometry.planar import FINE_CHORD_MM, arc_steps
from mockup.model.mesh import Floats, Ints, Mesh
from mockup.model.shape import Turned

CRISP_DEG = 30.0  # a profile that turns by more than this has an edge there: the contract of `Turned`
STRAIGHT_RATIO = 3.0  # a segment this much longer than its neighbour is a line, not a chord: practice, no source
LEAST_AROUND = 48  # steps round the smallest turned part, for smooth silhouettes: common practice, no source
GROOVE_SHARE = 0.7  # share of a flute's pitch that its groove takes: common practice, no source
LEAST_GROOVE_MM = 1e-3  # shallower than this nobody sees: common practice, no source
GROOVE_STEPS = 8  # steps across one groove, at least: common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class _Rails:
    """The profile as drawn: `points` (n, 2) and `normals` (n, 2) as (radius, z), `edges` (m, 2) into them."""

    points: Floats
    normals: Floats
    edges: Ints


@dataclass(frozen=True, kw_only=True, eq=False)
class _Columns:
    """The way round: `angle` (n,) radians, `groove` (n,) 0 to 1 and its `slope` per radian, `edges` (m, 2)."""

    angle: Floats
    groove: Floats
    slope: Floats
    edges: Ints


def turned_problem(solid: Turned) -> str | None:
    """Return what makes a turned solid impossible, one plain sentence without full stop, or None."""
    points = np.array(solid.profile, dtype=np.float64).reshape(-1, 2)
    if len(points) < 3:
        return "a profile needs at least three points"
    if not np.isfinite(points).all():
        return "a profile needs finite numbers"
    if (points[:, 0] < 0).any():
        return "a profile must not cross its axis (radius below 0)"
    twice_area = float((points[:, 0] * np.roll(points[:, 1], -1) - np.roll(points[:, 0], -1) * points[:, 1]).sum())
    if twice_area <= 0:
        return "a profile must run from the lowest point up along the outside (counter-clockwise) and enclose an area"
    if _crosses_itself(points):
        return "a profile must not cross itself"
    if solid.flutes < 0 or solid.flute_depth_mm < 0:
        return "flutes must not be negative"
    if solid.flutes and solid.flute_depth_mm > 0.8 * points[:, 0].max():
        return "flutes must be less deep than four fifths of the radius they are cut into"
    return None


def revolved(solid: Turned, chord_mm: float = FINE_CHORD_MM) -> Mesh:
    """Return a closed mesh of a turned solid, outward normals, about its own axis.

    A profile that does not touch the axis closes on itself, as a washer does. Flutes run out
    towards `flute_from_mm`: a groove reaches its full depth at the largest radius, or where the
    radius is twice the depth above `flute_from_mm`. Raises `ValueError` where the solid is impossible.
    """
    problem = turned_problem(solid)
    if problem is not None:
        raise ValueError(problem)
    rails = _rails(np.array(solid.profile, dtype=np.float64))
    largest = float(rails.points[:, 0].max())
    around = max(LEAST_AROUND, 4 * math.ceil(arc_steps(largest, 2 * math.pi, chord_mm) / 4))
    is_fluted = solid.flutes > 0 and solid.flute_depth_mm > LEAST_GROOVE_MM
    columns = _fluted(solid, around, chord_mm) if is_fluted else _plain(around)
    depth, depth_slope = np.zeros(len(rails.points)), np.zeros(len(rails.points))
    if is_fluted:
        depth, depth_slope = _depth(solid, rails, largest)
    mesh = _swept(rails, columns, depth, depth_slope)
    return _placed(mesh, solid)


def _rails(profile: Floats) -> _Rails:
    """Return the profile's edges with smooth or crisp normals; what runs along the axis is left out."""
    steps = np.roll(profile, -1, axis=0) - profile
    profile = profile[np.linalg.norm(steps, axis=1) > 1e-9]
    following = np.roll(profile, -1, axis=0)
    is_axis = (profile[:, 0] == 0) & (following[:, 0] == 0)
    along = following - profile
    length = np.linalg.norm(along, axis=1)
    normal = np.stack([along[:, 1], -along[:, 0]], axis=1) / length[:, None]
    normal[normal == 0] = 0.0  # no negative zeros
    count = len(profile)
    start, end = normal.copy(), normal.copy()
    is_cap = (normal[:, 0] == 0) & ((profile[:, 0] == 0) | (following[:, 0] == 0))
    for edge in range(count):
        before = edge - 1
        if is_axis[edge] or is_axis[before]:
            continue
        if _turn_deg(normal[before], normal[edge]) <= CRISP_DEG:
            end[before] = start[edge] = _between(before, edge, normal, length, is_cap)
    for edge in (each for each in range(count) if not is_axis[each]):  # where a dome meets the axis it is level
        for at, side in ((profile[edge], start), (following[edge], end)):
            level = np.array([0.0, math.copysign(1.0, normal[edge, 1])])
            if at[0] == 0 and _turn_deg(normal[edge], level) <= CRISP_DEG / 2:
                side[edge] = level
    rows = np.concatenate(
        [np.concatenate([profile, start], axis=1)[~is_axis], np.concatenate([following, end], axis=1)[~is_axis]]
    )
    unique, index = np.unique(rows, axis=0, return_inverse=True)
    return _Rails(points=unique[:, :2], normals=unique[:, 2:], edges=index.reshape(2, -1).T)


def _between(before: int, after: int, normal: Floats, length: Floats, is_cap: NDArray[np.bool_]) -> Floats:
    """Return the smooth normal between two edges of the profile.

    Two chords of one circle share the normal of the circle through their three points; a line that
    runs into an arc keeps its own, so that flats stay flat.
    """
    first, second = length[before], length[after]
    if is_cap[before] != is_cap[after]:
        return np.asarray(normal[before] if is_cap[before] else normal[after])
    if first > STRAIGHT_RATIO * second:
        return np.asarray(normal[before])
    if second > STRAIGHT_RATIO * first:
        return np.asarray(normal[after])
    mixed = second * normal[before] + first * normal[after]
    return np.asarray(mixed / np.linalg.norm(mixed))


def _plain(around: int) -> _Columns:
    index = np.arange(around)
    zero = np.zeros(around)
    edges = np.stack([index, np.roll(index, -1)], axis=1)
    return _Columns(angle=2 * math.pi * index / around, groove=zero, slope=zero, edges=edges)


def _fluted(solid: Turned, around: int, chord_mm: float) -> _Columns:
    """Return the way round a fluted solid: hollow grooves with crisp lands between them.

    Across a groove the depth is a parabola; n steps leave an error of depth / n^2.
    """
    flutes = solid.flutes
    needed = max(around * GROOVE_SHARE / flutes, math.sqrt(solid.flute_depth_mm / chord_mm), GROOVE_STEPS)
    pitch = 2 * math.pi / flutes
    half = GROOVE_SHARE * pitch / 2
    hollow = 2 * math.ceil(needed / 2)
    land = max(2, math.ceil(around * (1 - GROOVE_SHARE) / flutes))
    across = np.linspace(-1.0, 1.0, hollow + 1)
    over = np.linspace(half, pitch - half, land + 1)
    angle = np.concatenate([across * half, over])
    groove = np.concatenate([1 - across**2, np.zeros(land + 1)])
    slope = np.concatenate([-2 * across / half, np.zeros(land + 1)])
    groove[[0, hollow]] = 0.0
    size = len(angle)
    inner = np.concatenate([np.arange(hollow), hollow + 1 + np.arange(land)])
    # the last column of one pitch and the first of the next are one direction: written once, so that they match
    angles = (np.arange(flutes)[:, None] * pitch + angle[None, :]) % (2 * math.pi)
    angles[:, hollow + 1] = angles[:, hollow]
    angles[:, -1] = np.roll(angles[:, 0], -1)
    start = (np.arange(flutes) * size)[:, None] + inner[None, :]
    edges = np.stack([start.ravel(), start.ravel() + 1], axis=1)
    return _Columns(angle=angles.ravel(), groove=np.tile(groove, flutes), slope=np.tile(slope, flutes), edges=edges)


def _depth(solid: Turned, rails: _Rails, largest: float) -> tuple[Floats, Floats]:
    """Return the grooves' depth at each rail, and its slope along the radius (mm per mm).

    The slope is that of the edges that meet there, since between its ends an edge is drawn straight.
    """
    full = solid.flute_depth_mm
    low = min(solid.flute_from_mm, largest - 1.2 * full)  # a steeper run-out would fold the surface
    radius = rails.points[:, 0]
    depth = full * np.clip((radius - low) / min(2 * full, largest - low), 0.0, 1.0)
    rise, run = (values[rails.edges[:, 1]] - values[rails.edges[:, 0]] for values in (depth, radius))
    slope = np.divide(rise, run, out=np.zeros_like(run), where=np.abs(run) > 1e-9)
    total, count = np.zeros_like(radius), np.zeros_like(radius)
    for end in (0, 1):
        np.add.at(total, rails.edges[:, end], slope)
        np.add.at(count, rails.edges[:, end], 1.0)
    return depth, total / count


def _swept(rails: _Rails, columns: _Columns, depth: Floats, depth_slope: Floats) -> Mesh:
    """Return every rail swept round: radius = r - depth(r) groove(angle), with the surface's own normals."""
    r, z = rails.points[:, :1], rails.points[:, 1:]
    radius = r - depth[:, None] * columns.groove
    round_slope = -depth[:, None] * columns.slope
    radius_slope = 1 - depth_slope[:, None] * columns.groove
    cos, sin = np.cos(columns.angle), np.sin(columns.angle)
    vertices = np.stack([radius * cos, radius * sin, np.broadcast_to(z, radius.shape)], axis=-1)
    safe = np.where(radius > 0, radius, 1.0)  # on the axis any positive factor gives the same direction
    outward, upward = rails.normals[:, :1], rails.normals[:, 1:]
    radial = safe * outward
    tangential = -round_slope * outward
    axial = safe * radius_slope * upward
    normals = np.stack([radial * cos - tangential * sin, radial * sin + tangential * cos, axial], axis=-1)
    normals /= np.linalg.norm(normals, axis=-1, keepdims=True)
    across = len(columns.angle)
    low, high = rails.edges[:, :1], rails.edges[:, 1:]
    here, there = columns.edges[:, 0][None, :], columns.edges[:, 1][None, :]
    corners = [low * across + here, low * across + there, high * across + there, high * across + here]
    on_axis_low = np.broadcast_to(rails.points[low, 0] == 0, corners[0].shape)
    on_axis_high = np.broadcast_to(rails.points[high, 0] == 0, corners[0].shape)
    first = np.stack([corners[0], corners[1], corners[2]], axis=-1)[~on_axis_low]
    second = np.stack([corners[0], corners[2], corners[3]], axis=-1)[~on_axis_high]
    return Mesh(vertices=vertices.reshape(-1, 3), normals=normals.reshape(-1, 3), faces=np.concatenate([first, second]))


def _placed(mesh: Mesh, solid: Turned) -> Mesh:
    """Lean the solid towards +y about its pivot, then shift it to where it stands."""
    lean = math.radians(solid.tilt_deg)
    pivot = np.array([0.0, 0.0, solid.pivot_z_mm])
    pose = np.eye(4)
    pose[1:3, 1:3] = [[math.cos(lean), math.sin(lean)], [-math.sin(lean), math.cos(lean)]]
    pose[:3, 3] = pivot - pose[:3, :3] @ pivot + np.array([*solid.at, 0.0])
    return mesh.moved(pose)


def _turn_deg(first: Floats, second: Floats) -> float:
    return math.degrees(math.atan2(abs(first[0] * second[1] - first[1] * second[0]), float(first @ second)))


def _crosses_itself(points: Floats) -> bool:
    """True where two edges of a closed polygon that are not neighbours cross."""
    ends = np.roll(points, -1, axis=0)

    def side(a: Floats, b: Floats, c: Floats) -> Floats:
        return (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])

    a, b, c, d = points[:, None], ends[:, None], points[None, :], ends[None, :]
    return bool(((side(a, b, c) * side(a, b, d) < -1e-18) & (side(c, d, a) * side(c, d, b) < -1e-18)).any())
