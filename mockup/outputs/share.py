"""Make what you post: pictures, a light turn, an overview, a log for others, and a page with their alt text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from mockup.model.scene import QUALITIES, Look, Quality, Stage
from mockup.options import Progress, Result, bad_option, file_stem, option, parse_size, require_ending, silent
from mockup.outputs import OUTPUTS
from mockup.picture.options import PictureRequest, ground_option, grounded_lights, require_ground

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mockup.model.design import Design
    from mockup.model.picture import Picture

SUFFIXES = (".html",)
TURN_KINDS = ("webp", "gif", "mp4")
_LOG, _LOG_STEPS = "log.html", 6  # its name, and its share of all that is counted as progress
DETAIL = "detail"
_ORDER = ("hero", "above", DETAIL, "inside")
_SMALL = "-small"  # at the end of a smaller copy's name
_SMALL_PX = 800  # its longest side: common practice, no source
_SHORTEST_TURN_MB = 0.05
_LOG_SIZE = (960, 720)  # of the log's pictures: our choice
_TURN_SECONDS = 5.0  # our taste
_MB = 1_000_000
_SMALLER = 0.85  # of its width that a turn keeps each time that it is too large: our choice
_INK = (0.15, 0.15, 0.15)  # of the overview's words: our choice
_PAPER = (0.96, 0.96, 0.96)  # of its ground: our choice
_LEAST_PX = 64  # nobody sees a pedal in less


@dataclass(frozen=True, kw_only=True)
class Options(PictureRequest):
    """How large and how good the pictures are, how light the turn is, and where to put them."""

    view: tuple[str, ...] = tuple(view for view in _ORDER if view != DETAIL)
    look: Look = "photo"
    stage: Stage = "finished"
    background: str = ground_option()
    size: tuple[int, int] = option((1600, 1200), "width x height of each large picture in pixels", parse=parse_size)
    quality: Quality = option("normal", "how much work goes into each picture", choices=QUALITIES)
    light: str = option("bench", "light and ground", choices=grounded_lights, noun="light with a ground")
    detail: str | None = option(
        None, "a part's name or a label's words for the close picture; the pedal's name by default"
    )
    frames: int = option(30, "pictures in the turn; 0 for none")
    turn_size: tuple[int, int] = option((640, 480), "width x height of the turn in pixels, at most", parse=parse_size)
    turn_kind: str = option("webp", "kind of file of the turn", choices=TURN_KINDS, noun="kind of turn")
    turn_mb: float = option(2.0, "how large the turn's file may be, in megabytes")
    output: str | None = option(
        None, "page to write; what you post lies in a folder beside", short="o", suffixes=SUFFIXES
    )
    others: tuple[Design, ...] = option((), "designs of the layout's other variants", reads="variants")


@dataclass(frozen=True, kw_only=True)
class _Posted:
    """A file to post: its title, what it shows for whoever cannot see it; of the still that the page shows its size."""

    name: str
    data: bytes
    title: str
    alt: str
    shown_px: tuple[int, int] | None = None


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the page with titles and alt text, then the files that it tells of, the overview first."""
    still, turntable, log = (OUTPUTS.load(name) for name in ("still", "turntable", "log"))  # as a builder asks for them
    target = require_ending(options.output or f"{file_stem(design.name)}-share.html", SUFFIXES)
    require_ground(options.background)
    folder = target.with_suffix("")
    if not _SHORTEST_TURN_MB <= options.turn_mb <= 100.0:
        raise bad_option("turn-mb", f"{options.turn_mb:g} is out of range", f"give {_SHORTEST_TURN_MB:g} to 100")
    if options.frames:
        turntable.require_turn(options.frames, _TURN_SECONDS, options.turn_size)
    shared = {name: getattr(options, name) for name in ("quality", "light", "background", "room", "engine", "seconds")}
    total, done = 5 + options.frames + _LOG_STEPS, 0

    def step(count: int) -> Progress:
        return lambda at, _of, what: progress(done + min(at, count), total, what)

    subject = options.detail or _subject(design)
    asked = still.Options(view=options.view, size=options.size, **shared)
    shots: list[tuple[str, Picture, tuple[str, ...]]] = []
    if subject is not None:  # first, so that an unknown name is told at once
        shots = list(still.pictures(design, replace(asked, detail=subject), step(1)))
    done += 1
    shots += still.pictures(design, asked, step(4))
    done += 4
    taken = {view: picture for view, picture, _ in sorted(shots, key=lambda each: _ORDER.index(each[0]))}
    notes = [note for _, _, said in shots for note in said]
    posted = [_overview(design, taken, subject), *_stills(design, taken, subject)]
    if options.frames:
        turn = turntable.Options(
            frames=options.frames, size=options.turn_size, **shared | {"quality": "draft", "seconds": None}
        )
        frames = [picture.pixels for picture, _ in turntable.pictures(design, turn, step(options.frames))]
        posted.append(_turn(design, frames, options))
        done += options.frames
    page = log.Options(
        size=min(_LOG_SIZE, options.size),
        frames=0,
        for_others=True,
        output=_LOG,
        others=options.others,
        **shared | {"seconds": None},
    )
    made = log.make(design, page, step(_LOG_STEPS))
    title, alt = f"{design.name}: build log", "A page with a model to turn, every hole, the parts and the steps."
    posted.append(_Posted(name=_LOG, data=made.files[_LOG], title=title, alt=alt))
    notes += [*made.notes, *_unknown_terms(design)]
    progress(total, total, "done")
    files = {str(target): _page(design, posted, options)}
    files |= {str(folder / each.name): each.data for each in posted}
    facts = [
        {"file": str(folder / each.name), "bytes": len(each.data), "title": each.title, "alt": each.alt}
        for each in posted
    ]
    return Result(
        files=files, facts={"share": facts}, notes=tuple(dict.fromkeys(notes)), pictures=tuple(taken.values())
    )


def _subject(design: Design) -> str | None:
    """Return what the close picture shows: the pedal's name, else its largest knob, else the first thing on it."""
    name = design.name.casefold()
    if any(label.text.casefold() == name for label in design.labels):
        return design.name
    knobs = [part for part in design.parts if part.knob is not None]
    if knobs:
        return max(knobs, key=lambda part: part.knob.diameter_mm if part.knob else 0.0).name
    return next((each.name for each in design.parts), next((each.text for each in design.labels), None))


def _shows(view: str, subject: str | None) -> str:
    """Return in words what a picture shows."""
    if view == DETAIL:
        return f"close to {subject}"
    return {"hero": "finished, from a low angle", "above": "straight from above", "inside": "turned over, lid off"}[
        view
    ]


def _alt(design: Design, view: str, subject: str | None) -> str:
    """Return what a picture shows, for whoever cannot see it: the pedal, its finish and its controls."""
    box, sheen = design.enclosure, design.finish.sheen
    finish = f"{sheen.name} paint" if sheen.is_painted else "bare metal"
    said = (
        f"Guitar pedal {design.name}, {_shows(view, subject)}. Box {box.length_mm:g} by {box.width_mm:g} mm, {finish}."
    )
    controls = [part.name for part in design.parts if part.face == "top"]
    if view in ("hero", "above") and controls:
        said += f" On its top: {', '.join(controls)}."
    return said


def _stills(design: Design, taken: Mapping[str, Picture], subject: str | None) -> list[_Posted]:
    """Return each picture large, and where it is, small too for where that is too much; the page shows the smallest."""
    from mockup.decal.ink_over_paint import flatten
    from mockup.encode.jpeg import jpeg
    from mockup.encode.pixels import resampled

    found = []
    for view, picture in taken.items():
        large = flatten(picture.pixels)
        tall, wide = large.shape[:2]
        share = min(1.0, _SMALL_PX / max(tall, wide))
        title, alt = f"{design.name}, {_shows(view, subject)}", _alt(design, view, subject)
        text = {**picture.facts, "Title": title, "Description": alt}
        sizes = {"": large}
        if share < 1.0:
            sizes[_SMALL] = resampled(large, round(wide * share), round(tall * share))
        for ending, pixels in sizes.items():
            data = jpeg(pixels, dpi=picture.dpi if not ending else None, text=text)
            shown = pixels.shape[1::-1] if ending == tuple(sizes)[-1] else None
            found.append(_Posted(name=f"{view}{ending}.jpg", data=data, title=title, alt=alt, shown_px=shown))
    return found


def _overview(design: Design, taken: Mapping[str, Picture], subject: str | None) -> _Posted:
    """Return all pictures as one: the first large, the others in a column beside it, what it is beneath."""
    from mockup.encode.jpeg import jpeg

    shown = list(taken.values())
    pixels = _collage(design, shown)
    words = "; ".join(_shows(view, subject) for view in taken)
    title = f"{design.name}: overview"
    alt = f"Guitar pedal {design.name} in {len(shown)} pictures: {words}."
    text = {**shown[0].facts, "Title": title, "Description": alt, "View": "overview"}
    return _Posted(name="overview.jpg", data=jpeg(pixels, text=text), title=title, alt=alt)


def _collage(design: Design, shown: list[Picture]) -> NDArray[np.uint8]:
    from mockup.decal.ink_over_paint import flatten
    from mockup.encode.pixels import pixels
    from mockup.fingerprint import fingerprint
    from mockup.model.sheet import Image, Mark, Page, Text

    tall, wide = shown[0].pixels.shape[:2]
    gap, beside = max(2, wide // 130), len(shown) - 1
    each_tall = (tall - gap * (beside - 1)) / beside
    each_wide = round(each_tall * wide / tall)
    band = max(24, tall // 12)
    marks: list[Mark] = [
        Image(x_mm=gap, y_mm=gap, width_mm=wide, height_mm=tall, pixels=flatten(shown[0].pixels)),
        *(
            Image(
                x_mm=2 * gap + wide,
                y_mm=gap + round(place * (each_tall + gap)),
                width_mm=each_wide,
                height_mm=round(each_tall),
                pixels=flatten(picture.pixels),
            )
            for place, picture in enumerate(shown[1:])
        ),
    ]
    box = design.enclosure
    about = f"{box.length_mm:g} × {box.width_mm:g} × {box.height_mm:g} mm, design {fingerprint(design)}"
    base = gap + tall + band * 0.66
    marks += [
        Text(x_mm=2 * gap, y_mm=base, text=design.name, size_mm=band * 0.46, is_bold=True, colour=_INK),
        Text(x_mm=gap + wide + gap + each_wide, y_mm=base, text=about, size_mm=band * 0.3, anchor="end", colour=_INK),
    ]
    page = Page(width_mm=3 * gap + wide + each_wide, height_mm=gap + tall + band, marks=tuple(marks))
    return pixels(page, 1.0, _PAPER)


def _turn(design: Design, frames: list[NDArray[np.uint8]], options: Options) -> _Posted:
    """Return the turn, made smaller until its file is as light as asked for."""
    animated = OUTPUTS.load("turntable").animated
    name = f"turn.{options.turn_kind}"
    data = lightest(lambda shown: animated(shown, f".{options.turn_kind}", _TURN_SECONDS), frames, options.turn_mb)
    alt = f"Guitar pedal {design.name} turning once round."
    return _Posted(name=name, data=data, title=f"{design.name}, once round", alt=alt)


def lightest(
    encoded: Callable[[list[NDArray[np.uint8]]], bytes], frames: list[NDArray[np.uint8]], most_mb: float
) -> bytes:
    """Return a turn's file of at most so many megabytes: its frames are made smaller until it is.

    Raises `InputError` where frames that can still be seen are too much.
    """
    from mockup.encode.pixels import resampled

    tall, wide = frames[0].shape[:2]
    shown, data = frames, encoded(frames)
    while len(data) > most_mb * _MB:
        share = min(_SMALLER, (most_mb * _MB / len(data)) ** 0.5)
        wide, tall = (max(2, int(side * share) // 2 * 2) for side in (wide, tall))  # even, so that a video takes them
        if wide < _LEAST_PX:
            what = f"a turn of {len(frames)} pictures is larger than {most_mb:g} MB at any size worth seeing"
            raise bad_option("turn-mb", what, "allow more, or take fewer frames or another --turn-kind")
        shown = [resampled(each, wide, tall) for each in frames]
        data = encoded(shown)
    return data


def _unknown_terms(design: Design) -> list[str]:
    return [
        f"{each.file}: nobody has written down whose it is; say so in [[credit]] before you post it"
        for each in design.making.credits
        if not (each.author or each.terms or each.source)
    ]


def _page(design: Design, posted: list[_Posted], options: Options) -> bytes:
    """Return the page to copy from: small pictures, each file with its title and alt text, where art comes from."""
    from mockup.encode.document import Document, Gallery, Paragraph, Photo, Section, TextTable
    from mockup.encode.html import html
    from mockup.fingerprint import fingerprint
    from mockup.outputs.pages.making_words import making_sections

    photos = tuple(
        Photo(
            name=each.name,
            data=each.data,
            media="image/jpeg",
            width_px=each.shown_px[0],
            height_px=each.shown_px[1],
            alt=each.alt,
            caption=each.title,
        )
        for each in posted
        if each.shown_px is not None
    )
    rows = tuple(
        (each.name, f"{max(1, round(len(each.data) / 1000))}\u00a0kB", each.title, each.alt) for each in posted
    )
    table = TextTable(head=("File", "Size", "Title", "Alt text"), rows=rows, is_right=(1,))
    said = "Copy the words from here. Alt text is for whoever cannot see the picture; most places have a field for it."
    sections = (
        Section(heading="Pictures", blocks=(Gallery(photos=photos),)),
        Section(heading="Files, titles and alt text", blocks=(Paragraph(text=said), table)),
        *making_sections(replace(design.making.for_others, paint=(), coats=(), film=(), printer=(), purpose=None)),
    )
    foot = "The log among the files says nothing of the checks, of suppliers and remarks, or of who bought which."
    under = f"To post. Design {fingerprint(design)}."
    return html(
        Document(title=design.name, under=under, sections=sections, foot=foot, sort="to post"), options.lighting
    )
