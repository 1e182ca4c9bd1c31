"""Checks on one design after another: what does not depend on what has changed is not worked out again.

While a check runs it is seen which fields of the design it reads. A check is a pure function, so that where
all of those are the same in the next design, its findings are the same. Geometry (`Built`) reads box and
parts alone and is shared between designs that have them in common.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from mockup.checks import CHECKS
from mockup.checks.panel.built import Built
from mockup.checks.report.once import SEEN
from mockup.checks.report.run import findings_of, in_order
from mockup.model.design import Design, Placement
from mockup.model.digest import digest
from mockup.model.finding import Finding

_FIELDS = frozenset(each.name for each in fields(Design))
_GEOMETRY = frozenset({"enclosure", "parts"})  # what `Built` reads for whoever asks it


class _Watched(Design):
    """A design that notes which of its fields are read."""

    def __getattribute__(self, name: str) -> Any:
        if name in _FIELDS:
            object.__getattribute__(self, "__dict__").setdefault(SEEN, set()).add(name)
        return object.__getattribute__(self, name)


@dataclass(frozen=True, kw_only=True)
class _Known:
    """What a check found, the fields it read, and the digest of those."""

    reads: frozenset[str]
    content: str
    findings: tuple[Finding, ...]


class Remembered:
    """The checks, with a memory of the last design."""

    def __init__(self) -> None:
        self._known: dict[str, _Known] = {}
        self._parts: dict[str, Placement] = {}
        self._built: Built | None = None

    def run(self, design: Design) -> tuple[Built, tuple[Finding, ...]]:
        """Return the design as built, and what all checks find, in the order of `run`."""
        design = replace(design, parts=tuple(map(self._same, design.parts)))
        built = self._of(design)
        found = [finding for name in CHECKS.names() for finding in self._findings(name, built)]
        return built, in_order(found)

    def _of(self, design: Design) -> Built:
        design, before = _watching(design), self._built
        if before is None or before.design.parts != design.parts or before.design.enclosure != design.enclosure:
            self._parts = {digest(part): part for part in design.parts}  # let go of what is no longer there
            self._built = Built(design)
        else:
            self._built = before.of(design)
        return self._built

    def _same(self, part: Placement) -> Placement:
        """Return the very part that was there before, where there was an equal one."""
        return self._parts.setdefault(digest(part), part)

    def _findings(self, name: str, built: Built) -> Iterator[Finding]:
        known = self._known.get(name)
        if known is None or known.content != _content(built.design, known.reads):
            known = self._known[name] = _watched(name, built)
        yield from known.findings


def _watching(design: Design) -> Design:
    watched = object.__new__(_Watched)
    watched.__dict__.update(vars(design), **{SEEN: set()})
    return watched


def _watched(name: str, built: Built) -> _Known:
    """Run a check and see what it reads; what it only remembers counts as read (`once`)."""
    seen: set[str] = vars(built.design)[SEEN]
    seen.clear()
    findings = findings_of(name, built)
    reads = frozenset(seen) | _GEOMETRY | {"limits"}
    return _Known(reads=reads, content=_content(built.design, reads), findings=findings)


def _content(design: Design, reads: frozenset[str]) -> str:
    return digest([(name, getattr(design, name)) for name in sorted(reads)])
