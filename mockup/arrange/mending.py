"""The least change of a layout that clears what stops or warns, proven by the real checks before anybody sees it."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from mockup.arrange.art import drawn_along
from mockup.arrange.problem import Places, Problem
from mockup.arrange.program import move_mm
from mockup.arrange.search import Change, least_change
from mockup.checks.report.run import run
from mockup.model.design import Design
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue
from mockup.model.finding import Finding
from mockup.options import Progress, silent

After = Callable[[Sequence[Edit]], Design]
"""Makes edits in the layout that a design is from, and returns the design that it then is; raises `InputError`."""
ROUNDS = 3  # of edits that findings themselves bring along: a label may have to move when its neighbour has
STEPS = 5  # that progress counts: checking, three of the search, proving


@dataclass(frozen=True, kw_only=True, eq=False)
class Mending:
    """A change of a layout: its edits, the design after them, and what the checks say before and after.

    `cured` are the findings that go, `left` the stops and warnings that stay, `brought` those that are new. `notes`
    say in a sentence each what the builder has to see to: art that must move along. `kept` are what stays in order:
    row, column, pair, middle. `concession` says what had to be given up beside moves, "" for nothing.
    """

    edits: tuple[Edit, ...]
    design: Design
    moved_mm: float = 0.0
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


def mending(
    design: Design,
    after: After,
    *,
    pinned: Iterable[str] = (),
    progress: Progress = silent,
    is_stopped: Callable[[], bool] = lambda: False,
) -> Mending:
    """Return the least change of a design's layout that clears every stop and warning that a change of places can.

    `pinned` parts stay where they are. The answer is proven by the checks; what they still say stands in it.
    Its `edits` are one step of undo. Pure, so that a worker can do it; one that is stopped changes nothing.
    """
    progress(0, STEPS, "checking")
    before = bad(run(design))
    problem = Problem(
        box=design.enclosure,
        parts=design.parts,
        own=design.limits,
        units=design.units,
        pinned=frozenset(pinned),
    )
    if not before:
        return Mending(edits=(), design=design)
    change = least_change(
        problem, progress=lambda done, _, what: progress(1 + done, STEPS, what), is_stopped=is_stopped
    )
    if is_stopped():
        return Mending(edits=(), design=design, left=before)
    progress(STEPS - 1, STEPS, "proving")
    edits = tuple(part_edits(design.variant, problem.parts, change.parts))
    along = drawn_along(design, change.parts)
    return _proven(design, after, before, (*edits, *along.edits), change, along.notes)


def _proven(
    design: Design,
    after: After,
    before: tuple[Finding, ...],
    edits: tuple[Edit, ...],
    change: Change,
    notes: tuple[str, ...],
) -> Mending:
    """Return a change with what the checks say of it; edits that their findings bring go along."""
    there = after(edits) if edits else design
    found = bad(run(there)) if edits else before
    known = {_key(each) for each in before}
    for _ in range(ROUNDS):
        more = tuple(_brought_along(found, there, known))
        if not more:
            break
        joined = _joined((*edits, *more))
        tried = after(joined)
        still = bad(run(tried))
        if len(still) >= len(found):
            break
        edits, there, found = joined, tried, still
    now = {_key(each) for each in found}
    return Mending(
        edits=edits,
        design=there,
        moved_mm=sum(move_mm(old, new) for old, new in zip(design.parts, there.parts, strict=True)) if edits else 0.0,
        cured=tuple(each for each in before if _key(each) not in now),
        left=tuple(each for each in found if _key(each) in known),
        brought=tuple(each for each in found if _key(each) not in known),
        notes=notes,
        kept=tuple(dict.fromkeys(each.kind for each in change.kept)),
    )


def part_edits(variant: str | None, before: Places, after: Places) -> Iterator[Edit]:
    """Yield the edits that bring parts from one place to another, one order for each part."""
    for old, new in zip(before, after, strict=True):
        address = Address(way=("part", old.name), variant=variant)
        right, down = round(new.u_mm - old.u_mm, 6), round(new.v_mm - old.v_mm, 6)
        if new.face != old.face:
            yield PutValue(address=address.inside("face"), value=new.face)
        if right or down:
            yield Move(address=address, right_mm=right, down_mm=down)
        if round(new.depth_mm - old.depth_mm, 6):
            yield PutLength(address=address.inside("depth"), mm=round(new.depth_mm, 6))
        if new.rotation_deg != old.rotation_deg:
            yield PutValue(address=address.inside("rotation"), value=new.rotation_deg)


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


def _joined(edits: Iterable[Edit]) -> tuple[Edit, ...]:
    """Return edits with all moves of one thing made one."""
    joined: dict[object, Edit] = {}
    for index, edit in enumerate(edits):
        key: object = edit.address if isinstance(edit, Move) else index
        before = joined.get(key)
        if isinstance(edit, Move) and isinstance(before, Move):
            right, down = before.right_mm + edit.right_mm, before.down_mm + edit.down_mm
            edit = replace(before, right_mm=round(right, 6), down_mm=round(down, 6))
        joined[key] = edit
    return tuple(joined.values())


def bad(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what stops or warns."""
    return tuple(each for each in findings if each.severity != "note")


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.check, frozenset(finding.subjects), finding.facts.get("other", "")
