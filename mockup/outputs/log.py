"""Write a build log: one page with pictures, model, drill table, parts and steps."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from mockup import __version__
from mockup.checks.report.run import run
from mockup.decal import ink_over_paint
from mockup.encode.animation import animation
from mockup.encode.document import Document, Gallery, Photo, Section, Spin
from mockup.encode.gltf import glb
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg
from mockup.encode.markdown import markdown
from mockup.fingerprint import fingerprint
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.scene import Look
from mockup.options import Progress, Result, bad_option, file_stem, option, parse_size, require_ending, silent
from mockup.outputs.pages import log_words
from mockup.picture import framing
from mockup.picture.options import PictureRequest, grounded_lights
from mockup.picture.studio import Studio, shot, studio
from mockup.scene.assemble import assemble
from mockup.scene.views import VIEWS, View

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
_MOST_COPIES = 1000  # pedals; more is a factory: our choice
_PAGE_TEXTURE_PX = 2048  # the art in the page's model, largest side; the file of `mockup model` holds more: our choice


@dataclass(frozen=True, kw_only=True)
class Options(PictureRequest):
    """What goes onto the page, how well, and where to put it."""

    view: tuple[str, ...] = tuple(STILLS)
    look: Look = "photo"
    background: str = PictureRequest.background
    seconds: float | None = None
    size: tuple[int, int] = option((1280, 960), "width x height of each picture in pixels", parse=parse_size)
    frames: int = option(36, "pictures in the turntable; 0 for none")
    turn_size: tuple[int, int] = option((720, 540), "width x height of the turntable in pixels", parse=parse_size)
    light: str = option("bench", "light and ground", choices=grounded_lights, noun="light with a ground")
    copies: int = option(1, "how many pedals the list of parts is for")
    output: str | None = option(
        None, "file to write: .html, or .md with its pictures beside", short="o", suffixes=(".html", ".md")
    )
    others: tuple[Design, ...] = option((), "designs of the layout's other variants", reads="variants")


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the page; for Markdown the text, then its pictures and models in a folder beside it."""
    target = require_ending(options.output or f"{file_stem(design.name)}-log.html", SUFFIXES)
    if not (options.frames == 0 or 2 <= options.frames <= _MAX_FRAMES):
        raise bad_option("frames", f"{options.frames} is out of range", f"a turn has 2 to {_MAX_FRAMES} frames, or 0")
    if not 1 <= options.copies <= _MOST_COPIES:
        raise bad_option("copies", f"{options.copies} is out of range", f"give 1 to {_MOST_COPIES}")
    shown, notes = document(design, options, progress)
    files: dict[str, bytes]
    if target.suffix.lower() == ".md":
        folder = f"{target.stem}-files"
        text, beside = markdown(shown, folder)
        files = {str(target): text} | {str(target.parent / name): data for name, data in beside.items()}
    else:
        files = {str(target): html(shown, options.lighting)}
    variants = [each.variant for each in (design, *options.others)]
    facts: dict[str, Any] = {"file": str(target), "bytes": sum(map(len, files.values())), "variants": variants}
    return Result(files=files, facts={"log": facts}, notes=notes)


def document(design: Design, options: Options, progress: Progress = silent) -> tuple[Document, tuple[str, ...]]:
    """Return the log as a document, and notes that a user should read once."""
    total = len(STILLS) + options.frames + 2 + len(options.others)
    findings = run(design)
    progress(1, total, "checks")
    stills, turn, notes = _pictures(design, options, lambda done, what: progress(done + 1, total, what))
    models = []
    for number, each in enumerate((design, *options.others)):
        progress(total - 1 - len(options.others) + number, total, "model")
        models.append((each.variant or "as designed", _model(each)))
    progress(total, total, "done")
    box = design.enclosure
    words = log_words.sections(design, findings, options.copies)
    spin = Spin(
        models=tuple(models),
        alt=f"3D model of the pedal {design.name}, to turn",
        file_name=f"{file_stem(design.name)}.glb",
    )
    sections = (
        Section(heading="Pictures", blocks=(Gallery(photos=stills),)),
        *((Section(heading="Once round", blocks=(Gallery(photos=(turn,)),)),) if turn else ()),
        Section(heading="Turn it yourself", blocks=(spin,)),
        *words,
    )
    variant = f", variant {design.variant}" if design.variant else ""
    size = f"{box.length_mm:g} × {box.width_mm:g} × {box.height_mm:g} mm"
    under = f"Build log{variant}. Design {fingerprint(design)}. Box {size}."
    foot = (
        f"Made with mockup {__version__} from {design.source}. Pictures and figures are an aid: measure your own box "
        "and parts before you drill."
    )
    return Document(title=design.name, under=under, sections=sections, foot=foot), notes


def _pictures(
    design: Design, options: Options, progress: Any
) -> tuple[tuple[Photo, ...], Photo | None, tuple[str, ...]]:
    """Return the stills, the turntable if one is wanted, and the engine's notes."""
    stills: dict[str, Photo] = {}
    notes: dict[str, None] = {}
    turn: Photo | None = None
    views = [VIEWS[name] for name in STILLS]
    for is_flipped in (False, True):
        with studio(design, options, is_flipped=is_flipped, is_still=False) as room:
            notes.update(dict.fromkeys(room.notes))
            for view in (each for each in views if each.is_flipped == is_flipped):
                progress(len(stills), view.name)
                taken = room.shoot(view, room.camera(view, options.size), options.size, options)
                stills[view.name] = _still(design, view, taken)
            if not is_flipped and options.frames:
                turn = _turntable(room, options, lambda i, *_: progress(len(STILLS) + i, "turntable"))
    return tuple(stills[name] for name in STILLS), turn, tuple(notes)


def _still(design: Design, view: View, taken: Picture) -> Photo:
    return Photo(
        name=f"{view.name}.jpg",
        data=jpeg(ink_over_paint.flatten(taken.pixels)),
        media="image/jpeg",
        width_px=taken.pixels.shape[1],
        height_px=taken.pixels.shape[0],
        alt=f"{design.name}, {view.about}",
        caption=STILLS[view.name],
    )


def _turntable(room: Studio, options: Options, progress: Any) -> Photo:
    view, size, draft = VIEWS[_TURN_VIEW], options.turn_size, replace(options, quality="draft")
    camera = room.camera(view, size, turns_deg=framing.whole_turn())
    turning = room.turn(shot(view, camera, size, draft), view.name, options.frames, progress)
    frames = [ink_over_paint.flatten(taken.pixels) for taken in turning]
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


def _model(design: Design) -> bytes:
    scene = assemble(design, presets()["bench"])
    return glb(scene, name=design.name, generator=f"mockup {__version__}", texture_px=_PAGE_TEXTURE_PX)
