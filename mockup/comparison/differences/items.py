"""Differences as a reader counts them: numbered, and the same thing said of several parts only once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mockup.checks.report.sentences import listed
from mockup.comparison.differences.change import Change, Inner
from mockup.model.finding import Mark

Spot = Mark | Inner
"""A place that a picture points at: on the pedal, or in the box."""


@dataclass(frozen=True, kw_only=True)
class Item:
    """One line of a list of differences: its number (from 1), its text, and the changes it stands for."""

    number: int
    text: str
    changes: tuple[Change, ...]

    @property
    def is_finding(self) -> bool:
        """Whether it is about what the checks found."""
        return self.changes[0].topic == "finding"


def items(changes: Sequence[Change]) -> tuple[Item, ...]:
    """Return differences as numbered lines; parts and labels of which the same is said share a line."""
    groups: dict[tuple[str, str, str], list[Change]] = {}
    for change in changes:
        key = (change.topic, change.how, change.rest or change.what)
        groups.setdefault(key, []).append(change)
    return tuple(_item(number, members) for number, members in enumerate(groups.values(), 1))


def _item(number: int, members: Sequence[Change]) -> Item:
    text = members[0].what
    if members[0].rest:
        text = f"{listed([change.subject for change in members])} {members[0].rest}"
    elif members[0].topic in ("finish", "film"):
        text = f"{members[0].subject}: {text}"
    return Item(number=number, text=text, changes=tuple(members))


def pointed(item: Item, *, is_open: bool = False) -> tuple[tuple[Change, Spot | None, Spot | None], ...]:
    """Return the changes of an item that a picture points at, each with its old and its new place.

    Where the lid `is_open`, a part's place is that of its body in the box. Films are as large as their face
    and findings have pictures of their own: they are not pointed at.
    """
    if item.changes[0].topic in ("film", "finding"):
        return ()
    found: list[tuple[Change, Spot | None, Spot | None]] = [
        (each, each.old_inner, each.new_inner)
        if is_open and (each.old_inner is not None or each.new_inner is not None)
        else (each, each.old, each.new)
        for each in item.changes
    ]
    return tuple(each for each in found if each[1] is not None or each[2] is not None)
