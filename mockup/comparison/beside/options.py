"""What is asked of a photograph of the finished pedal: where things are seen in it, and where its white card lies."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import PurePath

from mockup.options import EXAMPLE_PLACES, bad_option, file_stem, option, place_px, require_ending
from mockup.picture.options import PictureRequest

SUFFIXES = (".html", ".htm", ".md")


@dataclass(frozen=True, kw_only=True)
class BesideOptions(PictureRequest):
    """Where the camera is found by, the white card, and the page to write."""

    view: tuple[str, ...] = ("three-quarter",)
    size: tuple[int, int] | None = None
    look: str = "photo"  # type: ignore[assignment]  # the photograph says what is pictured
    stage: str = "finished"  # type: ignore[assignment]
    background: str = PictureRequest.background
    seconds: float | None = None
    line: tuple[str, ...] = option(
        (), "two points of an edge of the box: near=X,Y,X,Y; far, left and right, and each with -foot; in pixels"
    )
    at: tuple[str, ...] = option(
        (), "where a corner or the middle of a part's top is seen: near-left=X,Y, near-left-foot=X,Y, TONE=X,Y"
    )
    card: str | None = option(None, "where a white card is seen, X,Y; without it colours are not compared")
    places: str | None = option(None, "a text file with a line for each of these: near = X,Y,X,Y or card = X,Y")
    nudge: bool = option(True, "move the camera until the parts lie over one another")
    output: str | None = option(
        None, "page to write: .html, or .md with its pictures beside", short="o", suffixes=(".html", ".md")
    )

    def with_places(self, text: str) -> BesideOptions:
        """Return the same with the places of a file's text added: four numbers are an edge, two a corner or a part."""
        line, at, card = list(self.line), list(self.at), self.card
        for row in filter(None, (each.partition("#")[0].strip() for each in text.splitlines())):
            name, _, value = (word.strip() for word in row.rpartition("="))
            if name.casefold() == "card":
                card = value
            else:
                (line if value.count(",") > 1 else at).append(f"{name}={value}")
        return replace(self, line=tuple(line), at=tuple(at), card=card)

    def target(self, name: str) -> PurePath:
        """Return the page's path; `InputError` for another kind of file."""
        return require_ending(self.output or f"{file_stem(name)}-beside.html", SUFFIXES)


def named(flag: str, text: str, count: int) -> tuple[str, tuple[float, ...]]:
    """Return the name before the last = of an option's text, and the numbers after it."""
    name, sign, rest = text.rpartition("=")
    if not sign:
        raise bad_option(flag, f"{text!r} names nothing", f"write NAME={EXAMPLE_PLACES[count]}")
    return name.strip(), place_px(flag, rest, count)
