"""One cause, one finding; for each part one order: what a builder has to do once is told once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import replace

from mockup.checks.report.sentences import listed, named, remedy
from mockup.model.edit import Edit, Move, PutValue
from mockup.model.finding import SEVERITIES, Finding, Subject
from mockup.model.text import uncapitalized

Clearing = Callable[[str], tuple[Edit, ...]]
"""Returns the order for a part, by its name, after which it breaks nothing that it broke; empty where none does."""
PLACED = frozenset({"bodies", "hole-edges", "knob-overlaps", "plug-bodies", "plug-tips", "seats"})
"""The checks that a better place may satisfy; the others want another drill, shaft or knob."""
ALIKE_MM = 0.051  # orders that differ by less are the same: a step of a tenth of a millimetre, halved


Agreeing = Callable[[Sequence[Edit]], bool]
"""Tells whether edits that were found one by one hold together too."""


def grouped(findings: Iterable[Finding], clearing: Clearing, agree: Agreeing = lambda _: True) -> tuple[Finding, ...]:
    """Return findings with one for each cause, in their order, the worst in the place of all.

    Findings have one cause where they lie between the same parts, where the same order mends them, where one says of
    another part or word what the other says of the first, or where both want the same done that is no move. Where the
    orders of one cause do not hold together, each finding stands with its own.
    """
    given = list(_with_one_order(findings, clearing))
    groups: list[list[Finding]] = []
    by_key: dict[Hashable, list[Finding]] = {}
    for finding in given:
        keys = tuple(_keys(finding))
        group = next((by_key[key] for key in keys if key in by_key), None)
        if group is None:
            groups.append(group := [])
        group.append(finding)
        for key in keys:
            by_key.setdefault(key, group)
    return tuple(each for group in groups for each in _told(group, agree))


def _told(group: Sequence[Finding], agree: Agreeing) -> Iterator[Finding]:
    """Yield a group as one finding, or apart those whose orders would get into each other's way."""
    merged = _merged(group)
    if len(merged.edits) < 2 or agree(merged.edits):
        yield merged
        return
    worst = _worst(group)
    apart = [each for each in group if each is not worst and each.edits and each.edits != worst.edits]
    yield _merged([each for each in group if each not in apart])
    yield from apart


def _with_one_order(findings: Iterable[Finding], clearing: Clearing) -> Iterator[Finding]:
    """Yield findings so that no part is told to go two ways: one move for all, or that of the worst finding alone."""
    given = tuple(findings)
    orders: dict[str, list[Move]] = defaultdict(list)
    for each in given:
        move = _move(each)
        if move is not None and move not in orders[_moved(move)]:
            orders[_moved(move)].append(move)
    stuck = {each.subjects[0].name for each in given if _is_stuck(each)}
    several = [name for name, moves in orders.items() if len(moves) > 1 or name in stuck]
    chosen = {name: clearing(name) or (orders[name][0],) for name in several}
    is_joint = {name: edits != (orders[name][0],) for name, edits in chosen.items()}
    for each in given:
        move = _move(each)
        name = _moved(move) if move is not None else each.subjects[0].name if _is_stuck(each) else ""
        if name not in chosen or each.edits == chosen[name]:
            yield each
        else:
            yield replace(each, edits=chosen[name] if is_joint[name] else ())


def _is_stuck(finding: Finding) -> bool:
    """Return whether a finding is about one part alone, and no move of it mends it by itself."""
    is_alone = [each.kind for each in finding.subjects] == ["part"]
    return is_alone and finding.severity != "note" and not finding.edits and finding.check in PLACED


def _move(finding: Finding) -> Move | None:
    """Return the move of a part that a finding orders, where that is its one edit and it is no note."""
    if finding.severity == "note" or len(finding.edits) != 1:
        return None
    (edit,) = finding.edits
    return edit if isinstance(edit, Move) and edit.address.way[0] == "part" else None


def _moved(move: Move) -> str:
    return str(move.address.way[1])


def _keys(finding: Finding) -> Iterator[Hashable]:
    if finding.failure:
        return
    parts = frozenset(each for each in finding.subjects if each.kind == "part")
    if finding.severity != "note" and len(parts) > 1 and len(parts) == len(finding.subjects):
        yield parts
    if finding.edits:
        yield finding.edits
    same = finding.check, finding.title, finding.severity
    alike = *same, finding.what, _besides(finding), len(finding.subjects)
    way = _way(finding)
    if way is not None:
        yield *alike, way
    elif not finding.edits and finding.remedy and finding.subjects:
        is_part = finding.subjects[0].kind == "part"
        if not is_part or len(finding.subjects) == 1:
            yield *(alike if is_part else same), remedy(finding, "mm")


def _way(finding: Finding) -> Hashable:
    """Return what a finding orders, whichever part it is for: a move, to the left as to the right, or a turn."""
    move = _move(finding)
    if move is not None:
        return round(abs(move.right_mm) / ALIKE_MM / 2), round(move.down_mm / ALIKE_MM / 2)
    if finding.severity != "note" and len(finding.edits) == 1 and isinstance(finding.edits[0], PutValue):
        return finding.edits[0].address.way[-1], finding.edits[0].value
    return None


def _besides(finding: Finding) -> tuple[tuple[str, str], ...]:
    """Return those facts that are plain words: which wall, which face; the names of parts are not."""
    parts = {each.name for each in finding.subjects}
    words = ((name, fact) for name, fact in finding.facts.items() if isinstance(fact, str) and fact not in parts)
    return tuple(sorted(words))


def _merged(group: Sequence[Finding]) -> Finding:
    """Return the worst finding of a group, which says of what else it is true and what else comes of it."""
    worst = _worst(group)
    others = [each for each in group if each is not worst]
    if not others:
        return worst
    alike = [each for each in others if each.title == worst.title and each.subjects != worst.subjects]
    titles = dict.fromkeys(each.title for each in others if each.title != worst.title)
    said = [f"; {_names(alike)} too"] if alike else []
    said += [f"; also: {', '.join(uncapitalized(title) for title in titles)}"] if titles else []
    subjects = tuple(dict.fromkeys(subject for each in (worst, *others) for subject in each.subjects))
    own: dict[str, tuple[Subject, ...] | Subject] = {"subjects": worst.subjects}
    own |= dict(zip(("first", "second"), worst.subjects, strict=False))
    edits = tuple(dict.fromkeys(edit for each in (worst, *others) for edit in each.edits if _is_for_all(each, worst)))
    return replace(
        worst,
        what=worst.what + "".join(said).replace("{", "{{").replace("}", "}}"),
        subjects=subjects,
        edits=edits or worst.edits,
        facts={**own, **worst.facts},
        marks=tuple(dict.fromkeys(mark for each in (worst, *others) for mark in each.marks)),
    )


def _worst(group: Sequence[Finding]) -> Finding:
    return min(group, key=lambda each: (SEVERITIES.index(each.severity), -_beyond(each)))


def _is_for_all(finding: Finding, worst: Finding) -> bool:
    """Return whether a finding's order is given too: the worst one's, and that of others who have to do the same."""
    return finding is worst or (finding.title == worst.title and finding.subjects != worst.subjects)


def _beyond(finding: Finding) -> float:
    """Return how far a finding is from its limit, in its own unit."""
    if finding.measured is None or finding.limit is None:
        return 0.0
    return abs(finding.measured.value - finding.limit.value)


def _names(findings: Sequence[Finding]) -> str:
    names = [" with ".join(named(each, "mm") for each in finding.subjects) for finding in findings]
    return listed(list(dict.fromkeys(names)))
