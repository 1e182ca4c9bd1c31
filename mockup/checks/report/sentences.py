"""Findings as sentences, made from their facts, in the reader's units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from mockup.model.edit import Edit, Move, PutLength, PutValue
from mockup.model.finding import Fact, Finding, Quantity, Subject
from mockup.model.text import capitalized, uncapitalized
from mockup.model.units import MM_PER_INCH, Unit, format_length

SHARE = "share"
"""The unit of a part of what is wanted, 0 to 1, that is said in words."""
_SHARES = (
    (0.1, "next to none of"),
    (0.29, "about a quarter of"),
    (0.41, "about a third of"),
    (0.58, "about half"),
    (0.7, "about two thirds of"),
    (0.85, "about three quarters of"),
    (1.0, "nearly all"),
)
_WORDS = {"%": "%", ":1": ":1", "arcmin": " arc min", "CIEDE2000": " ΔE", "": ""}
MOST_FINER = 4  # digits: what differs by less is told by its usual ones
FAR_MM = 254.0  # nobody reads such a length to a thousandth of an inch: our choice
_WAYS = (("left", "right"), ("up", "down"))


def what(finding: Finding, units: Unit) -> str:
    """Return what is wrong: the title, and a sentence with the figures."""
    return f"{finding.title}: {clause(finding, units)}."


def clause(finding: Finding, units: Unit) -> str:
    """Return the sentence with the figures alone, without full stop, and which of them are from memory."""
    said = _filled(finding.what, finding, units)
    if not finding.unmeasured:
        return said
    return f"{said}; the figures of {listed(finding.unmeasured)} are from memory, so measure yours"


def sentence(finding: Finding, units: Unit) -> str:
    """Return the sentence with the figures by itself; one that starts with a name starts as that is written."""
    said = clause(finding, units)
    is_name = finding.what.startswith("{") and not said.startswith("the word ")
    return f"{said if is_name else capitalized(said)}."


def remedy(finding: Finding, units: Unit) -> str:
    """Return what to do, one sentence or empty."""
    said = [_edit(each, units) for each in finding.edits]
    if not all(said):  # settings of a decal: the remedy says them
        said = []
    text = " and ".join((*said[:1], *(uncapitalized(each) for each in said[1:]))) or _filled(
        finding.remedy, finding, units
    )
    if finding.edits and not text:
        raise TypeError(f"no check mends with {', '.join(type(each).__name__ for each in finding.edits)} unsaid")
    return f"{text}." if text else ""


def named(subject: Subject, units: Unit) -> str:
    """Return what to call something: its name, or the place of what was found in the art."""
    if subject.name:
        return subject.name
    across, down = (f"{mm:.0f} mm" if units == "mm" else f"{mm / MM_PER_INCH:.2f} in" for mm in _place(subject))
    return f"{subject.kind} {across} from the left, {down} from the top"


def listed(names: Sequence[str]) -> str:
    """Return names in a row: ``A``, ``A and B``, ``A, B and C``."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def quantity(found: Quantity, units: Unit, finer: int = 0) -> str:
    """Return a figure with its unit, to so many digits more than usual; lengths and the like in the reader's units."""
    value, unit = found.value, found.unit
    if unit == "mm" and units == "in" and value >= FAR_MM:
        return f"{value / MM_PER_INCH:.1f} in"
    if unit == "mm":
        return format_length(round(value, 2 + finer), units, finer)
    if unit == SHARE:
        return next((words for most, words in _SHARES if value <= most), "all")
    if unit in ("mm²", "mm³") and units == "in":
        power = 2 if unit == "mm²" else 3
        return f"{value / MM_PER_INCH**power:.2g} {'sq' if power == 2 else 'cu'} in"
    return (f"{value:.{3 + finer}g}" if abs(value) < 1000 else f"{value:.0f}") + _WORDS.get(unit, f" {unit}")


def finer(found: Quantity | None, limit: Quantity | None, units: Unit) -> int:
    """Return how many digits more a figure and its limit take so that they do not look alike."""
    if found is None or limit is None or found.value == limit.value:
        return 0
    return next((each for each in range(MOST_FINER) if quantity(found, units, each) != quantity(limit, units, each)), 0)


def _place(subject: Subject) -> tuple[float, float]:
    return subject.u_mm, subject.v_mm


def order(edit: Edit, units: Unit) -> str:
    """Return an edit as an order to the builder, without full stop: ``Move TONE 1.2 mm right``."""
    told = _edit(edit, units)
    if told or not isinstance(edit, PutValue | PutLength):
        return told
    value = edit.value if isinstance(edit, PutValue) else format_length(edit.mm, units)
    said = f"{value:g}" if isinstance(value, float) else str(value)
    return f"Set {edit.address} to {said}"


def _edit(edit: Edit, units: Unit) -> str:
    if isinstance(edit, Move):
        steps = [
            f"{format_length(abs(mm), units)} {ways[mm > 0]}"
            for mm, ways in zip((edit.right_mm, edit.down_mm), _WAYS, strict=True)
            if mm
        ]
        return f"Move {edit.address.way[1]} {' and '.join(steps)}"
    if isinstance(edit, PutValue) and edit.address.way[-1] == "rotation":
        return f"Turn {edit.address.way[1]} to {edit.value:g} degrees (rotation = {edit.value:g})"
    return ""


def _filled(template: str, finding: Finding, units: Unit) -> str:
    facts: dict[str, Fact] = {"subjects": finding.subjects} if finding.subjects else {}
    facts |= dict(zip(("first", "second"), finding.subjects, strict=False))
    if finding.measured is not None:
        facts |= {"measured": finding.measured, "by": replace(finding.measured, value=abs(finding.measured.value))}
    if finding.limit is not None:
        facts["limit"] = finding.limit
        if finding.measured is not None:
            facts["missing"] = replace(finding.limit, value=finding.limit.value - finding.measured.value)
    more = finer(finding.measured, finding.limit, units)
    digits = {"measured": more, "limit": more}
    said = facts | dict(finding.facts)
    return template.format_map({name: _said(fact, units, digits.get(name, 0)) for name, fact in said.items()})


def _said(fact: Fact, units: Unit, more: int) -> str:
    if isinstance(fact, str):
        return fact
    if isinstance(fact, Quantity):
        return quantity(fact, units, more)
    return listed([_called(each, units) for each in ((fact,) if isinstance(fact, Subject) else fact)])


def _called(subject: Subject, units: Unit) -> str:
    """Return what a sentence calls something: a word that stands only in the art is called one."""
    name = named(subject, units)
    return f"the word {name}" if subject.kind == "lettering" and subject.name else name
