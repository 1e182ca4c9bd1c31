"""Make still pictures of the finished pedal."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import PurePath
from typing import TYPE_CHECKING

from mockup.options import PICTURES, Progress, Result, bad_option, file_stem, option, parse_size, silent
from mockup.picture.options import PictureRequest, view_names
from mockup.scene.views import VIEWS

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.model.picture import Picture

ALL = "all"


def _views() -> tuple[str, ...]:
    return (*view_names(), ALL)


@dataclass(frozen=True, kw_only=True)
class Options(PictureRequest):
    """What to picture, how large, how well, and where to put it."""

    view: tuple[str, ...] = option(PictureRequest.view, "where the camera stands; repeat for several", choices=_views)
    size: tuple[int, int] = option((1600, 1200), "width x height in pixels", parse=parse_size)
    doubt: bool = option(False, "beside a proof, the darkest and lightest that nine prints in ten keep within")
    detail: str | None = option(None, "a part's name or a label's words: a close shot of it, not of the whole pedal")
    chip: bool = option(False, "a chip of the paint with its figures in the corner")
    output: str | None = option(
        None, "file to write (.png or .jpg), or a folder for several views", short="o", suffixes=PICTURES
    )


def pictures(
    design: Design, options: Options, progress: Progress = silent
) -> Iterator[tuple[str, Picture, tuple[str, ...]]]:
    """Yield (view, picture, notes) for every view asked for; the scene is built once per pose."""
    for view, picture, notes in _plain(design, options, progress):
        yield view, _finished(picture, design, options), notes


def _finished(picture: Picture, design: Design, options: Options) -> Picture:
    from mockup.picture.paint_chip import with_chip

    return with_chip(picture, design.finish) if options.chip else picture


def _plain(design: Design, options: Options, progress: Progress) -> Iterator[tuple[str, Picture, tuple[str, ...]]]:
    from mockup.picture.studio import studio

    if options.doubt:
        yield from _doubtful(design, options, progress)
        return
    if options.detail is not None:
        from mockup.picture.detail import DETAIL, detail

        progress(0, 1, options.detail)
        with studio(design, options) as room:
            taken = room.take(detail(room, options.detail, options), f"detail of {options.detail}")
            yield DETAIL.name, taken, room.notes
        return
    views = [VIEWS[name] for name in (VIEWS if ALL in options.view else dict.fromkeys(options.view))]
    done = 0
    for is_flipped, group in groupby(sorted(views, key=lambda each: each.is_flipped), key=lambda each: each.is_flipped):
        with studio(design, options, is_flipped=is_flipped) as room:
            for view in group:
                progress(done, len(views), view.name)
                camera = room.camera(view, options.size)
                yield view.name, room.shoot(view, camera, options.size, options), room.notes
                done += 1
    progress(done, len(views), "done")


def _doubtful(design: Design, options: Options, progress: Progress) -> Iterator[tuple[str, Picture, tuple[str, ...]]]:
    """Yield (view, three pictures side by side, notes) for every view asked for."""
    from mockup.picture.doubt import side_by_side, versions

    if options.look != "proof":
        raise bad_option("doubt", "only a proof can show its doubt", "add: --look proof")
    plain = replace(options, doubt=False)
    # One version after the other: an engine has one session at a time.
    rows = [(caption, list(pictures(each, plain, progress))) for caption, each in versions(design)]
    for taken in zip(*(row for _, row in rows), strict=True):
        panels = [(caption, picture) for (caption, _), (_, picture, _) in zip(rows, taken, strict=True)]
        yield taken[0][0], side_by_side(panels), taken[0][2]


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return one file per view: PNG, or JPEG where the file's name asks for it."""
    from mockup.encode.picture_file import picture_file

    paths = _paths(file_stem(design.name), options)
    taken = list(pictures(design, options, progress))
    files = {
        (name := paths(view)): picture_file(name, each.pixels, dpi=each.dpi, text=each.facts) for view, each, _ in taken
    }
    facts = [
        {"file": paths(view), **{key.lower(): value for key, value in each.facts.items()}} for view, each, _ in taken
    ]
    notes = tuple(dict.fromkeys(note for _, _, said in taken for note in said))
    return Result(files=files, facts={"pictures": facts}, notes=notes, pictures=tuple(each for _, each, _ in taken))


def _paths(name: str, options: Options) -> Callable[[str], str]:
    target = PurePath(options.output) if options.output else None
    is_many = len(options.view) > 1 or ALL in options.view
    if target is not None and target.suffix.lower() not in {"", *PICTURES}:
        remedy = 'end the name in ".png" or ".jpg", or name a folder'
        raise bad_option("output", f"{target.name!r} is not a PNG or JPEG file", remedy)

    def path(view: str) -> str:
        if target is None:
            return f"{name}-{view}.png"
        if not target.suffix:
            return str(target / f"{name}-{view}.png")
        return str(target.with_name(f"{target.stem}-{view}{target.suffix}")) if is_many else str(target)

    return path
