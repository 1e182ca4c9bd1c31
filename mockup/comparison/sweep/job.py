"""One pedal of a sweep, worked off anywhere: picture and figures go into the store, by name.

What goes in is plain data, so that a worker process may do it; what comes back is next to nothing, so that
memory does not grow with the number of pedals.
"""

from __future__ import annotations

import io
import json
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from pydantic import TypeAdapter, ValidationError

from mockup import cache, workers
from mockup.comparison.differences.figures import Figures, studied
from mockup.decal import ink_over_paint
from mockup.decal.pictures.formats import kind_of
from mockup.encode.png import png
from mockup.limits import limits
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.picture.open_engine import take
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight

_TRIM_EVERY = 25  # jobs


@dataclass(frozen=True, kw_only=True)
class Names:
    """What one pedal's pictures, one for each sight, and its figures are called in the store."""

    figures: str
    pictures: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Every name."""
        return (*self.pictures, self.figures)


@dataclass(frozen=True, kw_only=True, eq=False)
class Job:
    """One design to picture and to measure, where the store does not hold that yet; without sights, to measure."""

    design: Design
    names: Names
    store: cache.Store
    sights: tuple[Sight, ...] = ()
    request: PictureRequest = field(default_factory=PictureRequest)


@dataclass(frozen=True, kw_only=True)
class Measured:
    """Figures as they come back from the store. `hidden_limit` is the share of a label that may be hidden."""

    figures: Figures
    hidden_limit: float


_RECORD = TypeAdapter(Measured)
"""What reads a record; made once, for it takes as long to make as a hundred take to read."""


def content(design: Design) -> str:
    """Return the digest of a design but for what it is called, which neither picture nor figures show."""
    return digest(replace(design, name="", source="", variant=None))


def names(design: str, sights: Sequence[Sight] = (), request: PictureRequest | None = None) -> Names:
    """Return the names of a design, given by its content, rendered so; the request names its engine.

    A picture's name says nothing of the others: asked for with other views, it is known again.
    """
    pictures = tuple(cache.key("picture", design, sight, request) for sight in sights)
    return Names(figures=cache.key("figures", design), pictures=pictures)


def work(job: Job) -> tuple[str, ...]:
    """Picture and measure a design, as far as the store does not hold that; return notes a user should read once."""
    notes: tuple[str, ...] = ()
    pictures = zip(job.names.pictures, job.sights, strict=True)
    missing = [each for each in pictures if not _is_picture(job.store, *each)]
    if missing:
        taken = take(job.design, [sight for _, sight in missing], job.request)
        notes = taken.notes
        for (name, _), picture in zip(missing, taken.pictures, strict=True):
            job.store.put(name, png(ink_over_paint.flatten(picture.pixels)))
    if measured(job.store, job.names.figures) is None:
        record = {
            "figures": asdict(studied(job.design)[1]),
            "hidden_limit": limits(job.design.limits)["hidden_percent"].value / 100,
        }
        job.store.put(job.names.figures, json.dumps(record).encode())
    return notes


def worked_off(
    store: cache.Store, jobs: Iterable[Job], count: int, kept: Collection[str], processes: int | None = None
) -> Iterator[workers.Done[tuple[str, ...]]]:
    """Work off so many jobs on every core, or in so many `processes`; yield what became of each, as it is finished.

    The store is kept within its limit meanwhile; the names in `kept` stay.
    """
    most = cache.limit()
    try:
        for number, done in enumerate(workers.run(work, jobs, processes or workers.suited(count)), 1):
            if number % _TRIM_EVERY == 0:
                store.trim(most, kept)
            yield done
    finally:
        store.trim(most, kept)


def is_held(store: cache.Store, names: Names, sights: Sequence[Sight]) -> bool:
    """Return whether the store holds all of one pedal, each entry such as `work` makes it."""
    pictures = zip(names.pictures, sights, strict=True)
    return all(_is_picture(store, *each) for each in pictures) and measured(store, names.figures) is not None


def _is_picture(store: cache.Store, name: str, sight: Sight) -> bool:
    found = picture(store, name)
    return found is not None and found.shape[:2] == (sight.height_px, sight.width_px)


def picture(store: cache.Store, name: str) -> NDArray[np.uint8] | None:
    """Return a picture (h, w, 3) from the store, None where it is not there or the entry is none."""
    data = store.get(name)
    if data is None or kind_of(data) != "PNG":
        return None
    try:
        with Image.open(io.BytesIO(data), formats=("PNG",)) as image:
            return np.asarray(image.convert("RGB"))
    except (OSError, ValueError, SyntaxError):
        return None


def measured(store: cache.Store, name: str) -> Measured | None:
    """Return figures from the store, None where they are not there or the entry is none such."""
    data = store.get(name)
    try:
        return _RECORD.validate_json(data) if data is not None else None
    except ValidationError:
        return None
