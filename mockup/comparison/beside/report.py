"""The page that holds a photograph of the finished pedal beside its picture, and what it teaches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mockup import __version__
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.comparison.beside import areas, landmarks, shifts
from mockup.comparison.beside.landmarks import Found
from mockup.comparison.beside.options import BesideOptions
from mockup.decal.ink_over_paint import flatten
from mockup.encode.document import Block, Document, Gallery, Paragraph, Photo, Section, TextTable, Wipe
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg
from mockup.encode.markdown import markdown
from mockup.encode.pixels import resampled
from mockup.fingerprint import fingerprint
from mockup.measure.card import white_at
from mockup.model.design import Design
from mockup.model.finish import Artwork
from mockup.model.mesh import Floats
from mockup.model.scene import Look, Shot
from mockup.options import Progress, Result, bad_option, place_px, silent
from mockup.picture import open_engine
from mockup.picture.shots import Sight
from mockup.scene.assemble import assemble
from mockup.scene.projection import projected

LONGEST_PX = 1024  # side of the pictures that are compared: our choice
PART_MM = 11.0  # round a part that is looked at: a knob and its nut; our choice
NUDGES = 3  # times the camera is moved, at most: by trial
WORTH_DE = 2.0  # a difference of the paint that is worth a line in the layout: our choice
_MOST_DE = 20.0  # shown as white in the picture of differences: our choice
_LEAST_PARTS = 4  # from where their places say something of a hand: our choice
Pixels = NDArray[np.uint8]


@dataclass(frozen=True, kw_only=True)
class PartPlace:
    """How far a part is seen off its place, to the right and downward in the picture, and how alike it looks."""

    name: str
    right_mm: float
    down_mm: float
    likeness: float


def make(design: Design, picture: Artwork, name: str, options: BesideOptions, progress: Progress = silent) -> Result:
    """Return the page of a photograph, whose file is called `name`; `InputError` where no camera can be found."""
    target = options.target(design.name)
    scene = assemble(design, options.lighting, look="proof")
    on_top = {part.name for part in design.parts if part.face == "top"}
    tops = {name: point for name, point in landmarks.tops(scene.bodies).items() if name in on_top}
    known = {**landmarks.corners(design.enclosure), **tops}
    size = (picture.width_px, picture.height_px)
    found = landmarks.solved(known, landmarks.seen(options, known), size)
    share = min(1.0, LONGEST_PX / max(size))
    small = (round(size[0] * share), round(size[1] * share))
    photo = _white(picture, options, small)
    found, steps = landmarks.scaled(found, small), NUDGES + 4
    progress(0, steps, "picture")
    draft = replace(options, quality="draft")
    taken = _taken(design, found, draft)
    places = _places(photo, taken, found, tops)
    for step in range(NUDGES if options.nudge else 0):
        progress(1 + step, steps, "camera")
        moved = _nudged(found, places, tops)
        if moved is None:
            break
        again = _taken(design, moved, draft)
        there = _places(photo, again, moved, tops)
        if _likeness(there) <= _likeness(places):
            break
        found, taken, places = moved, again, there
    progress(NUDGES + 1, steps, "colours")
    listed = _areas(design, photo, found, draft) if options.card else []
    if options.quality != "draft":
        taken = _taken(design, found, options)
    progress(steps, steps, "done")
    shown = _document(design, name, options, photo, taken, found, listed, places)
    if target.suffix.lower() == ".md":
        text, beside = markdown(shown, f"{target.stem}-files")
        files = {str(target): text} | {str(target.parent / path): data for path, data in beside.items()}
    else:
        files = {str(target): html(shown, options.lighting)}
    return Result(files=files, facts=_facts(target.name, found, listed, places))


def _white(picture: Artwork, options: BesideOptions, small: tuple[int, int]) -> Pixels:
    """Return the photograph at a size (h, w, 3), the light's colour and strength taken out by its card."""
    pixels = picture.pixels[..., :3]
    if options.card is None:
        return resampled(np.ascontiguousarray(pixels), *small)
    x, y = place_px("card", options.card, 2)
    try:
        white = white_at(picture, (x, y))
    except ValueError as error:
        raise bad_option("card", *str(error).split("; ", 1)) from None
    even = rgb.encode(np.clip(rgb.decode_8bit(resampled(np.ascontiguousarray(pixels), *small)) / white, 0.0, 1.0))
    return np.asarray(np.rint(even * 255.0), np.uint8)


def _taken(design: Design, found: Found, options: BesideOptions, look: Look = "photo") -> Pixels:
    sight = Sight(view=options.view[0], camera=found.camera, width_px=found.size_px[0], height_px=found.size_px[1])
    request = replace(options.rendering(), look=look, engine=options.engine)
    return flatten(open_engine.take(design, (sight,), request).pictures[0].pixels)


def _places(photo: Pixels, taken: Pixels, found: Found, tops: dict[str, Floats]) -> list[PartPlace]:
    """Return where the parts are seen in a photograph, as far as can be told."""
    grey, drawn = (shifts.edges(rgb.decode_8bit(each).mean(axis=-1) ** 0.5) for each in (photo, taken))
    listed = []
    for name, point in tops.items():
        middle, per_mm = projected(found.camera, found.size_px, point[None])[0], landmarks.px_per_mm(found, point)
        off, likeness = shifts.shift(grey, drawn, middle, max(8, round(PART_MM * per_mm)))
        if likeness >= shifts.LEAST_LIKENESS:
            right, down = (float(each) / per_mm for each in off)
            listed.append(PartPlace(name=name, right_mm=right, down_mm=down, likeness=likeness))
    return listed


def _likeness(places: Sequence[PartPlace]) -> float:
    return sum(each.likeness for each in places)


def _nudged(found: Found, places: Sequence[PartPlace], tops: dict[str, Floats]) -> Found | None:
    """Return the camera moved so that parts lie where they are seen; None where too few of them are."""
    if len(places) < _LEAST_PARTS:
        return None
    known = dict(zip(found.names, found.points, strict=True)) | {each.name: tops[each.name] for each in places}
    spots = dict(zip(found.names, found.pixels, strict=True))
    for each in places:
        point = tops[each.name]
        per_mm = landmarks.px_per_mm(found, point)
        seen = projected(found.camera, found.size_px, point[None])[0]
        spots[each.name] = seen + per_mm * np.array([each.right_mm, each.down_mm])
    return landmarks.solved(known, spots, found.size_px)


def _areas(design: Design, photo: Pixels, found: Found, options: BesideOptions) -> list[areas.Area]:
    scene = assemble(design, options.lighting, look="proof")
    shot = Shot(
        camera=found.camera, width_px=found.size_px[0], height_px=found.size_px[1], look="proof", quality="draft"
    )
    shown = areas.masks(scene.bodies, open_engine.open_engine().pixels(areas.numbered(scene), shot))
    proof = _taken(design, found, options, "proof")
    return areas.areas(design, shown, scene.bodies, proof, rgb.decode_8bit(photo))


def _document(
    design: Design,
    name: str,
    options: BesideOptions,
    photo: Pixels,
    taken: Pixels,
    found: Found,
    listed: Sequence[areas.Area],
    places: Sequence[PartPlace],
) -> Document:
    both = np.asarray((photo.astype(np.uint16) + taken) // 2, np.uint8)
    apart = ciede2000(encoded_to_lab(photo / 255.0), encoded_to_lab(taken / 255.0))
    map_ = np.repeat(np.clip(apart / _MOST_DE * 255.0, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    shots = [
        _photo(
            "photograph",
            photo,
            f"Photograph of {design.name}",
            "The photograph" + (", its card made white" * bool(options.card)),
        ),
        _photo("picture", taken, f"Picture of {design.name} with the photograph's camera", "The picture, same camera"),
        _photo("both", both, "Photograph and picture over one another", "Both, half and half"),
        _photo(
            "difference",
            map_,
            "How far the colours are apart",
            f"Colour apart: black 0, white {_MOST_DE:.0f} or more (CIEDE2000)",
        ),
    ]
    blocks: list[Block] = [Paragraph(text=_camera_words(found)), Wipe(first=shots[0], second=shots[1])]
    sections = [
        Section(heading="One over the other", blocks=tuple(blocks)),
        Section(heading="Side by side", blocks=(Gallery(photos=tuple(shots)),)),
    ]
    if listed:
        rows = tuple(
            (each.name, rgb.to_hex(each.predicted), rgb.to_hex(each.seen), f"{each.difference:.1f}", each.words)
            for each in listed
        )
        table = TextTable(head=("Area", "Predicted", "Photographed", "Apart", "In words"), rows=rows, is_right=(3,))
        said = (
            "Medians of each area, the photograph's light divided by the card's: a card that lies beside the pedal is "
            "lit as its top is, the sides stand in other light. Metal is left out: it shows the room."
        )
        sections.append(Section(heading="Colours", blocks=(Paragraph(text=said), table)))
    if places:
        spots = tuple(
            (each.name, f"{each.right_mm:+.1f} mm", f"{each.down_mm:+.1f} mm", f"{each.likeness:.2f}")
            for each in places
        )
        table = TextTable(head=("Part", "Right", "Down", "Likeness"), rows=spots, is_right=(1, 2, 3))
        said = "How far each part is seen off its place in the picture. Without marks this is rough: 1 mm either way."
        sections.append(Section(heading="Where the parts stand", blocks=(Paragraph(text=said), table)))
    taught = list(lessons(design, listed, places))
    if taught:
        sections.append(Section(heading="What it teaches", blocks=tuple(Paragraph(text=each) for each in taught)))
    foot = f"Made with mockup {__version__} from {design.source} and {name}."
    under = f"Photograph and picture. Design {fingerprint(design)}."
    return Document(title=design.name, under=under, sections=tuple(sections), foot=foot, sort="beside its picture")


def _camera_words(found: Found) -> str:
    return (
        f"The camera was found by {len(found.names)} places, which it sees {found.off_px:.1f} px off on average; it "
        f"stands {np.linalg.norm(found.camera.eye):.0f} mm away and takes in {found.camera.fov_deg:.0f}° from top to "
        "bottom. A lens that bends lines is not taken out."
    )


def _photo(name: str, pixels: Pixels, alt: str, caption: str) -> Photo:
    tall, wide = pixels.shape[:2]
    return Photo(
        name=f"{name}.jpg",
        data=jpeg(pixels),
        media="image/jpeg",
        width_px=wide,
        height_px=tall,
        alt=alt,
        caption=caption,
    )


def lessons(design: Design, listed: Sequence[areas.Area], places: Sequence[PartPlace]) -> Iterator[str]:
    """Yield what a photograph says for the next pedal: its paint, its print, and the hand that drilled it."""
    paints = [each for each in listed if each.kind == "paint"]
    top = next((each for each in paints if each.name == "paint of the top"), None)
    if top is not None and top.difference >= WORTH_DE and design.finish.sheen.is_painted:
        yield (
            f"The paint is {top.difference:.1f} off its figure ({top.words}). To go on with what you see, write "
            f'paint = "{rgb.to_hex(top.seen)}" under [finish]; a chip in even light says it better.'
        )
    prints = [each for each in listed if each.kind == "print" and each.name.endswith("on the top")]
    if prints:
        off = float(
            np.mean(
                [
                    encoded_to_lab(np.array(each.seen))[0] - encoded_to_lab(np.array(each.predicted))[0]
                    for each in prints
                ]
            )
        )
        worst = max(prints, key=lambda each: each.difference)
        yield (
            f"Print came out {abs(off):.0f} L* {'lighter' if off > 0 else 'darker'} than predicted on average, "
            f"{worst.name} the furthest off ({worst.difference:.1f}). A test strip makes a profile of your printer: "
            "mockup calibrate strip."
        )
    if len(places) >= _LEAST_PARTS:
        shift = np.array([(each.right_mm, each.down_mm) for each in places])
        spread = float(np.sqrt(((shift - shift.mean(axis=0)) ** 2).sum() / (2 * (len(shift) - 1))))
        yield (
            f"The parts are {spread:.1f} mm off their places (standard deviation on each axis, the picture's own error "
            f"in it). To see what such a hand does to a design: mockup compare FILE --wander {max(spread, 0.1):.1f}mm. "
            "That is too rough to be kept as your own hand: --wander own wants the holes of a box measured after "
            "drilling and before the decal, by scan, photograph or calipers (mockup help drilling)."
        )


def _facts(target: str, found: Found, listed: Sequence[areas.Area], places: Sequence[PartPlace]) -> dict[str, Any]:
    return {
        "file": target,
        "camera": {
            "eye_mm": [round(each, 2) for each in found.camera.eye],
            "target_mm": [round(each, 2) for each in found.camera.target],
            "fov_deg": round(found.camera.fov_deg, 3),
            "off_px": round(found.off_px, 2),
        },
        "areas": [
            {
                "name": each.name,
                "predicted": rgb.to_hex(each.predicted),
                "photographed": rgb.to_hex(each.seen),
                "ciede2000": round(each.difference, 2),
            }
            for each in listed
        ],
        "parts": [
            {"name": each.name, "right_mm": round(each.right_mm, 2), "down_mm": round(each.down_mm, 2)}
            for each in places
        ],
    }
