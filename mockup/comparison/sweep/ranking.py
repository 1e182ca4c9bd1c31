"""Which of many pedals comes first, and the answer in one sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from mockup.comparison.differences.figures import LabelFigures
from mockup.comparison.differences.words import counted
from mockup.comparison.sweep.job import Measured, Names
from mockup.comparison.sweep.options import By
from mockup.layout.edit.assignment import Assignment
from mockup.model.finding import Subject

Detail = Literal["full", "short", "bare"]
"""How much a figure says: of what, what it is, or the number alone."""
Verdict = Literal["all read", "in doubt", "not all", "no lettering"]
DOUBT, FAINT = "in doubt", "too faint"
_MOST_NAMES = 12  # names in a sentence; more are counted
_MM2_PER_CM2 = 100.0


@dataclass(frozen=True, kw_only=True)
class Candidate:
    """One pedal of a sweep: what it is, what was measured, and where its picture is; `place` counts from 0 as given.

    `measured` is None where it could not be made, and `failure` says why.
    """

    caption: str
    place: int
    names: Names
    assignments: tuple[Assignment, ...] = ()
    measured: Measured | None = None
    failure: str = ""

    @property
    def verdict(self) -> Verdict:
        """Whether every label reads: by contrast at both ends of the model's doubt, and with nothing in front of it."""
        if self.measured is None or not self.measured.figures.labels:
            return "no lettering"
        if any(word != DOUBT for _, word in self.trouble):
            return "not all"
        return "in doubt" if self.trouble else "all read"

    @property
    def trouble(self) -> tuple[tuple[Subject, str], ...]:
        """The labels that do not read for sure, each with the word for it, in the order of the labels."""
        if self.measured is None:
            return ()
        found = [(label.subject, _word(label, self.measured.hidden_limit)) for label in self.measured.figures.labels]
        return tuple((subject, word) for subject, word in found if word)


def ranked(candidates: Sequence[Candidate], by: By) -> tuple[Candidate, ...]:
    """Return candidates with the best first; what could not be made comes last, equals as given."""
    keys: dict[By, Callable[[Measured], tuple[float, ...]]] = {
        "given": lambda _: (),
        "contrast": lambda found: (-(found.figures.worst_contrast or 0.0),),
        "findings": lambda found: (found.figures.stops, found.figures.warnings, found.figures.notes),
        "ink": lambda found: (found.figures.inked_mm2,),
    }

    def key(each: Candidate) -> tuple[float, ...]:
        return (1.0, each.place) if each.measured is None else (0.0, *keys[by](each.measured), each.place)

    return tuple(sorted(candidates, key=key))


def figure(candidate: Candidate, by: By, *, detail: Detail = "full") -> str:
    """Return the figure that candidates are sorted by, in words; the contrast where they are as given."""
    if candidate.measured is None:
        return candidate.failure
    figures = candidate.measured.figures
    if by == "findings":
        return tally(candidate)
    if by == "ink":
        return f"{figures.inked_mm2 / _MM2_PER_CM2:.1f} cm²{'' if detail == 'bare' else ' inked'}"
    label = figures.worst_label
    if label is None or label.contrast_low is None:
        return "no label is printed"
    ratio = f"{label.contrast_low:.1f} : 1"
    said = ratio if detail == "bare" else f"{ratio} at worst"
    return f"{said} ({_short(label.subject)})" if detail == "full" else said


def tally(candidate: Candidate) -> str:
    """Return how much the checks found, in a few words."""
    if candidate.measured is None:
        return candidate.failure
    found = candidate.measured.figures
    return ", ".join(counted(found.stops, found.warnings, found.notes)) or "nothing found"


def said(candidate: Candidate, *, is_counted: bool = False) -> str:
    """Return in words whether every label reads, and which do not, or just how many."""
    verdict = candidate.verdict
    if candidate.measured is None:
        return "not made"
    if verdict == "no lettering":
        return "no lettering found"
    if verdict == "all read":
        return "every label reads"
    words: dict[str, list[Subject]] = {}
    for subject, word in candidate.trouble:
        words.setdefault(word, []).append(subject)
    if is_counted:
        return ", ".join(f"{len(subjects)} {word}" for word, subjects in words.items())
    return "; ".join(f"{word}: {_few(_pooled(subjects), 3)}" for word, subjects in words.items())


def answer(candidates: Sequence[Candidate], what: str) -> str:
    """Return the answer in one sentence; `what` names what varies, in the plural, such as "paints"."""
    made = [each for each in candidates if each.measured is not None]
    if not made:
        return f"none of {len(candidates)} {what} could be made"
    good = [each.caption for each in made if each.verdict == "all read"]
    doubtful = [each.caption for each in made if each.verdict == "in doubt"]
    bad = [each.caption for each in made if each.verdict == "not all"]
    missing = len(candidates) - len(made)
    rest = f"; {missing} could not be made" if missing else ""
    if not (good or doubtful or bad):
        return f"No lettering was found on these {len(made)} {what} to judge{rest}."
    if len(good) == len(made):
        return f"All {len(made)} {what} keep every label readable{rest}."
    first = f"{len(good) or 'None'} of {len(candidates)} {what} keep{'s' * (len(good) == 1)} every label readable"
    first += f": {_few(good, _MOST_NAMES)}" if good else ""
    more = [f"in doubt (it depends on printer and lacquer): {_few(doubtful, _MOST_NAMES)}"] if doubtful else []
    more += [f"not all read on {_few(bad, _MOST_NAMES)}"] if bad else []
    return "; ".join([first, *more]) + rest + "."


def _word(label: LabelFigures, hidden_limit: float) -> str:
    if label.reading == "nothing printed":
        return "not printed"
    if label.reading != "reads":
        return DOUBT if label.reading == "in doubt" else FAINT
    return "hidden" if label.hidden > hidden_limit else ""


def _pooled(subjects: Sequence[Subject]) -> list[str]:
    """Return names of labels, lettering that was only found in the art counted: where it stands says little."""
    declared = [subject.name for subject in subjects if subject.name]
    found = len(subjects) - len(declared)
    return [*declared, *([f"{found} piece{'s' * (found > 1)} of lettering"] if found else [])]


def _short(subject: Subject) -> str:
    return subject.name or f"lettering at {subject.u_mm:.0f}, {subject.v_mm:.0f} mm"


def _few(names: Sequence[str], most: int) -> str:
    if len(names) <= most:
        return ", ".join(names)
    return f"{', '.join(names[:most])} and {len(names) - most} more"
