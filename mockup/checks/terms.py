"""Pictures and fonts of a pedal for sale whose terms nobody has written down, or forbid it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.model.design import Design
from mockup.model.finding import Finding, Mark, Severity, Subject

READS = ("decals", "labels", "making")
_SALE = '[[decal]]\nart = "art.svg"\n[making]\npurpose = "for sale"\n'
PLANTED = Case(_SALE, '<circle cx="25" cy="50" r="8"/>')
SOUND = Case(_SALE + '[[credit]]\nfile = "art.svg"\nterms = "my own, for sale too"\n', PLANTED.art)
_PRIVATE = re.compile(
    r"\b(personal|private)\s+(use|purposes?)\b|\bnon-?commercial|\bno\s+commercial|\bnot\s+for\s+(sale|commercial)"
    r"|\bby-nc\b",
    re.IGNORECASE,
)
"""What terms say that forbid a sale; common practice, no source. A word that allows it too is left to the reader."""


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    design = built.design
    making = design.making
    if making.purpose != "for sale":
        return
    used = [each for each in making.credits if each.file not in making.files]
    private = [each for each in used if _PRIVATE.search(each.terms)]
    unknown = [each.file for each in used if not each.terms]
    if private:
        yield _finding(
            design,
            "warn",
            "Terms do not allow a sale",
            [each.file for each in private],
            f'the pedal is for sale, and the terms of {{subjects}} say "{_plain(private[0].terms)}"',
            "Ask the author, or take another picture or font",
        )
    if unknown:
        yield _finding(
            design,
            "note",
            "Terms not written down",
            unknown,
            "the pedal is for sale, and nothing says what the terms of {subjects} are",
            "Write source, author and terms of each in a [[credit]] table; your own work too has terms",
        )


def _finding(design: Design, severity: Severity, title: str, names: Sequence[str], what: str, remedy: str) -> Finding:
    return Finding(
        severity=severity,
        title=title,
        what=what,
        subjects=tuple(Subject(kind="file", name=name) for name in names),
        remedy=remedy,
        origin="what the layout says of its files",
        marks=(
            *(Mark.round(each) for each in design.decals if each.art.name in names),
            *(Mark.round(each) for each in design.labels if each.lettering and each.lettering.font in names),
        ),
    )


def _plain(text: str) -> str:
    """Return a sentence as a template that says just that."""
    return text.replace("{", "{{").replace("}", "}}")
