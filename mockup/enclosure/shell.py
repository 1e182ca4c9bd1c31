"""The box as solids: a hollow drafted body with its holes, and its lid."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mockup.enclosure.cutters import cutter, problems
from mockup.enclosure.lid import CORE_MM, REACH_MM, lid, screw_places, screw_size
from mockup.enclosure.skin import inner_skin, lofted, outer_skin
from mockup.geometry.planar import CHORD_MM
from mockup.geometry.solids import Solid, cut, solid
from mockup.geometry.tessellate import tessellate
from mockup.memo import memoize
from mockup.model.bore import Bore, BoreProblem
from mockup.model.enclosure import Enclosure, faces
from mockup.model.material import CAST_ALUMINIUM
from mockup.model.mesh import Mesh, joined
from mockup.model.shape import Extruded, Outline, Point, Turned

DRAFT_LIMIT_DEG = 15.0  # far beyond any casting (1 to 2 degrees): common practice, no source
SCREW_DEPTH_MM = 9.0  # threaded hole in a post: common practice, no source
POST_END_MM = 1.5  # solid metal between that hole and the ceiling, at least: common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Shell:
    """A drilled box, in the world frame.

    `body` by region: ``top`` (with its rounded edge), ``near``, ``far``, ``left``, ``right`` (each
    with the nearer halves of its corners), all with face coordinates; ``rim``, ``inner`` (bare
    casting inside, screw posts included) and one ``bore:NAME`` per hole (bare drilled metal).
    `lid` by region: see `lid.lid`. `solid` is the body for measuring and fit checks. `problems` says what
    is wrong with the holes; the solid is sound even then.
    """

    body: dict[str, Mesh]
    lid: dict[str, Mesh]
    solid: Solid
    problems: tuple[BoreProblem, ...]


@memoize
def build(box: Enclosure, bores: Sequence[Bore] = (), chord_mm: float = CHORD_MM) -> Shell:
    """Return a box with its holes cut, chord error at most `chord_mm` on every single curve.

    Raises `ValueError` where the box is impossible (see `shell_problem`), an outline is, or two bores
    share a name. Bad holes are cut all the same and named in `problems`.
    """
    count = Counter(bore.name for bore in bores)
    doubles = sorted(name for name in count if count[name] > 1)
    if doubles:
        raise ValueError(f"two holes share the name {doubles[0]}")
    body_faces, undrilled = faces(box), undrilled_body(box, chord_mm)
    cutters = [cutter(box, body_faces, bore, chord_mm) for bore in bores]
    drilled = cut(undrilled, cutters)
    return Shell(
        body=_shown(drilled.regions()),
        lid=lid(box, chord_mm),
        solid=drilled,
        problems=problems(box, body_faces, bores, cutters, undrilled, drilled),
    )


@memoize
def undrilled_body(box: Enclosure, chord_mm: float = CHORD_MM) -> Solid:
    """Return the body before any hole: outside less the hollow, which leaves room for the posts.

    Raises `ValueError` where the box is impossible.
    """
    problem = shell_problem(box)
    if problem is not None:
        raise ValueError(problem)
    outside = solid(lofted(outer_skin(box), chord_mm, faces(box)))
    inner = inner_skin(box, below_mm=REACH_MM)
    names = {"top|flat": "inner|ceiling", "top|edge": "inner|edge", "rim|flat": "inner|open"}
    hollow = {
        names.get(name, f"inner|{name.partition('|')[0]} {name.partition('|')[2]}"): mesh
        for name, mesh in lofted(inner, chord_mm).items()
    }
    low, high = inner.low_mm - REACH_MM, box.height_mm
    posts = [_post(box, at, low, high, chord_mm) for at in screw_places(box)]
    depth = min(SCREW_DEPTH_MM, box.body_mm - box.top_mm - POST_END_MM)
    core = CORE_MM[screw_size(box)]
    drills = [_drill(core, at, low, box.lid_mm + depth, chord_mm) for at in screw_places(box)]
    return cut(outside, [cut(solid(hollow), posts), *(drills if depth > 0 else ())])


def shell_problem(box: Enclosure) -> str | None:
    """Return what makes a box impossible, one plain sentence without full stop, or None."""
    for words, value in (
        ("width", box.width_mm),
        ("length", box.length_mm),
        ("height", box.height_mm),
        ("side wall", box.wall_mm),
        ("top", box.top_mm),
        ("lid", box.lid_mm),
        ("corner radius", box.corner_mm),
        ("screw post diameter", box.post_mm),
        ("screw size", box.screw_mm),
        ("lip's thickness", box.lip_wall_mm),
    ):
        if not (math.isfinite(value) and value > 0):
            return f"the {words} of the box must be above 0 mm, found {value:g} mm"
    if not (math.isfinite(box.edge_mm) and box.edge_mm >= 0):
        return f"the rounding of the top edge must be 0 mm or more, found {box.edge_mm:g} mm"
    for words, value in (("seam", box.seam_mm), ("lip", box.lip_mm), ("feet", box.feet_mm)):
        if not (math.isfinite(value) and value >= 0):
            return f"the {words} of the lid must be 0 mm or more, found {value:g} mm"
    if not 0 <= box.draft_deg <= DRAFT_LIMIT_DEG:
        return f"the draft must lie between 0 and {DRAFT_LIMIT_DEG:g} degrees, found {box.draft_deg:g}"
    return _thickness_problem(box) or _corner_problem(box) or _post_problem(box)


def _thickness_problem(box: Enclosure) -> str | None:
    short = min(box.width_mm, box.length_mm)
    if box.lid_mm + box.top_mm >= box.height_mm:
        return (
            f"the lid ({box.lid_mm:g} mm) and the top ({box.top_mm:g} mm) together must be thinner than the box "
            f"is high ({box.height_mm:g} mm)"
        )
    if box.seam_mm >= box.lid_mm:
        return f"the seam ({box.seam_mm:g} mm) must be narrower than the lid is thick ({box.lid_mm:g} mm)"
    deep = box.body_mm - box.top_mm
    if box.lip_mm >= deep:
        return f"the lip of the lid ({box.lip_mm:g} mm) must be lower than the box is deep inside ({deep:g} mm)"
    if 2 * box.wall_mm >= short:
        return f"two walls of {box.wall_mm:g} mm must be thinner than the shorter side of the box ({short:g} mm)"
    return None


def _corner_problem(box: Enclosure) -> str | None:
    short = min(box.width_mm, box.length_mm)
    outer, inner = outer_skin(box), inner_skin(box)
    if outer.wall_top_mm <= outer.low_mm:
        return f"the rounding of the top edge ({box.edge_mm:g} mm) must be smaller than the body is high"
    if outer.top_corner_mm <= 0:
        return (
            f"the corner radius must be more than {outer.top_inset_mm:.2f} mm, which draft and top edge take away "
            f"from it, found {box.corner_mm:g} mm"
        )
    if min(outer.core) <= 0:
        return (
            f"the corner radius must be less than half the shorter side ({short / 2:g} mm), found {box.corner_mm:g} mm"
        )
    if min(inner.core) <= 0 or inner.wall_top_mm <= inner.low_mm:
        return "walls, draft and roundings leave no room inside the box"
    return None


def _post_problem(box: Enclosure) -> str | None:
    if box.post_mm <= CORE_MM[screw_size(box)]:
        return f"a screw post must be thicker than its screw, found {box.post_mm:g} and {box.screw_mm:g} mm"
    x, y = screw_places(box)[0]
    if min(x, y) <= box.post_mm / 2:
        return f"four screw posts of {box.post_mm:g} mm do not fit beside each other in the box"
    return None


def _post(box: Enclosure, at: Point, low_mm: float, high_mm: float, chord_mm: float) -> Solid:
    slope = math.tan(math.radians(box.draft_deg))
    below, above = (box.post_mm / 2 + (z - box.lid_mm) * slope for z in (low_mm, high_mm))
    profile = ((0.0, low_mm), (below, low_mm), (above, high_mm), (0.0, high_mm))
    return solid({"inner|post": tessellate(Turned(profile=profile, at=at, material=CAST_ALUMINIUM), chord_mm)})


def _drill(diameter_mm: float, at: Point, low_mm: float, high_mm: float, chord_mm: float) -> Solid:
    outline = Outline(kind="circle", width_mm=diameter_mm)
    rod = Extruded(outline=outline, bottom_mm=low_mm, top_mm=high_mm, at=at, material=CAST_ALUMINIUM)
    return solid({"inner|screw": tessellate(rod, chord_mm)})


def _shown(regions: Mapping[str, Mesh]) -> dict[str, Mesh]:
    """Put the fine regions, which tell where a hole went, together into what a picture needs."""
    grouped: dict[str, list[Mesh]] = {}
    for name, mesh in regions.items():
        fine = name.rpartition("|") if name.startswith("bore:") else name.partition("|")
        grouped.setdefault(fine[0], []).append(mesh)
    return {name: joined(meshes) for name, meshes in grouped.items()}
