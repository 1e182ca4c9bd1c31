"""Which design a page in hand shows, by the fingerprint on it: today's, or a former one and what has changed since."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mockup import api, files, records
from mockup.comparison.differences.designs import differences
from mockup.comparison.differences.items import items
from mockup.fingerprint import LENGTH, fingerprint, is_slip, readings
from mockup.layout_source import find_layout
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.records import Record

_LOOK = "look again: one is misread, or two have changed places"


@dataclass(frozen=True, kw_only=True)
class PageOrigin:
    """What a page with the fingerprint `mark` shows.

    `variants` are those of today's layout that it is right for (None the layout itself), none where it is out of date;
    then `variant` is the one it was made of and `changes` says what is different now, a sentence each. `is_known` is
    False where no page of it was made here. `is_as_built` is True of the layout with its holes as built. `today` is the
    fingerprint of the design to compare with.
    """

    mark: str
    variants: tuple[str | None, ...]
    variant: str | None
    changes: tuple[str, ...]
    is_known: bool
    today: str
    is_as_built: bool = False

    @property
    def is_today(self) -> bool:
        """Whether the page is right for today's layout, or for one of its variants."""
        return bool(self.variants) or self.is_as_built

    @property
    def lines(self) -> tuple[str, ...]:
        """What to say of it, a line each."""
        if self.is_as_built:
            return (f"{self.mark} is today's design with the holes as built: the page is right as it is.",)
        if self.is_today:
            return (f"{self.mark} is today's design{_listed(self.variants)}: the page is right as it is.",)
        if not self.is_known:
            return (
                f"{self.mark}: no page of it was made of this layout here. Today's design is {self.today}.",
                "Is it another pedal's? Pages made by an older release, or on another computer, have no record.",
            )
        was = f", variant {self.variant}" if self.variant else ""
        return (
            f"{self.mark} is a former design{was}. Today's is {self.today}. What has changed since:",
            *(f"- {each}" for each in self.changes),
            "Make the page again before you drill or print by it.",
        )


def which(mark: str, layout: str | Path = ".") -> PageOrigin:
    """Return what a page with a fingerprint shows; small letters, spaces and signs that look alike are let pass.

    Nothing is written. Raises `InputError` where it cannot be a fingerprint.
    """
    place = find_layout(layout)
    today = [api.load(place, name) for name in (None, *api.variants(place))]
    kept = records.kept(place)
    built = (
        {fingerprint(api.load(place, as_built=True))}
        if files.read_beside(place, files.BUILT_FILE) is not None
        else set()
    )
    found = _read(mark, [*map(fingerprint, today), *built, *kept])
    fitting = tuple(each.variant for each in today if fingerprint(each) == found)
    record = kept.get(found)
    variant = record.variant if record is not None else None
    beside = next((each for each in today if each.variant == variant), today[0])
    return PageOrigin(
        mark=found,
        variants=fitting,
        variant=variant,
        changes=_changes(place, record, beside) if record is not None and not fitting else (),
        is_known=record is not None or bool(fitting),
        today=fingerprint(beside),
        is_as_built=not fitting and found in built,
    )


def _read(typed: str, known: list[str]) -> str:
    """Return the fingerprint that is meant; raises `InputError` where there is none, or more than one."""
    found = readings(typed)
    if len(found) > 1:
        found = tuple(each for each in found if each in known) or found
    if len(found) == 1:
        return found[0]
    if found:
        what = f"may be {' or '.join(found[:3])}"
        raise InputError(Fault(file=repr(typed), what=what, remedy="look again at what is printed"))
    near = [each for each in dict.fromkeys(known) if is_slip(typed, each)]
    signs = "".join(typed.split()).replace("-", "")
    what, remedy = "is no design's mark: its last sign, which checks the others, does not fit", _LOOK
    if len(signs) != LENGTH:
        what, remedy = f"has {len(signs)} signs, expected {LENGTH}", "type all that stands behind the word design"
    remedy = f"do you mean {near[0]}?" if near else remedy
    raise InputError(Fault(file=repr(typed), what=what, remedy=remedy))


def _changes(place: Path, record: Record, today: Design) -> tuple[str, ...]:
    """Return what is different now, a sentence each."""
    art = [f"{name} is another file now, or is gone" for name in records.changed_assets(place, record)]
    try:
        former = records.source(place, record).drawn
    except InputError as error:
        return (*art, f"the former layout cannot be drawn any more ({error.lines[0]})")
    told = [each.text for each in items(differences(former, today))]
    return (*told, *art) or ("nothing in the layout: this release of mockup draws it in another way",)


def _listed(variants: tuple[str | None, ...]) -> str:
    named = [each for each in variants if each]
    if None in variants:
        return f", and that of {' and '.join(named)}" if named else ""
    return f", variant {' and '.join(named)}"
