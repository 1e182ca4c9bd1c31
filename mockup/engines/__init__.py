"""Plug-ins: one file per render engine, and which of them renders.

A plug-in is a module with the names of `Engine`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import TracebackType
from typing import TYPE_CHECKING, Protocol, Self, cast

from mockup.model.errors import EngineError, nearest
from mockup.model.scene import Frame, Quality, Scene, Shot
from mockup.plugins import Folder

if TYPE_CHECKING:
    from mockup.model.picture import Picture

ENGINES = Folder("mockup.engines")


class Session(Protocol):
    """One scene made ready to render; the scene is built once and shared by all its pictures."""

    def render(self, shot: Shot) -> Frame:
        """Return one linear picture; an engine that makes its glow later leaves it out."""
        ...

    def pictures(self, shots: Iterable[Shot]) -> Iterator[Picture]:
        """Yield a finished picture of each shot, encoded, (h, w, 4), with the facts of how it was made."""
        from mockup.colour.view import view
        from mockup.model.picture import Picture

        for shot in shots:
            frame = self.render(shot)
            yield Picture(pixels=view(frame.pixels, shot.look), facts=frame.facts)

    def close(self) -> None:
        """Give back what the session holds; it may be called twice."""
        ...

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class Engine(Protocol):
    """A plug-in module of this folder."""

    PREFERENCE: int
    """Which engine is taken first when none is named: the lowest number that can run here."""

    def still_preference(self, quality: Quality) -> int:
        """Return the same for a lit still of a quality that is no draft; asked only where the engine can run."""
        ...

    def unavailable(self) -> str | None:
        """Return one plain reason why it cannot run here, or None; never raises, leaves nothing behind."""
        ...

    def open(self, scene: Scene) -> Session:
        """Return a session for a scene; `EngineError` if the engine cannot run after all."""
        ...


def choose(
    name: str | None = None, refused: Mapping[str, str] | None = None, *, still: Quality | None = None
) -> tuple[str, Engine, str]:
    """Return an engine's name, the engine, and one line why another was not taken (or "").

    With a name, that engine; without, the one with the lowest `PREFERENCE` that can run here and is not
    in `refused`, which maps engines that turned out not to run to the reason. `still` asks for the one that makes
    the better lit still of that quality in its time.
    `EngineError` if there is no such engine, or it (or none) can run here.
    """
    if name is not None:
        return _named(name)
    engines = [(each, cast(Engine, module)) for each, module in ENGINES.all()]
    reasons: list[str] = []
    order = [
        engine.still_preference(still) if still is not None and engine.unavailable() is None else engine.PREFERENCE
        for _, engine in engines
    ]
    for _, (each, engine) in sorted(zip(order, engines, strict=True), key=lambda pair: pair[0]):
        reason = (refused or {}).get(each) or engine.unavailable()
        if reason is None:
            note = f"{'; '.join(reasons)}: {each} is used, which is slower" if reasons else ""
            return each, engine, note
        reasons.append(f"{each} cannot run here ({reason})")
    raise EngineError("no render engine can run here: " + "; ".join(reasons))


def _named(name: str) -> tuple[str, Engine, str]:
    plain = name.strip().casefold().replace("_", "-")
    if plain not in ENGINES.names():
        raise EngineError(f"there is no render engine {name!r}; {nearest(name, ENGINES.names())}")
    engine = cast(Engine, ENGINES.load(plain))
    reason = engine.unavailable()
    if reason is not None:
        raise EngineError(f"engine {plain!r} cannot run here: {reason}")
    return plain, engine, ""
