"""Make a drill jig to print in 3D: a shell over the box with a guide at every hole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from mockup import fonts
from mockup.decal import typeface
from mockup.drawing.holes import Hole, drill_words, holes
from mockup.drawing.jig_solid import (
    Engraving,
    GuideHole,
    JigSizes,
    engravings,
    guide_lead_mm,
    guide_places,
    jig,
    jig_problem,
    lying,
)
from mockup.drawing.paper import cautions
from mockup.encode.stl import stl
from mockup.encode.threemf import threemf
from mockup.fingerprint import fingerprint
from mockup.geometry.solids import Solid
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.making import MOST_COPIES
from mockup.model.mesh import Floats
from mockup.model.units import Unit
from mockup.options import Progress, Result, bad_option, file_stem, option, require_ending, require_range, silent
from mockup.outputs.pages.open_stops import mark, open_stops
from mockup.outputs.pages.open_stops import notes as stop_notes

_SUFFIXES = (".stl", ".3mf")
_SIZES = JigSizes()
_USE = (
    "Print it in a stiff plastic as it lies in the file, opening up; it needs no supports.",
    "Try it on the box, the side marked FAR away from you, and check a hole against the template.",
    "Plastic bushes wear: use them for the pilot drill only.",
)
_WEAR = "Before each box put the pilot drill into every bush: where it wobbles, print the jig anew."


@dataclass(frozen=True, kw_only=True)
class Options:
    """What the jig guides, how it fits, and where to put it."""

    sides: bool = option(False, "guide the holes of the sides too; the shell then reaches down to the rim")
    fit: float = option(_SIZES.fit_mm, "clearance to the box on every side, mm")
    wall: float = option(_SIZES.wall_mm, "thickness of its sides, mm")
    plate: float = option(_SIZES.plate_mm, "thickness of its top between the bushes, mm")
    skirt: float = option(_SIZES.skirt_mm, "how far its sides reach down, mm")
    guide: float = option(_SIZES.guide_mm, "diameter of the guide holes, mm: the pilot drill and a little more")
    bush: float = option(_SIZES.bush_mm, "diameter of the bushes round them, mm")
    bush_height: float = option(_SIZES.bush_height_mm, "how far the bushes stand out from plate and sides, mm")
    copies: int = option(1, "how many pedals are drilled with it: one jig serves them all")
    open_stops: int = open_stops()
    output: str | None = option(None, "file to write (.stl or .3mf)", short="o", suffixes=_SUFFIXES)


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the jig as an STL or 3MF file in millimetres, as it is printed: its plate at z = 0, opening up."""
    path = require_ending(options.output or f"{file_stem(design.name)}-jig{_SUFFIXES[0]}", _SUFFIXES)
    require_range("copies", options.copies, 1, MOST_COPIES)
    sizes = JigSizes(
        fit_mm=options.fit,
        wall_mm=options.wall,
        plate_mm=options.plate,
        skirt_mm=options.skirt,
        guide_mm=options.guide,
        bush_mm=options.bush,
        bush_height_mm=options.bush_height,
    )
    problem = jig_problem(sizes)
    if problem is not None:
        raise bad_option(problem[0].replace(" ", "-"), problem[1])
    progress(0, 1, "jig")
    box_faces = faces(design.enclosure)
    numbered = holes(design, box_faces, design.units)
    guided = [each for each in numbered if options.sides or each.bore.face == "top"]
    places = guide_places(box_faces, guided)
    hole_mm = sizes.guide_mm + 2 * guide_lead_mm(sizes)
    face, words = typeface.read(fonts.data(is_bold=True), "bold"), _engraved_mark(options.open_stops)
    engraved = engravings(box_faces["top"], face, places, hole_mm, words=words)
    made = jig(design.enclosure, box_faces, places, sizes, engraved=engraved)
    progress(1, 1, "done")
    printed = lying(made)
    facts = {
        "file": str(path),
        "design": fingerprint(design),
        "engraved": [each.words for each in engraved],
        **_measures(made, places, printed),
        "copies": options.copies,
    }
    use = (*_USE, *_series(design, options.copies, len(places)))
    notes = (
        *((f"the jig falls into {made.pieces} pieces; thicken its wall or plate",) if made.pieces > 1 else ()),
        *_missing(design, places, engraved, has_holes=bool(numbered)),
        *stop_notes(options.open_stops),
        " ".join((*use, "Clamp the box and wear eye protection; the text file beside it says the rest.")),
    )
    called = ", ".join(filter(None, (design.name, f"design {fingerprint(design)}", mark(options.open_stops))))
    rows = (*use, "", " ".join(cautions(guided)), "", *_legend(guided, design.units))
    text = "\n".join((f"{called}: drill jig", "", *rows, ""))
    lying_down = made.welded().moved(printed)
    data = stl(lying_down, called) if path.suffix.lower() == ".stl" else threemf(lying_down, called, text)
    return Result(
        files={str(path): data, str(path.with_suffix(".txt")): text.encode()},
        facts=facts,
        notes=notes,
    )


def _measures(made: Solid, places: Sequence[GuideHole], printed: Floats) -> dict[str, Any]:
    """Return how large a jig is, and where its guides are once it lies as it is printed."""
    low, high = made.bounds()
    return {
        "guides": [
            {
                "number": each.number,
                "name": each.name,
                "face": each.face,
                "at_mm": [round(float(v), 3) for v in printed[:3, :3] @ each.at + printed[:3, 3]],
            }
            for each in places
        ],
        "size_mm": [round(float(value), 2) for value in high - low],
        "volume_cm3": round(made.volume / 1000, 2),
    }


def _missing(
    design: Design, places: Sequence[GuideHole], engraved: Sequence[Engraving], *, has_holes: bool
) -> Iterator[str]:
    """Yield what a jig does not have: guides, or numbers for want of room."""
    if not places:
        where = "on the top; --sides guides the others" if has_holes else "to drill"
        yield f"the jig guides nothing: {design.name} has no holes {where}"
    bare = {str(each.number) for each in places if each.face == "top"} - {each.words for each in engraved}
    if bare:
        said = ", ".join(sorted(bare, key=int))
        yield f"no room to engrave the number of hole {said}; the template shows which it is"


def _series(design: Design, copies: int, guides: int) -> tuple[str, ...]:
    """Return what is to be said where one jig serves several boxes: which, and when it is worn."""
    if copies == 1:
        return ()
    called = f" ({', '.join(design.making.serials(copies))})" if design.making.copies else ""
    return (f"One jig serves all {copies} boxes{called}: {guides * copies} pilot holes.", _WEAR)


def _legend(guided: Sequence[Hole], units: Unit) -> Iterator[str]:
    """Yield which number is which hole, and its drills, a line each."""
    if guided:
        yield f"The holes by their numbers, and their drills in order, in {'mm' if units == 'mm' else 'inches'}:"
    for hole in guided:
        yield f"{hole.number:3d}  {hole.name} ({hole.bore.face}): {drill_words(hole, units)}"


def _engraved_mark(stops: int) -> str:
    """Return the mark as it is engraved, where short words are the ones that find room."""
    return f"{stops} STOP{'' if stops == 1 else 'S'} OPEN" if stops else ""
