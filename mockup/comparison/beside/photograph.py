"""What a photograph of the finished pedal shows beside its picture: its camera, its colours, where its parts stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from mockup.colour import rgb
from mockup.colour.difference import encoded_to_lab
from mockup.comparison.beside import areas, landmarks, shifts
from mockup.comparison.beside.landmarks import Found, Seen
from mockup.comparison.beside.options import BesideOptions
from mockup.decal.ink_over_paint import flatten
from mockup.encode.pixels import resampled
from mockup.measure.camera import Camera
from mockup.measure.card import white_at
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Artwork
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.scene import Body, Look, Shot
from mockup.options import Progress, bad_option, place_px, silent
from mockup.picture import open_engine
from mockup.picture.shots import Sight
from mockup.scene.assemble import assemble
from mockup.scene.projection import projected

LONGEST_PX = 1024  # side of the pictures that are compared: our choice
SHOWN_PX = 2400  # longer side of a photograph that is shown: edges can be told to a pixel of a telephone's; our choice
PART_MM = 11.0  # round a part that is looked at: a knob and its nut; our choice
NUDGES = 3  # times the camera is moved, at most: by trial
WORTH_DE = 2.0  # a difference of the paint that is worth a line in the layout: our choice
LIT_WORDS = "A card that lies beside the pedal is lit as its top is, the sides stand in other light."
_LEAST_PARTS = 4  # from where their places say something of a hand: our choice
Pixels = NDArray[np.uint8]


@dataclass(frozen=True, kw_only=True)
class PartPlace:
    """How far a part is seen off its place, to the right and downward in the picture, and how alike it looks."""

    name: str
    right_mm: float
    down_mm: float
    likeness: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Beside:
    """A photograph and the picture taken with its camera, both (h, w, 3), straight, and what they tell.

    The card is white in the photograph where one is told. Without one `areas` are none.
    """

    found: Found
    photo: Pixels
    taken: Pixels
    areas: tuple[areas.Area, ...]
    places: tuple[PartPlace, ...]


@dataclass(frozen=True, kw_only=True, eq=False)
class OpenedPhotograph:
    """A photograph to be shown: straight pixels (h, w, 3), `size_px` as it was taken, the camera where marks tell it.

    Without marks `why` says what was looked for and not seen.
    """

    pixels: Pixels
    size_px: tuple[int, int]
    found: Found | None
    why: str = ""


@dataclass(frozen=True, kw_only=True)
class Lesson:
    """What a photograph says for the next pedal, what to do then, and how far that goes.

    `paint` is the one to take, where it is about that; `is_hand` where it is about the hand that drilled.
    """

    text: str
    order: str
    limit: str = ""
    paint: Colour | None = None
    is_hand: bool = False

    @property
    def words(self) -> str:
        """All that is said."""
        return f"{self.text} {self.order} {self.limit}".strip()


def known(design: Design, bodies: Sequence[Body]) -> dict[str, Floats]:
    """Return all that can be pointed at (3,): the box's corners and the parts on its top, by name."""
    return {**landmarks.corners(design.enclosure), **_tops(design, bodies)}


def opened(design: Design, picture: Artwork) -> OpenedPhotograph:
    """Return a photograph as it is shown, its camera found where the printed marks are in it."""
    size, found, why = (picture.width_px, picture.height_px), None, ""
    try:
        found = landmarks.by_marks(design.enclosure, picture.pixels)
    except ValueError as error:
        why = str(error).split("; ", 1)[0]
    shown = resampled(np.ascontiguousarray(picture.pixels[..., :3]), *_fitted(size, SHOWN_PX))
    if found is not None:
        shown = straightened(shown, found)
    return OpenedPhotograph(pixels=shown, size_px=size, found=found, why=why)


def held_beside(
    design: Design, picture: Artwork, options: BesideOptions, progress: Progress = silent, near: Found | None = None
) -> Beside:
    """Return a photograph beside its picture; `InputError` where no camera can be found.

    A camera `near` the one wanted is where to start from; one of the printed marks is taken as it is.
    """
    bodies = assemble(design, options.lighting, look="proof").bodies
    tops, at = _tops(design, bodies), known(design, bodies)
    told = landmarks.seen(options, at)
    found = _camera(design, picture, at, told, near)
    small = _fitted((picture.width_px, picture.height_px), LONGEST_PX)
    photo = straightened(_white(picture, options, small), found)
    found, steps = straight(landmarks.scaled(found, small)), NUDGES + 4
    progress(0, steps, "picture")
    draft = replace(options, quality="draft")
    taken = _taken(design, found, draft)
    places = _places(photo, taken, found, tops)
    for step in range(NUDGES if options.nudge and not found.is_marked else 0):
        progress(1 + step, steps, "camera")
        moved = _nudged(design, found, places, tops)
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
    listed.sort(key=lambda each: not each.name.endswith("top"))  # it is lit as the card is
    return Beside(found=found, photo=photo, taken=taken, areas=tuple(listed), places=tuple(places))


def lens_words(found: Found) -> str:
    """Return what is known of the lens, in plain sentences."""
    if found.is_marked:
        return "The marks tell how the lens bends lines, too: the photograph is straightened."
    deep = "" if found.is_deep else "All places lie on the top, so how long the lens is, is half a guess. "
    return f"{deep}How a lens bends lines cannot be told without the printed marks, and is not taken out."


def _fitted(size: tuple[int, int], longest: int) -> tuple[int, int]:
    """Return a picture's size, made smaller where its longer side is longer than that."""
    share = min(1.0, longest / max(size))
    return round(size[0] * share), round(size[1] * share)


def _tops(design: Design, bodies: Sequence[Body]) -> dict[str, Floats]:
    on_top = {part.name for part in design.parts if part.face == "top"}
    return {name: point for name, point in landmarks.tops(bodies).items() if name in on_top}


def _camera(design: Design, picture: Artwork, at: dict[str, Floats], told: Seen, near: Found | None) -> Found:
    """Return the camera by the places that are told; where none are, by the printed marks."""
    if told.lines or told.places:
        size = picture.width_px, picture.height_px
        return landmarks.solved(design.enclosure, at, told, size, near)
    if near is not None and near.is_marked:
        return near
    try:
        return landmarks.by_marks(design.enclosure, picture.pixels)
    except ValueError as error:
        why = str(error).split("; ", 1)[0]
        remedy = "lay the printed frame on the top, or give the four edges of the top with --line"
        raise InputError(
            Fault(file="--line", what=f"no edge is told, and no marks give the camera: {why}", remedy=remedy)
        ) from None


def straight(found: Found) -> Found:
    """Return the camera of a photograph that was straightened."""
    fit = replace(found.fit, lens=(0.0, 0.0))
    return replace(found, fit=fit, pixels=fit.pixels(found.points) if found.fit.lens != (0.0, 0.0) else found.pixels)


def straightened(photo: Pixels, found: Found) -> Pixels:
    """Return a photograph of any size (h, w, 3) as a lens without distortion takes it; nothing is changed without."""
    if found.fit.lens == (0.0, 0.0):
        return photo
    tall, wide = photo.shape[:2]
    columns, rows = np.meshgrid(np.arange(wide) + 0.5, np.arange(tall) + 0.5)
    at = bent(landmarks.scaled(found, (wide, tall)).fit, np.stack([columns, rows], axis=-1)) - 0.5
    spots = [at[..., 1], at[..., 0]]
    channels = [map_coordinates(photo[..., each], spots, order=1, mode="nearest") for each in range(3)]
    return np.stack(channels, axis=-1).astype(np.uint8)


def bent(fit: Camera, straight_px: Floats) -> Floats:
    """Return where pixels (..., 2) of the straightened photograph lie in the photograph as it was taken."""
    turned = replace(fit, lens=(0.0, 0.0)).rays(straight_px)
    return fit.pixels(fit.eye + turned)


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


def _nudged(design: Design, found: Found, places: Sequence[PartPlace], tops: dict[str, Floats]) -> Found | None:
    """Return the camera moved so that parts lie where they are seen; None where too few of them are."""
    if len(places) < _LEAST_PARTS:
        return None
    at = dict(zip(found.names, found.points, strict=True)) | {each.name: tops[each.name] for each in places}
    spots = dict(zip(found.names, found.pixels, strict=True))
    for each in places:
        point = tops[each.name]
        per_mm = landmarks.px_per_mm(found, point)
        seen = projected(found.camera, found.size_px, point[None])[0]
        spots[each.name] = seen + per_mm * np.array([each.right_mm, each.down_mm])
    return landmarks.solved(design.enclosure, at, Seen(places=spots, lines={}), found.size_px, found)


def _areas(design: Design, photo: Pixels, found: Found, options: BesideOptions) -> list[areas.Area]:
    scene = assemble(design, options.lighting, look="proof")
    shot = Shot(
        camera=found.camera, width_px=found.size_px[0], height_px=found.size_px[1], look="proof", quality="draft"
    )
    shown = areas.masks(scene.bodies, open_engine.open_engine().pixels(areas.numbered(scene), shot))
    proof = _taken(design, found, options, "proof")
    return areas.areas(design, shown, scene.bodies, proof, rgb.decode_8bit(photo))


def lessons(design: Design, listed: Sequence[areas.Area], places: Sequence[PartPlace]) -> Iterator[Lesson]:
    """Yield what a photograph says for the next pedal: its paint, its print, and the hand that drilled it."""
    top = next((each for each in listed if each.kind == "paint" and each.name == "paint of the top"), None)
    is_one_colour = design.finish.sheen.is_painted and design.finish.picture is None
    if top is not None and top.difference >= WORTH_DE and is_one_colour:
        yield Lesson(
            text=f"The paint is {top.difference:.1f} off its figure ({top.words}).",
            order=f'To go on with what you see, write paint = "{rgb.to_hex(top.seen)}" under [finish].',
            limit="A chip in even light says it better.",
            paint=top.seen,
        )
    prints = [each for each in listed if each.kind == "print" and each.name.endswith("on the top")]
    if prints:
        light = [[float(encoded_to_lab(np.array(at))[0]) for at in (each.predicted, each.seen)] for each in prints]
        off = float(np.mean([after - before for before, after in light]))
        worst = max(prints, key=lambda each: each.difference)
        yield Lesson(
            text=f"Print came out {abs(off):.0f} L* {'lighter' if off > 0 else 'darker'} than predicted on average, "
            f"{worst.name} the furthest off ({worst.difference:.1f}).",
            order="A test strip makes a profile of your printer: mockup calibrate strip.",
        )
    if len(places) >= _LEAST_PARTS:
        shift = np.array([(each.right_mm, each.down_mm) for each in places])
        spread = float(np.sqrt(((shift - shift.mean(axis=0)) ** 2).sum() / (2 * (len(shift) - 1))))
        yield Lesson(
            text=f"The parts are {spread:.1f} mm off their places (standard deviation on each axis, the picture's own "
            "error in it).",
            order="A trial with such a hand says what it does to a design: mockup compare FILE --wander "
            f"{max(spread, 0.1):.1f}mm.",
            limit="That is too rough to be kept as your own hand: --wander own wants the holes of a box measured after "
            "drilling and before the decal, by scan, photograph or calipers (mockup help drilling).",
            is_hand=True,
        )
