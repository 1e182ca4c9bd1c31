"""From words on a command line to pedals side by side: which layouts, which variants, under which captions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from mockup import api, files
from mockup.comparison.sheet.grid import LEAST, MOST
from mockup.layout_source import in_folder
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.errors import Fault, InputError
from mockup.model.finish import Artwork
from mockup.whole_file import check_name

AS_DESIGNED = "as designed"
EVERY = "*"
AT = "@"


@dataclass(frozen=True, kw_only=True)
class Pedal:
    """One pedal to show: a layout file, and the name of its variant or None for the file itself."""

    path: Path
    variant: str | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Column:
    """One pedal under its caption, which no other column has.

    `near_mm` is how far lettering found in the art may lie from where the first pedal has it and still be the
    same: more than 0 where art was shifted, as by hand.
    """

    label: str
    design: Design
    near_mm: float = 0.0


def pedals(words: Sequence[str]) -> tuple[Pedal, ...]:
    """Return the pedals that some words name: FILE, FILE@VARIANT, FILE@* (all variants).

    One file alone stands for itself and all its variants. Raises `InputError` where that makes fewer than
    2 or more than 12, or a file cannot be read.
    """
    found: list[Pedal] = []
    for word in words:
        path, variant = split(word)
        if variant == EVERY or (variant is None and len(words) == 1):
            names = api.variants(path)
            found += [Pedal(path=path, variant=name) for name in names]
            if variant is None:
                found.insert(0, Pedal(path=path))
        else:
            found.append(Pedal(path=path, variant=variant or None))
    if not LEAST <= len(found) <= MOST:
        raise InputError(_miscounted(words, len(found)))
    return tuple(found)


def columns(named: Sequence[Pedal], printer: str | None = None, as_built: bool = False) -> tuple[Column, ...]:
    """Return pedals loaded and captioned; art that several show is held once.

    Raises `InputError` for whatever is wrong with one of them.
    """
    arts: dict[str, Artwork] = {}
    designs = [_sharing(api.load(each.path, each.variant, printer, as_built), arts) for each in named]
    return tuple(
        Column(label=label, design=design) for label, design in zip(captions(designs, named), designs, strict=True)
    )


def captions(designs: Sequence[Design], pedals: Sequence[Pedal]) -> tuple[str, ...]:
    """Return a caption for each pedal, no two alike: the variant's name, the pedal's, then where it comes from."""
    is_one = len({design.name for design in designs}) == 1
    plain = [
        (design.variant or AS_DESIGNED) if is_one else ", ".join(filter(None, (design.name, design.variant)))
        for design in designs
    ]
    folders = [files.title(pedal.path) for pedal in pedals]
    for more in (folders, [pedal.path.name for pedal in pedals]):
        told: dict[str, set[str]] = {}
        for label, extra in zip(plain, more, strict=True):
            told.setdefault(label, set()).add(extra)
        plain = [
            f"{label} ({extra})" if len(told[label]) > 1 else label for label, extra in zip(plain, more, strict=True)
        ]
    often, seen = Counter(plain), Counter[str]()
    result = []
    for label in plain:
        seen[label] += 1
        result.append(f"{label} ({seen[label]} of {often[label]})" if often[label] > 1 else label)
    return tuple(result)


def split(word: str) -> tuple[Path, str | None]:
    """Return a word's layout file and its variant: None where it names none, "" for the file itself.

    A folder stands for the layout in it; raises `InputError` where that is not one.
    """
    check_name(Path(word), word, word)
    if AT not in word or Path(word).exists():
        return in_folder(word), None
    path, _, variant = word.rpartition(AT)
    return in_folder(path), variant


def _miscounted(words: Sequence[str], count: int) -> Fault:
    if count > MOST:
        remedy = "name fewer layouts or variants"
        return Fault(
            file="compare", what=f"{count} pedals are too many for one sheet, which shows {MOST}", remedy=remedy
        )
    if not words:
        what = "name at least one layout file"
    elif count == 0:
        what = f"{words[0].rpartition(AT)[0]} has no variants"
    else:
        what = f"{words[0]} alone leaves nothing to compare it with"
    remedy = f"name {LEAST} to {MOST} pedals: layout files, or variants as in layout.toml@night"
    return Fault(file="compare", what=what, remedy=remedy)


def _sharing(design: Design, known: dict[str, Artwork]) -> Design:
    """Return a design whose art is the same object as that of an earlier design with the same pixels."""
    decals = []
    for decal in design.decals:
        art = decal.art
        decals.append(replace(decal, art=known.setdefault(digest(art), art)))
    return replace(design, decals=tuple(decals))
