"""Make still pictures of the finished pedal."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import PurePath
from typing import Any

from mockup.encode.png import png
from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.scene import Look, Quality
from mockup.options import Progress, Result, bad_option, file_stem, option, parse_size, silent
from mockup.picture.doubt import side_by_side, versions
from mockup.picture.studio import StudioOptions, lit, named_view, studio
from mockup.scene.cameras import VIEWS

ALL = "all"


@dataclass(frozen=True, kw_only=True)
class Options(StudioOptions):
    """What to picture, how large, how well, and where to put it."""

    view: tuple[str, ...] = option(
        ("three-quarter",), "where the camera stands; repeat for several", choices=(*VIEWS, ALL)
    )
    size: tuple[int, int] = option((1600, 1200), "width x height in pixels", parse=parse_size)
    look: str = option(
        "photo", "photo: in a studio; proof: unlit, exactly the predicted colours", choices=("photo", "proof")
    )
    quality: str = option("normal", "how much work goes into it", choices=("draft", "normal", "final"))
    doubt: bool = option(False, "beside a proof, the darkest and lightest it may be (k = 0 and 0.6)")
    output: str | None = option(
        None, "file to write (.png), or a folder for several views", short="o", suffixes=(".png",)
    )


def pictures(
    design: Design, options: Options, progress: Progress = silent
) -> Iterator[tuple[str, Picture, tuple[str, ...]]]:
    """Yield (view, picture, notes) for every view asked for; the scene is built once per pose."""
    if options.doubt:
        yield from _doubtful(design, options, progress)
        return
    names = tuple(VIEWS) if ALL in options.view else tuple(dict.fromkeys(options.view))
    views = [named_view(name) for name in names]
    lighting = lit(options.light, options.background)
    look: Look = options.look  # type: ignore[assignment]  # checked against the choices
    quality: Quality = options.quality  # type: ignore[assignment]
    done = 0
    for is_flipped, group in groupby(sorted(views, key=lambda each: each.is_flipped), key=lambda each: each.is_flipped):
        with studio(design, engine=options.engine, lighting=lighting, look=look, is_flipped=is_flipped) as room:
            for view in group:
                progress(done, len(views), view.name)
                camera = room.camera(view, options.size)
                taken = room.shoot(view, camera, options.size, look=look, quality=quality, seconds=options.seconds)
                yield view.name, taken, room.notes
                done += 1
    progress(done, len(views), "done")


def _doubtful(design: Design, options: Options, progress: Progress) -> Iterator[tuple[str, Picture, tuple[str, ...]]]:
    """Yield (view, three pictures side by side, notes) for every view asked for."""
    if options.look != "proof":
        raise bad_option("doubt", "only a proof shows its doubt", "add: --look proof")
    plain = replace(options, doubt=False)
    # One version after the other: an engine has one session at a time.
    rows = [(caption, list(pictures(each, plain, progress))) for caption, each in versions(design)]
    for taken in zip(*(row for _, row in rows), strict=True):
        panels = [(caption, picture) for (caption, _), (_, picture, _) in zip(rows, taken, strict=True)]
        yield taken[0][0], side_by_side(panels), taken[0][2]


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return one PNG file per view."""
    paths = _paths(file_stem(design.name), options)
    files: dict[str, bytes] = {}
    facts: list[dict[str, Any]] = []
    notes: dict[str, None] = {}
    for view, picture, said in pictures(design, options, progress):
        path = paths(view)
        files[path] = png(picture.pixels, dpi=picture.dpi, text=picture.facts)
        facts.append({"file": path, **{key.lower(): value for key, value in picture.facts.items()}})
        notes.update(dict.fromkeys(said))
    return Result(files=files, facts={"pictures": facts}, notes=tuple(notes))


def _paths(name: str, options: Options) -> Callable[[str], str]:
    target = PurePath(options.output) if options.output else None
    is_many = len(options.view) > 1 or ALL in options.view
    if target is not None and target.suffix.lower() not in {"", ".png"}:
        raise bad_option("output", f"{target.name!r} is no PNG file", 'end the name in ".png", or name a folder')

    def path(view: str) -> str:
        if target is None:
            return f"{name}-{view}.png"
        if not target.suffix:
            return str(target / f"{name}-{view}.png")
        return str(target.with_name(f"{target.stem}-{view}.png")) if is_many else str(target)

    return path


def picture(design: Design, view: str, **options: Any) -> Picture:
    """Return one picture of a view; keyword arguments are the fields of `Options`."""
    chosen = Options(view=(view,), **options)
    return next(taken for _, taken, _ in pictures(design, chosen))
