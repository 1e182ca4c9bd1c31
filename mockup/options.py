"""Options: one dataclass field is one flag of a command, one keyword argument in Python, one control in the window."""

from __future__ import annotations

import hashlib
import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import MISSING, Field, dataclass, field, fields
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any, Literal

from mockup import safe_names
from mockup.model.errors import Fault, InputError, nearest

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.model.picture import Picture

Progress = Callable[[int, int, str], None]
"""Called with (done, total, what is being done)."""

Kind = Literal["truth", "whole number", "number", "text"]
Choices = Callable[[], tuple[str, ...]] | tuple[str, ...]
Reads = Literal["layout", "file", "day", "variants", "copies", "stops"]
UNASKED: tuple[Reads, ...] = ("variants", "copies", "stops")
"""What no flag asks for: it is read off the layout."""

MAX_SIDE_PX = 8192  # what common GL drivers render in one piece; keeps memory bounded
MIN_SIDE_PX = 16
JPEG = (".jpg", ".jpeg")
PICTURES = (".png", *JPEG)  # what `mockup.encode.picture_file` writes
Corners = tuple[tuple[float, float], ...]
"""Four places in a picture, in pixels from its top left corner."""
_SPELLINGS = (".htm", ".jpeg")  # of endings that are listed already
_LONGEST_STEM = 120  # bytes; file systems take 255 for a whole name, and views, variants and endings follow: our choice
_KINDS: tuple[tuple[str, Kind], ...] = (("bool", "truth"), ("int", "whole number"), ("float", "number"))


def silent(_done: int, _total: int, _what: str) -> None:
    """Report no progress."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Origin:
    """The layout file that something was made of, and the designs in it."""

    layout: Path
    designs: tuple[Design, ...]


@dataclass(frozen=True, kw_only=True)
class Result:
    """What a use case made: file path (as text) to bytes, facts for people and programs, notes.

    `files` are in order of interest: the first one is the main one. `pictures` are those among them that were
    rendered, as pixels and in the same order. `made_of` is the layout file that a page was made of.
    """

    files: dict[str, bytes]
    facts: dict[str, Any]
    notes: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    made_of: Origin | None = None

    @property
    def picture(self) -> Picture:
        """The first picture; `ValueError` where there is none."""
        if not self.pictures:
            raise ValueError("this result holds no picture")
        return self.pictures[0]


def option(
    default: Any,
    help: str,
    *,
    choices: Choices | None = None,
    noun: str | None = None,
    parse: Callable[[str], Any] | None = None,
    short: str | None = None,
    alias: str | None = None,
    metavar: str | None = None,
    suffixes: tuple[str, ...] = (),
    reads: Reads | None = None,
) -> Any:
    """Return a dataclass field that carries what a command line needs to know of it; a field without is no flag.

    `choices` may be a function, asked only when needed, so that listing costs no import; `noun` is what a
    message calls one of them, the field's name otherwise. `parse` turns text into the value and raises
    `ValueError` with one plain sentence. `reads` says that files stand behind the words of a command line: the
    value is the design of a layout file, or a file's name and bytes; "day" gives today's date where nothing is given,
    for outputs themselves look at no clock. "variants", the designs of the layout's other variants, "copies", those of
    a series after the first, and "stops", how many findings stop the build, are no flags at all. `alias` is a second
    long name. `suffixes` are the kinds of file that may be written, the usual one first. A field whose name is a word
    of the language ends in an underscore, which the flag leaves out.
    """
    told = {"help": help, "known": choices, "noun": noun, "parse": parse, "short": short, "alias": alias}
    return field(default=default, metadata=told | {"metavar": metavar, "reads": reads, "suffixes": suffixes})


@dataclass(frozen=True, kw_only=True)
class OptionField:
    """One option of a command, as the command line, Python and the window offer it.

    `kind` is that of one value, text where it is parsed; with `is_many` the value is a tuple of them. `type` is the
    annotation as it is written.
    """

    name: str
    help: str
    default: Any
    kind: Kind
    type: str
    is_many: bool = False
    known: Choices | None = None
    noun: str | None = None
    parse: Callable[[str], Any] | None = None
    short: str | None = None
    alias: str | None = None
    metavar: str | None = None
    reads: Reads | None = None
    suffixes: tuple[str, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """All values there are, empty where any will do."""
        return tuple(self.known() if callable(self.known) else self.known or ())

    @property
    def flag(self) -> str:
        """The long flag, such as ``--keep-frames``."""
        return flag(self.name)

    @property
    def default_text(self) -> str:
        """The default as a user would type it, "" for none."""
        if isinstance(self.default, tuple):
            return ("x" if self.parse else ", ").join(map(str, self.default))
        return "" if self.default is None else str(self.default)

    def from_text(self, text: str) -> Any:
        """Return the value that a text stands for, several with commas between; the default where it is empty.

        Raises `InputError` where it is no value of the option.
        """
        text = text.strip()
        if not text:
            return self.default
        if self.parse is None and self.is_many:
            return tuple(each.strip() for each in text.split(","))
        numbers: dict[str, Callable[[str], Any]] = {"whole number": int, "number": float}
        try:
            return (self.parse or numbers.get(self.kind, str))(text)
        except ValueError as error:
            if self.parse is not None:
                raise bad_option(self.name, str(error)) from None
            what = f"{text!r} is not a {self.kind}"
            raise bad_option(self.name, what, f"for example {self.default}") from None


def option_fields(options: Any) -> tuple[OptionField, ...]:
    """Return the options of an Options dataclass, or of a value of one, in the order they are declared."""
    return tuple(_option_field(each) for each in fields(options) if "help" in each.metadata)


def require_choices(options: Any) -> None:
    """Raise `InputError` for the first value of an Options dataclass that is none of its field's choices."""
    for each in option_fields(options):
        value = getattr(options, each.name)
        if each.known is None or value is None or value == each.default:
            continue
        for one in value if isinstance(value, tuple) else (value,):
            if one not in each.choices:
                what = f"there is no {each.noun or each.name} {one!r}"
                raise bad_option(each.name, what, nearest(str(one), each.choices))


@dataclass(frozen=True, kw_only=True)
class DesignRequest:
    """Which design of a layout file is meant."""

    variant: str | None = option(None, "a variant that the layout file names")
    printer: str | None = option(None, "a calibrated printer instead of the layout's ink settings")
    as_built: bool = option(False, "with the holes where they were drilled, of the file built.toml")


def parse_size(text: str) -> tuple[int, int]:
    """Return (width, height) in pixels from text such as ``1600x1200``."""
    match = re.fullmatch(r"\s*(\d+)\s*[x×*]\s*(\d+)\s*", text)
    if match is None:
        raise ValueError(f'{text!r} is not a size; write width x height in pixels, for example "1600x1200"')
    size = int(match[1]), int(match[2])
    problem = size_problem(size)
    if problem:
        raise ValueError(problem)
    return size


def size_problem(size: Sequence[int]) -> str:
    """Return in one sentence what is wrong with a picture's (width, height) in pixels, "" for nothing."""
    if len(size) == 2 and all(MIN_SIDE_PX <= side <= MAX_SIDE_PX for side in size):
        return ""
    found = "x".join(map(str, size))
    return f"{found} is out of range; each side may be {MIN_SIDE_PX} to {MAX_SIDE_PX} pixels"


EXAMPLE_PLACES = {2: "812,340", 4: "210,340,1490,322"}


def place_px(name: str, text: str, count: int = 2) -> tuple[float, ...]:
    """Return a place in pixels, or the two of a line: numbers with commas between; `InputError` for anything else."""
    try:
        found = tuple(float(word) for word in text.split(","))
    except ValueError:
        found = ()
    if len(found) != count or not all(-1e5 < each < 1e5 for each in found):
        shown = ",".join("XY"[index % 2] for index in range(count))
        raise bad_option(name, f"{text!r} is no place in pixels", f"write {shown}, such as {EXAMPLE_PLACES[count]}")
    return found


def parse_corners(text: str) -> Corners:
    """Return four places in pixels from text such as ``90,80 610,84 606,420 88,415``; `ValueError` for all else."""
    try:
        found = tuple((float(x), float(y)) for x, y in (word.split(",") for word in text.split()))
    except ValueError:
        found = ()
    if len(found) != 4 or not all(math.isfinite(each) for place in found for each in place):
        remedy = 'count pixels from the top left, for example "90,80 610,84 606,420 88,415"'
        raise ValueError(f"{text!r} is not four points; {remedy}")
    return found


def bad_option(name: str, what: str, remedy: str = "") -> InputError:
    """Return the error of a wrong option value, named as the command line names it."""
    return InputError(Fault(file=flag(name), what=what, remedy=remedy))


def require_range(name: str, value: float | None, least: float, most: float, unit: str = "") -> None:
    """Raise `InputError` where an option's value lies beyond what it may be; None is no value."""
    if value is not None and not least <= value <= most:
        raise bad_option(name, f"{value:.12g}{unit} is out of range", f"give {least:.12g} to {most:.12g}{unit}")


def require_ending(
    path: str | PurePath, suffixes: Sequence[str], name: str = "output", *, no_jpeg: str = ""
) -> PurePath:
    """Return the path of a file to write; `InputError` where its name ends in none of the suffixes.

    `no_jpeg` says why it cannot be a JPEG, where it can be another picture.
    """
    place = PurePath(path)
    if place.suffix.lower() not in suffixes:
        listed = ", ".join(each for each in suffixes if each not in _SPELLINGS)
        why = f": {no_jpeg}" if no_jpeg and place.suffix.lower() in JPEG else ""
        raise bad_option(name, f"{place.name!r} has an unknown ending", f"end the name in {listed}{why}")
    return place


def flag(name: str) -> str:
    """Return the long flag of a field, such as ``--keep-frames``."""
    return "--" + name.rstrip("_").replace("_", "-")


def file_stem(name: str) -> str:
    """Return a pedal's name as a file name that every system takes: lower case, hyphens.

    Letters and figures stay, of whatever alphabet; a name without any is spelled out, a star as "black-star".
    """
    plain = unicodedata.normalize("NFC", name.casefold())
    if not any(each.isalnum() for each in plain):
        plain = "-".join(unicodedata.name(each, f"u{ord(each):x}").casefold() for each in plain if not each.isspace())
    stem = "-".join(filter(None, "".join(each if _is_in_words(each) else "-" for each in plain).split("-")))
    if len(stem.encode()) > _LONGEST_STEM:  # two long names that begin alike stay apart
        start = stem.encode()[: _LONGEST_STEM - 9].decode(errors="ignore").strip("-")
        stem = f"{start}-{hashlib.blake2b(name.encode(errors='replace'), digest_size=4).hexdigest()}"
    return f"{stem}-pedal" if safe_names.is_device(stem) else stem or "pedal"


def _is_in_words(character: str) -> bool:
    """Return whether a character is a letter or a figure, or stands on one, as vowels do in many alphabets."""
    return character.isalnum() or unicodedata.category(character).startswith("M")


def _option_field(each: Field[Any]) -> OptionField:
    written = each.type if isinstance(each.type, str) else getattr(each.type, "__name__", str(each.type))
    one = "str" if each.metadata["parse"] else written.removeprefix("tuple[")
    return OptionField(
        name=each.name,
        default=None if each.default is MISSING else each.default,
        kind=next((kind for start, kind in _KINDS if one.startswith(start)), "text"),
        type=written,
        is_many=written.startswith("tuple[") and ", ...]" in written,
        **each.metadata,
    )
