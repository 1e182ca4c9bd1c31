"""The words of a build log: tables and steps, from the same design as the pictures."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.checks.report.accepted import opened
from mockup.checks.report.rows import row, tally
from mockup.colour import rgb
from mockup.decal.painting import paint_words
from mockup.decal.processes import process_words
from mockup.drawing.drills import drill
from mockup.drawing.holes import Hole, drill_words, holes
from mockup.drawing.jig_solid import guide_places
from mockup.drawing.paper import CAUTIONS, cautions
from mockup.enclosure.bores import bores
from mockup.encode.document import Block, Gallery, Paragraph, Photo, Section, Steps, TextTable
from mockup.encode.pixels import pixels
from mockup.encode.png import png
from mockup.geometry.planar import off_middle
from mockup.model.design import Design
from mockup.model.enclosure import FACE_WORDS, faces
from mockup.model.finding import SEVERITY_WORDS, Finding
from mockup.model.part import Fitting, Kind
from mockup.model.shape import Outline
from mockup.model.sheet import Page, moved
from mockup.model.units import Unit, format_length
from mockup.outputs.pages.drill_plan import plan_drawing
from mockup.outputs.pages.making_words import making_sections
from mockup.picture.studio import ink_figures

_FACES = FACE_WORDS | {"near": "near side (towards the player)"}
_PLAN_MM, _PLAN_PER_MM = (190.0, 150.0), 7.0  # room of the picture of the holes, and its pixels per mm: our choice
_SCREWS = 4  # a die-cast box's lid has one in each corner

# Cautions and craft in general words: common practice, no source.
CAUTION = (
    "Local codes, the products' own safety sheets and licensed practice come first; this page only reminds you of "
    "them. Wear eye protection, clamp the work, keep sleeves, hair and gloves away from the drill, and see to "
    "ventilation whenever you paint or lacquer. Anything beyond a 9 V supply belongs to someone licensed for it."
)
_MEASURE = (
    "Measure the box and the parts you hold. Boxes differ by a millimetre between suppliers; put your own figures into "
    "the layout and make this log again."
)
_DRILL = (
    "Empty the box, mark and centre-punch every hole of the drill table, and clamp the box on scrap wood. Put on eye "
    "protection. Drill every pilot hole, then take the drills of the table in order, slowly and with a drop of cutting "
    "fluid, and try the part before the last one."
)
_CLEAN = (
    "Deburr every hole on both sides. Brush the chips off, never blow: they are sharp and they conduct. Degrease the "
    "box."
)
_PAINT = (
    "Paint outdoors or with forced ventilation, with a suitable respirator and no flame or spark near: thin coats, "
    "within the product's times. Let it cure for as long as its label says. Wear a mask for sanding dust."
)
_GLOSS = (
    "Spray a gloss coat over the paint where the film goes, outdoors or with forced ventilation and a respirator, and "
    "let it dry: film lies flat on it and traps no air."
)
_PRINT = (
    "Print the decal at 100 %, not mirrored, at the printer's best quality, twice if the sheet has room. Check its "
    "size with a ruler before you go on."
)
_SEAL = (
    "Let the ink dry fully, hours to a day. Then seal it with two or three light coats of clear lacquer and let them "
    "dry, BEFORE any water comes near: unsealed inkjet ink runs. Ventilate."
)
_SLIDE = (
    "Cut the decal out, soak it in lukewarm water for 20 to 60 seconds, slide it on and press the water out from the "
    "middle. Let it dry overnight. Cut the film over each hole from its middle with a sharp blade, away from your hand."
)
_LACQUER = (
    "Lacquer the whole box in thin coats, outdoors or with forced ventilation and a respirator. Try lacquer, film and "
    "paint together on a scrap first: some do not agree."
)
_FIT = (
    "Scrape the paint off under the washer that earths the box, a jack's as a rule, so that metal meets metal. Bolt "
    "in the hardware hand-tight, washers under the nuts, then snug: a slipping spanner scratches the finish."
)
_WIRE = (
    "Wire with the supply off. Keep board and solder joints off the metal box, connect the box to the circuit's ground "
    "at one point, and make sure that no battery can touch lid or terminals. Solder with the fumes drawn away from you."
)
_CLOSE = "Check the supply's polarity before you first plug it in, try every control, and close the lid."


def steps(design: Design) -> tuple[str, ...]:
    """Return what to do, in order, as far as this design needs it."""
    has_film, is_painted = bool(design.decals), design.finish.sheen.is_painted
    found = [
        (True, _MEASURE),
        (bool(bores(design)), _DRILL),
        (True, _CLEAN),
        (is_painted, _PAINT),
        (has_film and design.finish.coat_under_film is not None, _GLOSS),
        (has_film, _PRINT),
        (has_film, _SEAL),
        (has_film, _SLIDE),
        (design.finish.has_clear_coat, _LACQUER),
        (bool(design.parts), _FIT),
        (bool(design.parts), _WIRE),
        (True, _CLOSE),
    ]
    return tuple(text for is_needed, text in found if is_needed)


def sections(design: Design, findings: Sequence[Finding] | None, copies: int = 1) -> tuple[Section, ...]:
    """Return what a log says in words: findings (None: not told), holes, parts for so many pedals, finish, steps."""
    return (
        *((Section(heading="What the checks found", blocks=_found(design, findings)),) if findings is not None else ()),
        Section(heading="Drill table", blocks=_holes(design)),
        Section(
            heading="Parts" if copies == 1 else f"Parts for {copies} pedals",
            blocks=(_parts(design, copies), *_held(design, copies)),
        ),
        Section(heading="Paint and film", blocks=_finish(design)),
        *making_sections(design.making),
        *((Section(heading="Where each hole is", blocks=_whereabouts(design)),) if bores(design) else ()),
        Section(
            heading="Steps, in order", blocks=(Paragraph(text=CAUTION, is_caution=True), Steps(steps=steps(design)))
        ),
    )


def hole(outline: Outline, units: Unit) -> str:
    """Return the size of a hole as a builder says it."""
    across = format_length(outline.width_mm, units)
    if outline.kind == "circle":
        return f"⌀ {across}"
    if outline.kind == "hexagon":
        return f"hexagon, {across} across flats"
    down = format_length(outline.height_mm, units)
    if outline.kind == "d":
        return f"⌀ {across}, {down} over the flat"
    return f"{outline.kind} {across} × {down}"


def _found(design: Design, findings: Sequence[Finding]) -> tuple[Block, ...]:
    if not findings:
        return (Paragraph(text="Nothing: every check passed."),)
    shown = [row(finding, design.units) for finding in opened(findings)]
    table = TextTable(
        head=("How bad", "Concerns", "What", "What to do"),
        rows=tuple((SEVERITY_WORDS[each.severity], each.subjects, each.what, each.remedy) for each in shown),
        tones=tuple(each.severity for each in shown),
    )
    accepted = tuple(each for each in findings if each.accepted)
    if not accepted:
        return (Paragraph(text=f"{tally(findings)}."), table)
    meant = TextTable(
        head=("Accepted", "Why"), rows=tuple((row(each, design.units).what, each.accepted) for each in accepted)
    )
    return (Paragraph(text=f"{tally(findings)}."), *((table,) if shown else ()), meant)


def _holes(design: Design) -> tuple[Block, ...]:
    units = design.units
    rows = []
    found = holes(design, faces(design.enclosure), units)
    for each in found:
        bore = each.bore
        size = hole(bore.outline, units)
        if bore.outline.kind != "circle" and bore.rotation_deg % 360.0:
            size += f", turned {bore.rotation_deg % 360.0:g}°"
        places = (format_length(each.across_mm, units), format_length(each.along_mm, units))
        drills = (drill(each.pilot_mm, units), drill_words(each, units).replace(">", "›"))
        rows.append((str(each.number), bore.words, _FACES[bore.face], size, *places, *drills))
    if not rows:
        return (Paragraph(text="There are no holes to drill."),)
    said = (
        "Numbers and figures are those of the drill template. Centres: looking straight at each face from outside, "
        "from its left edge; on the top from the far edge, on the sides from the open rim, lid off. Drills "
        + ("in millimetres." if units == "mm" else "in inches.")
        + "".join(f" {line}" for line in cautions(found)[len(CAUTIONS) :])
    )
    head = ("No.", "Hole", "Face", "Finished", "From left", "From edge", "Pilot", "Drills in order")
    table = TextTable(head=head, rows=tuple(rows), is_right=(0, 4, 5, 6))
    return (Gallery(photos=(_plan(design, found),)), Paragraph(text=said), table)


def _plan(design: Design, found: Sequence[Hole]) -> Photo:
    """Return the drill plan's drawing as a picture, with the numbers that the table has."""
    drawn = plan_drawing(design.enclosure, found, design.units, _PLAN_MM)
    left, top, right, bottom = drawn.area
    marks = tuple(moved(mark, -left, -top) for mark in drawn.marks)
    data = png(pixels(Page(width_mm=right - left, height_mm=bottom - top, marks=marks), _PLAN_PER_MM))
    return Photo(
        name="holes.png",
        data=data,
        media="image/png",
        width_px=round((right - left) * _PLAN_PER_MM),
        height_px=round((bottom - top) * _PLAN_PER_MM),
        alt=f"{design.name}, the drilled faces laid out flat with the number and name of each hole",
        caption="The holes by number, in proportion",
    )


def _whereabouts(design: Design) -> tuple[Block, ...]:
    """Return where each hole is found in what else is made of the design."""
    box_faces = faces(design.enclosure)
    rows = []
    for each in holes(design, box_faces, design.units):
        bore, face = each.bore, each.bore.face
        bushes = len(guide_places(box_faces, [each]))
        jig = f"{bushes} bush{'es' * (bushes > 1)}, number {each.number}" + ("" if face == "top" else ", with --sides")
        rows.append((str(each.number), bore.words, _on_decal(design, each), jig, f"{face}, {face}-numbers"))
    said = "Where each hole is in the other pages. Template, drill plan and picture show the same number."
    head = ("No.", "Hole", "Decal", "Jig", "Layers of the cut file")
    return (Paragraph(text=said), TextTable(head=head, rows=tuple(rows), is_right=(0,)))


def _on_decal(design: Design, hole: Hole) -> str:
    """Return where a hole's centre lies on its decal, as the decal is printed, "" where none is under it."""
    bore, units = hole.bore, design.units
    for decal in design.decals:
        if decal.face != bore.face:
            continue
        right, low = off_middle((bore.u_mm, bore.v_mm), (decal.u_mm, decal.v_mm), decal.rotation_deg)
        across, down = right + decal.width_mm / 2, low + decal.height_mm / 2
        if 0.0 <= across <= decal.width_mm and 0.0 <= down <= decal.height_mm:
            left, top = format_length(across, units), format_length(down, units)
            return f"{decal.art.name}: {left} from its left, {top} from its top"
    return "none"


def _parts(design: Design, copies: int) -> TextTable:
    """Return what to buy for all copies, each sort once with its count, and which names it serves."""
    box, units = design.enclosure, design.units
    size = " × ".join(format_length(each, units) for each in (box.length_mm, box.width_mm, box.height_mm))
    found: dict[tuple[str, str], list[str]] = {}
    for part in design.parts:
        lit = f", {rgb.to_hex(rgb.encode(part.lamp.colour))}" if part.lamp is not None else ""
        found.setdefault((part.kind.name, part.kind.about + lit), []).append(part.name)
        if part.knob is not None and part.kind.shaft is not None:
            knob = part.knob
            shape = f"⌀ {format_length(knob.diameter_mm, units)}, {format_length(knob.height_mm, units)} high"
            colour = rgb.to_hex(rgb.encode(knob.colour))
            found.setdefault((f"knob, {knob.style}", f"{shape}, {colour}"), []).append(part.name)
    rows = [
        (
            str(copies),
            "die-cast box",
            f"{size} (length × width × height), wall {format_length(box.wall_mm, units)}",
            "",
        ),
        (str(_SCREWS * copies), "lid screw", f"{format_length(box.screw_mm, units)}, come with the box", ""),
    ]
    rows += [(str(len(names) * copies), *key, ", ".join(names)) for key, names in found.items()]
    return TextTable(head=("Count", "What", "Size and kind", "For"), rows=tuple(rows))


def _held(design: Design, copies: int) -> tuple[Block, ...]:
    """Return what holds the parts of each kind, in the order in which it goes on, with how many of it are needed."""
    names: dict[Kind, list[str]] = {}
    for part in design.parts:
        if part.kind.mounting.inside or part.kind.mounting.outside:
            names.setdefault(part.kind, []).append(part.name)
    rows = [
        (
            kind.name,
            *(
                _fittings(side, len(of) * copies, design.units)
                for side in (kind.mounting.inside, kind.mounting.outside)
            ),
            ", ".join(of),
        )
        for kind, of in names.items()
    ]
    if not rows:
        return ()
    said = (
        "Nuts, washers and screws, as a rule in the bag with the part; each side in order from the panel away. Figures "
        "are usual ones: across the flats or the washer, then how thick."
    )
    head = ("Part", "Inside, from the panel", "Outside, from the panel", "For")
    return (Paragraph(text=said), TextTable(head=head, rows=tuple(rows)))


def _fittings(found: Sequence[Fitting], parts: int, units: Unit) -> str:
    told = (
        f"{each.count * parts} {each.name} {format_length(each.across_mm, units)} × "
        f"{format_length(each.thickness_mm, units)}"
        for each in found
    )
    return "; ".join(told) or "nothing"


def _finish(design: Design) -> tuple[Block, ...]:
    finish, units = design.finish, design.units
    ground = f"{paint_words(finish)}, {finish.sheen.name}" if finish.sheen.is_painted else "bare metal"
    rows = [("Paint", ground), ("Clear lacquer over all", finish.coat_words)]
    for decal in design.decals:
        size = " × ".join(format_length(each, units) for each in (decal.width_mm, decal.height_mm))
        turned = f", turned {decal.rotation_deg:g}°" if decal.rotation_deg else ""
        where = _FACES[decal.face]
        rows.append(
            (
                f"{decal.film.name.capitalize()} film{process_words(decal)}",
                f"{decal.art.name}, {size}, {decal.dpi[0]:.0f} dpi, on the {where}{turned}",
            )
        )
    if design.decals:
        rows.append(("Ink, as predicted", ink_figures(design)))
    if finish.printer:
        rows.append(("Printer", finish.printer))
    return (TextTable(head=("What", "How"), rows=tuple(rows)),)
