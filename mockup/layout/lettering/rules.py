"""What labels and scales must not say, although every single value is fine. No geometry here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from mockup.layout.fields import Problem, describe
from mockup.layout.lettering.tables import LabelTable, LetteringTable, ScaleTable
from mockup.layout.rules import side_problems
from mockup.model.errors import nearest
from mockup.model.part import Kind

_DRAWING = ("colour", "outline", "outline_colour", "shadow", "shadow_colour", "spacing")


def is_drawn(label: LabelTable, shared: LetteringTable | None) -> bool:
    """Return whether the tool draws a label: there is a font, and the label does not say that it is drawn already."""
    return label.drawn is not False and font_of(label, shared) is not None


def font_of(table: LabelTable | ScaleTable, shared: LetteringTable | None) -> str | None:
    """Return the font file of a label or of a scale's numbers, its own or the shared one."""
    return table.font or (shared.font if shared is not None else None)


def label_problems(
    label: LabelTable, shared: LetteringTable | None, parts: Mapping[str, Kind | None]
) -> Iterator[Problem]:
    """Yield keys that contradict each other or that the label lacks.

    `parts` maps every part's name to its kind, None where that is not known.
    """
    yield from side_problems(label, "a label is as large as its letters")
    if label.part is None:
        if label.text is None:
            yield Problem(("text",), "missing", "say what the label reads, or name the part that it belongs to")
        for key in ("side", "gap"):
            if getattr(label, key) is not None:
                remedy = "name the part, or place the label with left, right, top and bottom"
                yield Problem((key,), "it counts from a part, and the label names none", remedy)
    else:
        yield from _part_problems(label.part, parts)
        if label.face is not None:
            yield Problem(("face",), "a part's label lies on its part's face", "take face away, or the part")
    if is_drawn(label, shared):
        for key in ("width", "height"):
            if getattr(label, key) is not None:
                remedy = "give its size instead, or write drawn = false where the art holds it"
                yield Problem((key,), "drawn lettering is as large as its font makes it", remedy)
    else:
        yield from _declared_problems(label, shared)


def _declared_problems(label: LabelTable, shared: LetteringTable | None) -> Iterator[Problem]:
    """Yield what a label that the art holds already lacks, or has too much of."""
    if label.drawn:
        yield Problem(
            ("font",), "missing; a label that is drawn needs a font file", 'write for example font = "bold.ttf"'
        )
    elif label.font is not None:
        yield Problem(("font",), "drawn = false says that the label is on the art already", "take the font away")
    for key in _DRAWING:
        if getattr(label, key) is not None:
            remedy = "give it a font file, or take this away where the art holds it"
            yield Problem((key,), "only drawn lettering takes this, and this label is not drawn", remedy)
    letters = label.size or (shared.size if shared is not None else None)
    if label.height is not None and label.size is not None:
        yield Problem(("size",), "height and size both say how high its capitals are", "keep one of them")
    elif label.height is None and letters is None and not label.drawn:
        yield Problem(("height",), "missing", "say how high its capitals are, for example height = 3")
    elif label.height is None and letters is not None and letters.cap_mm is None:
        yield Problem(("height",), "missing; a size in points says nothing without the font", "give its height")


def scale_problems(
    scale: ScaleTable, shared: LetteringTable | None, parts: Mapping[str, Kind | None]
) -> Iterator[Problem]:
    """Yield a part that does not turn, numbers without a font and a font without numbers."""
    if scale.part is not None:
        found = list(_part_problems(scale.part, parts))
        kind = parts.get(scale.part)
        if kind is not None and kind.shaft is None:
            found.append(Problem(("part",), f"a {kind.name} has no shaft to turn", "name a control that has one"))
        yield from found
    if scale.numbers and font_of(scale, shared) is None:
        yield Problem(("font",), "missing; numbers need a font file", 'write for example font = "bold.ttf"')
    for key in ("font", "size"):
        if getattr(scale, key) is not None and not scale.numbers:
            yield Problem((key,), "only numbers take this", "write numbers = true, or take it away")


def _part_problems(name: str, parts: Mapping[str, Kind | None]) -> Iterator[Problem]:
    if name not in parts:
        remedy = nearest(name, parts) if parts else "the file has no parts"
        yield Problem(("part",), f"there is no part {describe(name)}", remedy)
