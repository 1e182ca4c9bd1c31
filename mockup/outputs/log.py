"""Write a build log: one page with pictures, model, drill table, parts and steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import Any

from mockup import __version__
from mockup.checks.report.run import run
from mockup.decal import ink_over_paint
from mockup.encode.animation import animation
from mockup.encode.document import Document, Gallery, Photo, Section, Spin
from mockup.encode.gltf import glb
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg_photo
from mockup.encode.markdown import markdown
from mockup.fingerprint import fingerprint
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.making import MOST_COPIES
from mockup.model.picture import Picture
from mockup.model.scene import Look
from mockup.options import (
    Progress,
    Result,
    bad_option,
    file_stem,
    option,
    parse_size,
    require_ending,
    require_range,
    silent,
)
from mockup.outputs.pages import log_words
from mockup.picture import framing
from mockup.picture.options import PictureRequest, ground_option, grounded_lights, require_ground
from mockup.picture.studio import Studio, shot, studio
from mockup.scene.assemble import assemble
from mockup.scene.views import VIEWS

SUFFIXES = (".html", ".htm", ".md")
STILLS = {
    "three-quarter": "From the front left",
    "above": "Straight down, as the drill sees it",
    "player": "From a standing player's eye",
    "inside": "Turned over, lid off",
}
_TURN_VIEW = "three-quarter"
_TURN_SECONDS = 5.0  # our taste
_MAX_FRAMES = 120  # three degrees a frame; keeps a page small enough to send
OTHERS_MB = 3.0  # of a page for others: what most forums and mail take; our choice


@dataclass(frozen=True, kw_only=True)
class _Grade:
    """How heavy a page is: the largest side of the art in its model (0: no model), and the pictures' quality."""

    texture_px: int
    quality: int = 90
    has_variants: bool = True


# The file of `mockup model` holds larger art. A page for others takes the first that is light enough: our choice.
_GRADES = (
    _Grade(texture_px=2048),
    _Grade(texture_px=1024, quality=85),
    _Grade(texture_px=1024, quality=80, has_variants=False),
    _Grade(texture_px=512, quality=75, has_variants=False),
    _Grade(texture_px=0, quality=60),
)


@dataclass(frozen=True, kw_only=True)
class Options(PictureRequest):
    """What goes onto the page, how well, and where to put it."""

    view: tuple[str, ...] = tuple(STILLS)
    look: Look = "photo"
    background: str = ground_option()
    seconds: float | None = None
    size: tuple[int, int] = option((1280, 960), "width x height of each picture in pixels", parse=parse_size)
    frames: int = option(36, "pictures in the turntable; 0 for none")
    turn_size: tuple[int, int] = option((720, 540), "width x height of the turntable in pixels", parse=parse_size)
    light: str = option("bench", "light and ground", choices=grounded_lights, noun="light with a ground")
    copies: int = option(1, "how many pedals the list of parts is for")
    for_others: bool = option(False, "a page to give away: no findings, suppliers, remarks or buyers; at most 3 MB")
    output: str | None = option(
        None, "file to write: .html, or .md with its pictures beside", short="o", suffixes=(".html", ".md")
    )
    others: tuple[Design, ...] = option((), "designs of the layout's other variants", reads="variants")


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the page; for Markdown the text, then its pictures and models in a folder beside it."""
    target = require_ending(options.output or f"{file_stem(design.name)}-log.html", SUFFIXES)
    if not (options.frames == 0 or 2 <= options.frames <= _MAX_FRAMES):
        raise bad_option("frames", f"{options.frames} is out of range", f"a turn has 2 to {_MAX_FRAMES} frames, or 0")
    require_range("copies", options.copies, 1, MOST_COPIES)
    require_ground(options.background)
    pages, notes = _documents(design, options, progress)
    for shown, is_last in pages:
        files = _files(shown, target, options)
        size = sum(map(len, files.values()))
        if not options.for_others or size <= OTHERS_MB * 1e6:
            break
        if is_last:
            what = f"the lightest page takes {size / 1e6:.1f} MB, more than the {OTHERS_MB:g} that others can be sent"
            raise bad_option("for-others", what, "give a smaller --size")
    variants = [each.variant for each in (design, *options.others)]
    facts: dict[str, Any] = {"file": str(target), "bytes": size, "variants": variants}
    return Result(files=files, facts={"log": facts}, notes=notes)


def _files(shown: Document, target: PurePath, options: Options) -> dict[str, bytes]:
    if target.suffix.lower() != ".md":
        return {str(target): html(shown, options.lighting)}
    text, beside = markdown(shown, f"{target.stem}-files")
    return {str(target): text} | {str(target.parent / name): data for name, data in beside.items()}


def _documents(
    design: Design, options: Options, progress: Progress
) -> tuple[Iterator[tuple[Document, bool]], tuple[str, ...]]:
    """Return the log as ever lighter documents, each with whether it is the last, and notes to be read once."""
    total = len(STILLS) + options.frames + 2 + len(options.others)
    findings = None if options.for_others else run(design)
    progress(1, total, "checks")
    stills, turn, notes = _pictures(design, options, lambda done, what: progress(done + 1, total, what))
    making = design.making.for_others if options.for_others else design.making
    words = log_words.sections(replace(design, making=making), findings, options.copies)
    box = design.enclosure
    variant = f", variant {design.variant}" if design.variant else ""
    size = f"{box.length_mm:g} × {box.width_mm:g} × {box.height_mm:g} mm"
    under = f"Build log{variant}. Design {fingerprint(design)}. Box {size}."
    foot = (
        f"Made with mockup {__version__} from {design.source}. Pictures and figures are an aid: measure your own box "
        "and parts before you drill."
    )

    def documents() -> Iterator[tuple[Document, bool]]:
        for grade in _GRADES:
            photos = tuple(_still(design, name, taken, grade.quality) for name, taken in stills.items())
            sections = (
                Section(heading="Pictures", blocks=(Gallery(photos=photos),)),
                *((Section(heading="Once round", blocks=(Gallery(photos=(turn,)),)),) if turn else ()),
                *_spin(
                    design,
                    options,
                    grade,
                    lambda done: progress(total - 1 - len(options.others) + done, total, "model"),
                ),
                *words,
            )
            progress(total, total, "done")
            yield Document(title=design.name, under=under, sections=sections, foot=foot), grade is _GRADES[-1]

    return documents(), notes


def _spin(design: Design, options: Options, grade: _Grade, progress: Callable[[int], None]) -> tuple[Section, ...]:
    """Return the section with the model to turn, of every variant that comes along; none where no model does."""
    if not grade.texture_px:
        return ()
    models = []
    for number, each in enumerate((design, *(options.others if grade.has_variants else ()))):
        progress(number)
        models.append((each.variant or "as designed", _model(each, grade.texture_px)))
    spin = Spin(
        models=tuple(models),
        alt=f"3D model of the pedal {design.name}, to turn",
        file_name=f"{file_stem(design.name)}.glb",
    )
    return (Section(heading="Turn it yourself", blocks=(spin,)),)


def _pictures(
    design: Design, options: Options, progress: Any
) -> tuple[dict[str, Picture], Photo | None, tuple[str, ...]]:
    """Return the stills by view, the turntable if one is wanted, and the engine's notes."""
    stills: dict[str, Picture] = {}
    notes: dict[str, None] = {}
    turn: Photo | None = None
    views = [VIEWS[name] for name in STILLS]
    for is_flipped in (False, True):
        with studio(design, options, is_flipped=is_flipped, is_still=False) as room:
            notes.update(dict.fromkeys(room.notes))
            for view in (each for each in views if each.is_flipped == is_flipped):
                progress(len(stills), view.name)
                stills[view.name] = room.shoot(view, room.camera(view, options.size), options.size, options)
            if not is_flipped and options.frames:
                turn = _turntable(room, options, lambda i, *_: progress(len(STILLS) + i, "turntable"))
    return {name: stills[name] for name in STILLS}, turn, tuple(notes)


def _still(design: Design, view: str, taken: Picture, quality: int) -> Photo:
    shown, alt = ink_over_paint.flatten(taken.pixels), f"{design.name}, {VIEWS[view].about}"
    return jpeg_photo(f"{view}.jpg", shown, alt=alt, caption=STILLS[view], quality=quality)


def _turntable(room: Studio, options: Options, progress: Any) -> Photo:
    view, size, draft = VIEWS[_TURN_VIEW], options.turn_size, replace(options, quality="draft")
    camera = room.camera(view, size, turns_deg=framing.whole_turn())
    turning = room.turn(shot(view, camera, size, draft), view.name, options.frames, progress)
    frames = (ink_over_paint.flatten(taken.pixels) for taken in turning)
    return Photo(
        name="turntable.webp",
        data=animation(frames, frame_ms=1000.0 * _TURN_SECONDS / options.frames, kind="webp", quality=80),
        media="image/webp",
        width_px=size[0],
        height_px=size[1],
        alt=f"{room.design.name} turning once round",
        caption="One turn",
        is_moving=True,
    )


def _model(design: Design, texture_px: int) -> bytes:
    scene = assemble(design, presets()["bench"])
    return glb(scene, name=design.name, generator=f"mockup {__version__}", texture_px=texture_px)
