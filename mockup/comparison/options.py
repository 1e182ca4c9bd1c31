"""What a comparison is asked to show, the same for every pedal, and where it goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import Self

from mockup.options import PICTURES, bad_option, option, parse_size, require_ending
from mockup.outputs.turntable import require_turn
from mockup.picture.options import PictureRequest, grounded_lights, view_names

WEB_SUFFIXES = (".html", ".htm")
SUFFIXES = (*PICTURES, ".pdf", *WEB_SUFFIXES)
TURN_SUFFIXES = (".webp", ".gif", ".apng", ".mp4")


@dataclass(frozen=True, kw_only=True)
class CompareOptions(PictureRequest):
    """What a comparison shows, how it is pictured, and where it goes.

    `size` None lets the crop follow the pedals. `turntable` names an animated file in which all pedals turn together.
    """

    view: tuple[str, ...] = option(
        ("three-quarter", "above"),
        "where the camera stands; repeat for several, one under the other",
        choices=view_names,
    )
    size: tuple[int, int] | None = option(
        None, "width x height of each picture in pixels; by default the crop follows the pedals", parse=parse_size
    )
    variant: str | None = None
    marks: bool = option(True, "point at the differences in the pictures")
    page: str = option("a4", "paper of a PDF: a4, letter or width x height in mm")
    turntable: str | None = option(None, "also turn them together: .webp, .gif, .apng or .mp4", metavar="FILE")
    frames: int = option(36, "pictures in one turn")
    turn_seconds: float = option(4.0, "how long one turn lasts when played")
    output: tuple[str, ...] = option(
        (), "file to write: .png, .jpg, .pdf, .html, of a sweep .json; repeat for several", short="o"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        require_page(self.page)
        require_files(self.output, SUFFIXES)
        if any(PurePath(name).suffix.lower() in WEB_SUFFIXES for name in self.output):
            require_ground(self)
        if self.turntable is not None:
            require_ending(self.turntable, TURN_SUFFIXES, "turntable")
            require_turn(self.frames, self.turn_seconds)

    def to_file(self, stem: str) -> Self:
        """Return the options with a picture called `stem` to write, where no file is named."""
        return self if self.output or self.turntable else replace(self, output=(f"{stem}.png",))


def require_page(text: str) -> None:
    """Raise `InputError` for paper that there is not."""
    from mockup.outputs.pages.paper_sizes import page_size  # here, so that flags can be listed without numpy

    page_size(text)


def require_files(names: Sequence[str], suffixes: Sequence[str]) -> None:
    """Raise `InputError` for a file to write that has an unknown ending, or named twice."""
    for name in names:
        require_ending(name, suffixes)
        if names.count(name) > 1:
            raise bad_option("output", f"{name!r} is named twice", "give each file a name of its own")


def require_ground(request: PictureRequest) -> None:
    """Raise `InputError` where the models of a page cannot stand in a light, for want of a table."""
    known = grounded_lights()
    if request.light not in known:
        what = f"{request.light!r} has no ground, which the models on a page stand on"
        raise bad_option("light", what, "use one of: " + ", ".join(known))
