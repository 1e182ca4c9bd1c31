"""What differs between two pedals: box, finish, film and art, parts, lettering, and what the checks find."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.comparison.differences.change import Change, Topic
from mockup.comparison.differences.findings import finding_changes
from mockup.comparison.differences.parts import part_changes
from mockup.comparison.differences.shift import Shifts
from mockup.comparison.differences.words import box_size, is_length, length, paint, turned, way
from mockup.decal.processes import process_words
from mockup.model.design import Design
from mockup.model.enclosure import DECAL_FACES, FACE_WORDS, Enclosure
from mockup.model.finding import Finding, Mark
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.label import Label
from mockup.model.units import Unit

_BOX_FIGURES: tuple[tuple[str, str], ...] = (  # of an enclosure, besides its three outer sizes
    ("wall_mm", "wall"),
    ("top_mm", "top"),
    ("corner_mm", "corner radius"),
    ("edge_mm", "rounding of the top edge"),
    ("lid_mm", "lid"),
    ("post_mm", "screw posts"),
    ("screw_mm", "lid screws"),
    ("seam_mm", "lid's seam"),
    ("lip_mm", "lid's lip"),
    ("lip_wall_mm", "thickness of the lid's lip"),
    ("feet_mm", "rubber feet"),
)
_VERSION = 0.6  # of all parts of two pedals, those of one name and kind: our choice


def differences(
    first: Design,
    other: Design,
    found_first: Sequence[Finding] = (),
    found_other: Sequence[Finding] = (),
    near_mm: float = 0.0,
) -> tuple[Change, ...]:
    """Return what changes from `first` to `other`, in the order a builder meets it; lengths in the first's units.

    Moves are counted as `Shifts` says. Lettering that was only found in the art and lies no farther than
    `near_mm` from where it was is the same to the checks.
    """
    units, shifts = first.units, Shifts(first, other)
    return (
        *_box(first.enclosure, other.enclosure, units),
        *_finish(first, other),
        *_films(first, other, shifts, units),
        *part_changes(first, other, shifts, units),
        *_labels(first, other, shifts, units),
        *finding_changes(found_first, found_other, near_mm, units),
    )


def _box(first: Enclosure, other: Enclosure, units: Unit) -> Iterator[Change]:
    sides = box_size(first, units), box_size(other, units)
    yield from Change.becoming("box", "box", "", *sides, " (length × width × height)")
    for name, word in _BOX_FIGURES:
        old, new = getattr(first, name), getattr(other, name)
        if is_length(new - old, units):
            yield from Change.becoming("box", "box", word, length(old, units), length(new, units))
    if abs(other.draft_deg - first.draft_deg) >= 0.005:
        yield from Change.becoming("box", "box", "draft", f"{first.draft_deg:g}°", f"{other.draft_deg:g}°")


def _coat(finish: Finish) -> str:
    if not finish.has_clear_coat:
        return "without clear coat"
    return "with clear coat" if finish.lacquer is None else f"with {finish.lacquer.name} clear coat"


def _finish(first: Design, other: Design) -> Iterator[Change]:
    old, new = first.finish, other.finish
    gap = ""
    if old.sheen.is_painted and new.sheen.is_painted and old.picture is None and new.picture is None:
        apart = float(ciede2000(encoded_to_lab(np.array(old.paint)), encoded_to_lab(np.array(new.paint))))
        gap = f" (colour difference {apart:.0f} CIEDE2000)"
    yield from Change.becoming("finish", "paint", "", paint(old), paint(new), gap)
    facts: tuple[tuple[str, Callable[[Any], str]], ...] = (
        ("sheen", lambda finish: finish.sheen.name),
        ("clear coat", _coat),
        ("paint as picked", lambda finish: "from a lacquered swatch" if finish.is_swatch_coated else "from a raw one"),
        ("printer", lambda finish: finish.printer or "no measured printer"),
        ("ink strength", lambda finish: f"{finish.ink_strength:.3g}"),
        ("orange peel", lambda finish: f"{finish.orange_peel:.3g}"),
        ("casting texture", lambda finish: f"{finish.casting_texture:.3g}"),
        ("edge wear", lambda finish: f"{finish.edge_wear:.3g}"),
    )
    for subject, say in facts:
        yield from Change.becoming("finish", subject, "", say(old), say(new))


def _films(first: Design, other: Design, shifts: Shifts, units: Unit) -> Iterator[Change]:
    """Yield what differs in decals: on each face the first is compared with the first, and so on."""
    for face in DECAL_FACES:
        old = [decal for decal in first.decals if decal.face == face]
        new = [decal for decal in other.decals if decal.face == face]
        where = FACE_WORDS[face]
        for before, after in zip(old, new, strict=False):
            yield from _film(before, after, where, shifts, units)
        for decal in new[len(old) :]:
            said = f"{decal.film.name} film with {decal.art.name} added on the {where}"
            yield Change(topic="film", how="added", subject=where, what=said, after=decal.art.name, new=_of_film(decal))
        for decal in old[len(new) :]:
            said = f"{decal.film.name} film with {decal.art.name} left off the {where}"
            yield Change(
                topic="film", how="removed", subject=where, what=said, before=decal.art.name, old=_of_film(decal)
            )


def _film(old: Decal, new: Decal, where: str, shifts: Shifts, units: Unit) -> Iterator[Change]:
    if old.film != new.film:
        before, after = (each.film.name for each in (old, new))
        if before == after:
            before, after = (
                f"{each.name} ({each.reflectance:.3g} back, {each.transmittance:.3g} through)"
                for each in (old.film, new.film)
            )
        yield _changed("film", where, f"{before} film becomes {after} film", before, after)
    ways = [f"{each.film.name}{process_words(each)}" for each in (old, new)]
    if old.film == new.film and ways[0] != ways[1]:
        yield _changed("film", where, f"{ways[0]} becomes {ways[1]}", *ways)
    yield from _art(old.art, new.art, where)
    sizes = [f"{length(each.width_mm, units)} × {length(each.height_mm, units)}" for each in (old, new)]
    yield from Change.becoming("film", where, "printed", *sizes)
    yield from _moved("film", where, "film ", _of_film(old), _of_film(new), shifts, units=units)
    yield from _turned("film", where, "film", old, new, _of_film(new))


def _art(old: Artwork, new: Artwork, where: str) -> Iterator[Change]:
    """Yield how two pictures differ: by their pixels, whatever their files are called."""
    if old.pixels is new.pixels:
        return
    sizes = [f"{art.width_px} × {art.height_px} px" for art in (old, new)]
    if sizes[0] != sizes[1]:
        what = f"art {old.name} ({sizes[0]}) becomes {new.name} ({sizes[1]})"
        yield _changed("film", where, what, f"{old.name}, {sizes[0]}", f"{new.name}, {sizes[1]}")
        return
    share = float((_printed(old) != _printed(new)).any(axis=2).mean())
    if share:
        amount = f"{100 * share:.1f} %" if share >= 0.0005 else "less than 0.1 %"
        names = old.name if old.name == new.name else f"{old.name} becomes {new.name}"
        yield _changed("film", where, f"art {names}: {amount} of its pixels differ", old.name, new.name)


def _printed(art: Artwork) -> Any:
    """Return pixels with nothing hidden under what is wholly transparent."""
    return np.where(art.pixels[..., 3:] > 0, art.pixels, 0)


def _labels(first: Design, other: Design, shifts: Shifts, units: Unit) -> Iterator[Change]:
    pairs, gone, come = _matched(first.labels, other.labels)
    for old, new in pairs:
        yield from _label(old, new, shifts, units)
    for label in gone:
        said = f"“{label.text}” left off the {FACE_WORDS[label.face]}"
        yield Change(
            topic="label", how="removed", subject=label.text, what=said, before=label.text, old=_of_label(label)
        )
    for label in come:
        said = f"“{label.text}” added on the {FACE_WORDS[label.face]}"
        yield Change(topic="label", how="added", subject=label.text, what=said, after=label.text, new=_of_label(label))


def _matched(old: Sequence[Label], new: Sequence[Label]) -> tuple[list[tuple[Label, Label]], list[Label], list[Label]]:
    """Return labels that belong together, those that are gone, and those that are new.

    The same text on the same face for the same part goes first, the nearest of several; then any text for the
    same part; then the same text anywhere.
    """
    pairs: list[tuple[Label, Label]] = []
    gone, come = list(old), list(new)
    keys: tuple[Callable[[Label], object], ...] = (
        lambda each: (each.text, each.face, each.part),
        lambda each: (each.part, each.face) if each.part is not None else id(each),
        lambda each: each.text,
    )
    for key in keys:
        for label in list(gone):
            near = sorted(
                (each for each in come if key(each) == key(label)),
                key=lambda each: (each.face != label.face, np.hypot(each.u_mm - label.u_mm, each.v_mm - label.v_mm)),
            )
            if near:
                pairs.append((label, near[0]))
                gone.remove(label)
                come.remove(near[0])
    order = {id(label): index for index, label in enumerate(old)}
    return sorted(pairs, key=lambda pair: order[id(pair[0])]), gone, come


def _label(old: Label, new: Label, shifts: Shifts, units: Unit) -> Iterator[Change]:
    name = f"“{new.text}”"
    if old.text != new.text:
        yield _changed("label", new.text, f"“{old.text}” becomes {name}", old.text, new.text)
    if old.face != new.face:
        faces = FACE_WORDS[old.face], FACE_WORDS[new.face]
        what = f"{name} moved from the {faces[0]} to the {faces[1]}"
        yield Change(
            topic="label", how="moved", subject=new.text, what=what, before=faces[0], after=faces[1], new=_of_label(new)
        )
    else:
        yield from _moved("label", new.text, f"{name} moved ", _of_label(old), _of_label(new), shifts, units=units)
    yield from _turned("label", new.text, name, old, new, _of_label(new))
    if is_length(new.height_mm - old.height_mm, units):
        sizes = length(old.height_mm, units), length(new.height_mm, units)
        what = f"{name} letters {sizes[0]} high become {sizes[1]}"
        yield _changed("label", new.text, what, *sizes)
    if old.lettering != new.lettering and old.lettering is not None and new.lettering is not None:
        for key, word in (("font", "font"), ("colour", "colour"), ("outline_mm", "outline"), ("shadow_mm", "shadow")):
            values = getattr(old.lettering, key), getattr(new.lettering, key)
            if values[0] != values[1]:
                said = (_style(key, value, units) for value in values)
                yield from Change.becoming("label", new.text, f"{name} {word}", *said)


def _style(key: str, value: Any, units: Unit) -> str:
    if key == "colour":
        return "#" + "".join(f"{round(255 * band):02x}" for band in value)
    if key == "shadow_mm":
        return "none" if value is None else " and ".join(length(each, units) for each in value)
    return length(value, units) if key == "outline_mm" else str(value)


def is_version(first: Design, other: Design) -> bool:
    """Return whether one pedal is a version of another: of one name, or most of their parts the same.

    Of two that are not, a list of all that differs says nothing.
    """
    old, new = ({(part.name, part.kind.name) for part in each.parts} for each in (first, other))
    return first.name == other.name or len(old & new) >= _VERSION * max(1, len(old | new))


def summary(changes: Sequence[Change]) -> str:
    """Return what differs in a few words: ``paint, sheen, 2 parts moved``, or that nothing does."""
    words = ["another box"] if any(change.topic == "box" for change in changes) else []
    words += dict.fromkeys(change.subject for change in changes if change.topic == "finish")
    words += ["film or art"] if any(change.topic == "film" for change in changes) else []
    named = {(change.topic, change.how, change.subject) for change in changes}
    counted = Counter((topic, how) for topic, how, _ in named)
    for topic in ("part", "knob", "lamp", "label"):
        for how in ("added", "removed", "moved", "turned", "changed"):
            count = counted[topic, how]
            if count:
                said = "left off" if how == "removed" else how
                words.append(f"{count} {topic}{'' if count == 1 else 's'} {said}")
    return ", ".join(words) or "no difference"


def _changed(topic: Topic, subject: str, what: str, before: str, after: str) -> Change:
    return Change(topic=topic, how="changed", subject=subject, what=what, before=before, after=after)


def _moved(
    topic: Topic, subject: str, start: str, old: Mark, new: Mark, shifts: Shifts, *, units: Unit
) -> Iterator[Change]:
    """Yield how something moved on its face, if it did; the sentence begins with `start`."""
    right, down = shifts.of(new.face, (old.u_mm, old.v_mm), (new.u_mm, new.v_mm))
    said = way(right, down, new.face, units)
    if said:
        yield Change(
            topic=topic,
            how="moved",
            subject=subject,
            what=f"{start}{said}",
            right_mm=right,
            down_mm=down,
            distance_mm=float(np.hypot(right, down)),
            old=shifts.old_mark(old, new),
            new=new,
        )


def _turned(
    topic: Topic, subject: str, name: str, old: Decal | Label, new: Decal | Label, mark: Mark
) -> Iterator[Change]:
    turn = turned(old.rotation_deg, new.rotation_deg)
    if turn:
        yield Change(topic=topic, how="turned", subject=subject, what=f"{name} turned {turn}", new=mark)


def _of_film(decal: Decal) -> Mark:
    return Mark(face=decal.face, u_mm=decal.u_mm, v_mm=decal.v_mm, radius_mm=min(decal.width_mm, decal.height_mm) / 2)


def _of_label(label: Label) -> Mark:
    radius = max(1.5, float(np.hypot(label.width_mm, label.height_mm)) / 2)
    return Mark(face=label.face, u_mm=label.u_mm, v_mm=label.v_mm, radius_mm=radius)
