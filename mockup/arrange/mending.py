"""The least change of a layout that clears what stops or warns, proven by the real checks before anybody sees it."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from mockup.arrange.art import drawn_along
from mockup.arrange.part_edits import joined, part_edits
from mockup.arrange.problem import Problem
from mockup.arrange.program import move_mm
from mockup.arrange.search import Change, least_change
from mockup.checks.report.run import run
from mockup.model.design import Design
from mockup.model.edit import Edit, Move, PutLength, PutValue
from mockup.model.finding import Finding
from mockup.options import Progress, silent

After = Callable[[Sequence[Edit]], Design]
"""Makes edits in the layout that a design is from, and returns the design that it then is; raises `InputError`."""
ROUNDS = 3  # of edits that findings themselves bring along: a label may have to move when its neighbour has
STEPS = 5  # that progress counts: checking, three of the search, proving


@dataclass(frozen=True, kw_only=True, eq=False)
class Mending:
    """A change of a layout: its edits, the design after them, and what the checks say before and after.

    `before` are the stops and warnings of the layout as it is. `cured` are those that go, `left` those that stay, with
    the figures that they then have, `brought` those that are new, or stop where they only warned. `notes`
    say in a sentence each what the builder has to see to: art that must move along. `kept` are what stays in order:
    row, column, pair, middle. `concession` says what had to be given up beside moves, "" for nothing.
    """

    edits: tuple[Edit, ...]
    design: Design
    moved_mm: float = 0.0
    before: tuple[Finding, ...] = ()
    cured: tuple[Finding, ...] = ()
    left: tuple[Finding, ...] = ()
    brought: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    concession: str = ""

    @property
    def is_complete(self) -> bool:
        """Whether nothing stops or warns any more."""
        return not self.left and not self.brought


def mending(design: Design, after: After, *, pinned: Iterable[str] = (), progress: Progress = silent) -> Mending:
    """Return the least change of a design's layout that clears every stop and warning that a change of places can.

    `pinned` parts stay where they are. The answer is proven by the checks; what they still say stands in it.
    Its `edits` are one step of undo. Pure, so that a worker can do it.
    """
    progress(0, STEPS, "checking")
    before = bad(run(design))
    if not before:
        return Mending(edits=(), design=design)
    change = least_change(problem_of(design, pinned), progress=lambda done, _, what: progress(1 + done, STEPS, what))
    progress(STEPS - 1, STEPS, "proving")
    return proven(design, after, before, change)


def problem_of(design: Design, pinned: Iterable[str] = ()) -> Problem:
    """Return a design's parts as what is to be placed."""
    return Problem(
        box=design.enclosure, parts=design.parts, own=design.limits, units=design.units, pinned=frozenset(pinned)
    )


def proven(design: Design, after: After, before: tuple[Finding, ...], change: Change) -> Mending:
    """Return a change with what the checks say of it; edits that their findings bring go along.

    `before` is what stops or warns without it.
    """
    along = drawn_along(design, change.parts)
    edits = (*part_edits(design.variant, design.parts, change.parts), *along.edits)
    there = after(edits) if edits else design
    found = bad(run(there))
    known = {_key(each) for each in before}
    for _ in range(ROUNDS):
        more = tuple(_brought_along(found, there, known))
        if not more:
            break
        every = joined((*edits, *more))
        tried = after(every)
        still = bad(run(tried))
        if len(still) >= len(found):
            break
        edits, there, found = every, tried, still
    now = {_key(each) for each in found}
    stopped = {_key(each) for each in before if each.severity == "stop"}

    def is_new(each: Finding) -> bool:
        return _key(each) not in (stopped if each.severity == "stop" else known)

    return Mending(
        edits=edits,
        design=there,
        moved_mm=sum(move_mm(old, new) for old, new in zip(design.parts, there.parts, strict=True)) if edits else 0.0,
        before=before,
        cured=tuple(each for each in before if _key(each) not in now),
        left=tuple(each for each in found if not is_new(each)),
        brought=tuple(each for each in found if is_new(each)),
        notes=along.notes,
        kept=tuple(dict.fromkeys(each.kind for each in change.kept)),
    )


def _brought_along(found: Iterable[Finding], design: Design, known: Container[object]) -> Iterator[Edit]:
    """Yield the edits that findings bring: labels to move, holes of own kinds to drill.

    Parts were moved for all that is `known` together; a finding that this has brought, such as a lamp that now lies
    behind a knob, moves its own part once more.
    """
    for finding in found:
        for edit in finding.edits:
            if not isinstance(edit, Move | PutValue | PutLength):
                continue
            if edit.address.way[0] != "part" or _key(finding) not in known:
                yield replace(edit, address=replace(edit.address, variant=design.variant))


def bad(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what stops or warns."""
    return tuple(each for each in findings if each.severity != "note")


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.check, frozenset(finding.subjects), finding.facts.get("other", "")
