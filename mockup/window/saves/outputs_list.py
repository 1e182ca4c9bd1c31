"""The outputs as a builder knows them: their words, their icons, and what each group of them is for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mockup.outputs import OUTPUTS
from mockup.window.saves import output_options
from mockup.window.saves.output_options import Given
from mockup.window.saves.save_worker import PACK

BENCH, SHOW, DRILL, KEEP = "For the bench", "To show", "While you drill", "To keep"
GROUPS = (BENCH, SHOW, DRILL, KEEP)


@dataclass(frozen=True, kw_only=True)
class OutputRow:
    """An output: its name, its word, its icon, the group that it belongs to, and what it is in a few words."""

    name: str
    word: str
    glyph: str
    group: str
    about: str


_KNOWN = {
    "template": ("Drill template", "ruler-combined", BENCH, "every drilled face, unfolded"),
    "sheet": ("Decal sheet", "print", BENCH, "what is printed on film"),
    "doubt": ("Colours in doubt", "palette", BENCH, "how far colours may come out"),
    "jig": ("Drill jig", "bore-hole", BENCH, "guides for the drill, to print in 3D"),
    "guide": ("Art guide", "pen-ruler", BENCH, "a layer to draw over, with every hole"),
    "log": ("Build log", "book", BENCH, "one page with all about the build"),
    "still": ("Picture", "camera", SHOW, "what you see now"),
    "turntable": ("Turntable", "film", SHOW, "once round"),
    "share": ("To post", "share-nodes", SHOW, "pictures, a turn, a log for others"),
    "model": ("Solid model", "cubes", SHOW, "to turn in other programs"),
    "drill": ("Drill plan", "list-ol", DRILL, "holes and drills, in order, to tick off"),
    "measure": ("Frame of marks", "expand", DRILL, "to lay on the top for a photograph"),
}


def rows() -> tuple[OutputRow, ...]:
    """Return every output of the plug-in folder, known ones in the order of work, then any other, then the pack."""
    names = OUTPUTS.names()
    known = [
        OutputRow(name=name, word=word, glyph=glyph, group=group, about=about)
        for name, (word, glyph, group, about) in _KNOWN.items()
        if name in names
    ]
    others = [
        OutputRow(
            name=name, word=name.replace("-", " ").capitalize(), glyph="file", group=SHOW, about=OUTPUTS.summary(name)
        )
        for name in names
        if name not in _KNOWN
    ]
    return (
        *known,
        *others,
        OutputRow(
            name=PACK, word="Everything packed", glyph="file-zipper", group=KEEP, about="all that it needs, in one zip"
        ),
    )


def in_groups() -> Iterator[tuple[str, tuple[OutputRow, ...]]]:
    """Yield each group with its rows."""
    for group in GROUPS:
        yield group, tuple(row for row in rows() if row.group == group)


def row(name: str) -> OutputRow:
    """Return the row of an output."""
    return next(each for each in rows() if each.name == name)


def state(name: str, given: dict[str, Given], suffix: str) -> str:
    """Return what is chosen for an output, in a few words."""
    if name == PACK:
        return "one zip"
    words = [suffix.removeprefix(".").upper()]
    fields = output_options.fields(name)
    chosen = {field.name: given.get(field.name, output_options.at_first(field)) for field in fields}
    paper = str(chosen.get("page", ""))
    if paper:
        words.insert(0, paper.upper() if len(paper) <= 2 else paper.capitalize())
    if str(chosen.get("copies", "1")) not in ("", "1"):
        words.append(f"{chosen['copies']} copies")
    if chosen.get("frames"):
        words.append(f"{chosen['frames']} pictures")
    return ", ".join(words)


def counted(names: frozenset[str]) -> str:
    """Return how many outputs are to be saved, as the button says it."""
    pages = {"template", "sheet", "guide"}
    word = "page" if names <= pages else "thing"
    return f"Save {len(names)} {word}{'' if len(names) == 1 else 's'}"
