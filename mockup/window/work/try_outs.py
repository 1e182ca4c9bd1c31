"""What paints and films would do to the lettering: ranked as sweeps rank them, in a process of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from mockup.colour.paints import Paint
from mockup.films import films
from mockup.limits import wanted_contrast
from mockup.model.design import Design
from mockup.model.errors import MockupError
from mockup.window.work.assets import Assets
from mockup.window.work.newest_job import NewestJobThread
from mockup.window.work.project import Project
from mockup.worker import Worker, WorkerGoneError

_REST_S = 0.4  # changes are settled for so long before paints are tried: by eye


@dataclass(frozen=True, kw_only=True)
class TryRequest:
    """A variant of an edited layout on which paints are tried; `text` None means as it is on disk."""

    project: Project
    text: str | None
    variant: str | None
    paints: tuple[Paint, ...]


@dataclass(frozen=True, kw_only=True)
class WordReading:
    """How well a word stands out, as a contrast ratio at the worst, and the ratio that the limits want of it."""

    ratio: float
    wanted: float

    @property
    def is_enough(self) -> bool:
        """Whether the word reads."""
        return self.ratio >= self.wanted

    @property
    def share(self) -> float:
        """How much of what is wanted it has."""
        return self.ratio / self.wanted


@dataclass(frozen=True, kw_only=True)
class TryResult:
    """How the worst word reads with each paint and each film, the best first; None where there is no word."""

    request: TryRequest
    paints: tuple[tuple[Paint, WordReading | None], ...] = ()
    films: tuple[tuple[str, WordReading | None], ...] = ()


class TryOuts:
    """Tries on a thread of its own; the newest request wins. `deliver` is called on that thread."""

    def __init__(self, deliver: Callable[[TryResult], None]) -> None:
        self._deliver = deliver
        self._worker = Worker(is_behind=True)
        self._jobs: NewestJobThread[TryRequest] = NewestJobThread(self._work, "try-outs")

    def request(self, request: TryRequest) -> None:
        """Ask for a variant to be tried on in place of any that is not begun."""
        self._jobs.request(request)

    def close(self) -> None:
        """End the thread and its process."""
        self._worker.close()
        self._jobs.close()

    def _work(self, request: TryRequest) -> None:
        if self._jobs.wait(_REST_S):
            return
        try:
            self._deliver(self._worker.ask(tried, request))
        except (MockupError, WorkerGoneError):
            self._deliver(TryResult(request=request, paints=tuple((paint, None) for paint in request.paints)))


def tried(request: TryRequest) -> TryResult:
    """Return how the worst word stands out with each paint and each film; runs aside."""
    assets = Assets()
    text = assets.text(request.project) if request.text is None else request.text
    design = assets.design(text, request.project, request.variant, is_quick=True)
    paints = [(paint, worst_reading(_painted(design, paint))) for paint in request.paints]
    filmed = [(name, worst_reading(_filmed(design, name))) for name in films()]
    return TryResult(
        request=request,
        paints=tuple(sorted(paints, key=lambda each: -(each[1].share if each[1] is not None else 0.0))),
        films=tuple(sorted(filmed, key=lambda each: -(each[1].share if each[1] is not None else 0.0))),
    )


def worst_reading(design: Design) -> WordReading | None:
    """Return how that word of a design reads that has the least of what it needs, as the checks see it, or None."""
    from mockup.checks.art.legibility import standing
    from mockup.checks.art.lettering import pieces
    from mockup.checks.panel.built import Built

    built = Built(design)
    read = [
        WordReading(ratio=found.low, wanted=wanted_contrast(built.limits, piece.capital_mm).value)
        for piece in pieces(built)
        if (found := standing(built, piece)) is not None
    ]
    return min(read, key=lambda each: each.share, default=None)


def _painted(design: Design, paint: Paint) -> Design:
    return replace(design, finish=design.finish.in_colour(paint.colour))


def _filmed(design: Design, name: str) -> Design:
    film = films()[name]
    return replace(design, decals=tuple(replace(decal, film=film) for decal in design.decals))
