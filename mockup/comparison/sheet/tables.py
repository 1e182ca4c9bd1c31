"""The tables of a comparison in words: one column of figures for each pedal, and how each label reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from mockup.checks.report.sentences import named
from mockup.comparison.differences.figures import LabelFigures
from mockup.comparison.differences.findings import SAME_MM
from mockup.comparison.differences.words import box_size, paint
from mockup.comparison.entries import Entry
from mockup.decal.processes import process_words
from mockup.model.design import Design
from mockup.model.enclosure import FACE_WORDS, FaceName
from mockup.model.finding import Subject
from mockup.model.units import MM_PER_INCH, Unit

Row = tuple[str, tuple[str, ...]]
"""What a row is about, and its text for each pedal."""
_Key = tuple[Subject, FaceName]
NONE = "–"
_SHORT = 16  # letters of a name that fits into a narrow column
LIST_HEAD = ("Pedal", "Label", "How it reads")


def letter(index: int) -> str:
    """Return the letter that stands for a column: A, B, C and so on."""
    return chr(ord("A") + index)


def figure_rows(entries: Sequence[Entry]) -> tuple[Row, ...]:
    """Return the figures of every pedal; lengths in the first one's units."""
    units = entries[0].design.units
    told: tuple[tuple[str, Callable[[Entry], str]], ...] = (
        ("Box", lambda entry: box_size(entry.design.enclosure, units)),
        ("Paint", lambda entry: paint(entry.design.finish)),
        ("Sheen", lambda entry: entry.design.finish.sheen.name),
        ("Clear coat", lambda entry: entry.design.finish.coat_words),
        ("Film", lambda entry: _films(entry.design)),
        ("Parts", lambda entry: str(entry.figures.parts)),
        ("Holes", lambda entry: str(entry.figures.holes)),
        ("Runs of the drill, pilots and steps", lambda entry: str(entry.figures.drillings)),
        ("Inked area", lambda entry: _inked(entry, units)),
        ("Least contrast of a label", _worst),
        ("Most hidden of a label", _hidden),
        ("Findings that stop", lambda entry: str(entry.figures.stops)),
        ("Warnings", lambda entry: str(entry.figures.warnings)),
        ("Notes", lambda entry: str(entry.figures.notes)),
    )
    return tuple((name, tuple(say(entry) for entry in entries)) for name, say in told)


def label_rows(entries: Sequence[Entry]) -> tuple[Row, ...]:
    """Return how each label reads on each pedal: contrast at both ends of the doubt, verdict, hidden share."""
    units = entries[0].design.units
    names: dict[_Key, None] = {}
    found: list[dict[_Key, list[LabelFigures]]] = []
    for entry in entries:
        own: dict[_Key, list[LabelFigures]] = {}
        for each in entry.figures.labels:
            own.setdefault(_known(each, [name for name in names if name not in own], entry.near_mm), []).append(each)
        found.append(own)
        names.update(dict.fromkeys(own))
    return tuple(
        (
            _on_face(subject, face, units),
            tuple("; ".join(label_words(each) for each in own.get((subject, face), ())) or NONE for own in found),
        )
        for subject, face in names
    )


def _known(label: LabelFigures, names: Iterable[_Key], near_mm: float) -> _Key:
    """Return what a label goes by: the nearest found before it on its face that is the same or near enough."""
    apart = [
        (distance, index, each)
        for index, each in enumerate(names)
        if each[1] == label.face and (distance := each[0].apart_mm(label.subject)) is not None
    ]
    nearest = min(apart, default=None)
    return nearest[2] if nearest is not None and nearest[0] <= max(near_mm, SAME_MM) else (label.subject, label.face)


def _on_face(subject: Subject, face: FaceName, units: Unit) -> str:
    name = named(subject, units)
    return name if face == "top" else f"{name}, {FACE_WORDS[face]}"


def is_shared(rows: Sequence[Row]) -> bool:
    """Return whether the pedals have most labels in common, so that a table of labels by pedals is worth reading."""
    cells = [value for _, values in rows for value in values]
    return sum(value != NONE for value in cells) >= 0.5 * len(cells)


def label_list(entries: Sequence[Entry]) -> tuple[tuple[str, str, str], ...]:
    """Return how each label reads, one after the other: which pedal (said once), which label, and how it reads."""
    return tuple(
        (
            "" if number else f"{letter(index)}, {entry.label}",
            _on_face(label.subject, label.face, entry.design.units),
            label_words(label),
        )
        for index, entry in enumerate(entries)
        for number, label in enumerate(entry.figures.labels)
    )


def label_words(label: LabelFigures) -> str:
    """Return how one label reads."""
    if label.contrast_low is None or label.contrast_high is None:
        return "nothing printed"
    low, high = f"{label.contrast_low:.1f}", f"{label.contrast_high:.1f}"
    ratio = low if low == high else f"{low} to {high}"
    words = f"{ratio} : 1, {label.reading}"
    return words + (f", {100 * label.hidden:.0f} % hidden" if label.hidden >= 0.005 else "")


def area(mm2: float, units: Unit) -> str:
    """Return an area: square centimetres or square inches."""
    return f"{mm2 / MM_PER_INCH**2:.2f} sq in" if units == "in" else f"{mm2 / 100:.1f} cm²"


def _inked(entry: Entry, units: Unit) -> str:
    if not entry.figures.ink:
        return "none"
    shares = [f"{100 * each.share:.0f} % of the {FACE_WORDS[each.face]}" for each in entry.figures.ink]
    return f"{area(entry.figures.inked_mm2, units)}, {', '.join(shares)}"


def _worst(entry: Entry) -> str:
    worst = entry.figures.worst_label
    if worst is None or worst.contrast_low is None:
        return NONE
    return f"{worst.contrast_low:.1f} : 1{_called(worst)}"


def _called(label: LabelFigures) -> str:
    """Return a label's name behind a comma, where it has a short one of its own and no mere place."""
    name = label.subject.name
    return f", {name}" if 0 < len(name) <= _SHORT else ""


def _hidden(entry: Entry) -> str:
    if not entry.figures.labels:
        return NONE
    most = max(entry.figures.labels, key=lambda each: each.hidden)
    return f"{100 * most.hidden:.0f} %{_called(most)}" if most.hidden >= 0.005 else "nothing hidden"


def _films(design: Design) -> str:
    return (
        "; ".join(f"{decal.film.name}{process_words(decal)}, {FACE_WORDS[decal.face]}" for decal in design.decals)
        or "none"
    )
