"""What the checks find of one pedal and not of another, or find to be worse or better."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.checks.report.sentences import what
from mockup.comparison.differences.change import Change
from mockup.model.finding import SEVERITIES, SEVERITY_WORDS, Finding, Mark
from mockup.model.units import Unit

SAME_MM = 0.5  # lettering that has moved no farther is told to be where it was: our choice


def finding_changes(
    first: Sequence[Finding], other: Sequence[Finding], near_mm: float, units: Unit
) -> Iterator[Change]:
    """Yield findings gained, those that got worse or better, and those that are gone.

    A finding is known by its check and subjects; lettering that was only found in the art is the same where it lies
    no farther than `near_mm` from where it was, and at least `SAME_MM` is allowed.
    """
    pairs, gained, lost = _matched(first, other, near_mm)
    for finding in gained:
        word, mark = _told(finding)
        said = f"{_accepted(finding)}{word} gained: {_said(finding, units)}"
        yield Change(topic="finding", how="added", subject=finding.check, what=said, after=word, new=mark)
    for old, new in pairs:
        if old.severity != new.severity:
            is_worse = SEVERITIES.index(new.severity) < SEVERITIES.index(old.severity)
            before, after = SEVERITY_WORDS[old.severity], SEVERITY_WORDS[new.severity]
            said = f"{'worse' if is_worse else 'better'}, a {before} becomes a {after}: {_said(new, units)}"
            yield Change(topic="finding", how="changed", subject=new.check, what=said, before=before, after=after)
    for finding in lost:
        word, mark = _told(finding)
        said = f"{_accepted(finding)}{word} gone: {_said(finding, units)}"
        yield Change(topic="finding", how="removed", subject=finding.check, what=said, before=word, old=mark)


def _matched(
    first: Sequence[Finding], other: Sequence[Finding], near_mm: float
) -> tuple[list[tuple[Finding, Finding]], list[Finding], list[Finding]]:
    """Return findings that belong together, those that are new, and those that are gone: the same subjects go first."""
    left = list(first)
    order = {id(finding): index for index, finding in enumerate(other)}
    pairs: list[tuple[Finding, Finding]] = []
    rest: list[Finding] = []
    for finding in other:
        same = next((old for old in left if (old.check, old.subjects) == (finding.check, finding.subjects)), None)
        if same is None:
            rest.append(finding)
            continue
        pairs.append((same, finding))
        left.remove(same)
    gained: list[Finding] = []
    for finding in rest:
        most = max(near_mm, SAME_MM)
        near = [(apart, old) for old in left if (apart := _apart(old, finding)) is not None and apart <= most]
        if not near:
            gained.append(finding)
            continue
        nearest = min(near, key=lambda each: each[0])[1]
        pairs.append((nearest, finding))
        left.remove(nearest)
    return sorted(pairs, key=lambda pair: order[id(pair[1])]), gained, left


def _apart(old: Finding, new: Finding) -> float | None:
    """Return how far the lettering in two findings' subjects is apart (mm); None where they are about other things."""
    if old.check != new.check or len(old.subjects) != len(new.subjects):
        return None
    apart = [one.apart_mm(another) for one, another in zip(old.subjects, new.subjects, strict=True)]
    return None if None in apart else max((each for each in apart if each is not None), default=0.0)


def _said(finding: Finding, units: Unit) -> str:
    return what(finding, units).removesuffix(".")


def _accepted(finding: Finding) -> str:
    """Return what stands before the word for how grave a finding is: the figures do not count an accepted one."""
    return "accepted " if finding.accepted else ""


def _told(finding: Finding) -> tuple[str, Mark | None]:
    """Return the word for how grave a finding is, and where its first mark is."""
    return SEVERITY_WORDS[finding.severity], finding.marks[0] if finding.marks else None
