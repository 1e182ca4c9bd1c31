"""What a render engine offers: the shape of every plug-in in this folder.

A plug-in is a module with these names; the first line of its docstring is its help text.
"""

from __future__ import annotations

from types import TracebackType
from typing import Protocol, Self

from mockup.model.scene import Frame, Scene, Shot


class Session(Protocol):
    """One scene made ready to render; the scene is built once and shared by all its pictures."""

    def render(self, shot: Shot) -> Frame:
        """Return one picture."""
        ...

    def close(self) -> None:
        """Give back what the session holds; it may be called twice."""
        ...

    def __enter__(self) -> Self: ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None: ...


class Engine(Protocol):
    """A plug-in module of this folder."""

    PREFERENCE: int
    """Which engine is taken first when none is named: the lowest number that can run here."""

    def unavailable(self) -> str | None:
        """Return one plain reason why it cannot run here, or None; never raises, leaves nothing behind."""
        ...

    def open(self, scene: Scene) -> Session:
        """Return a session for a scene; `EngineError` if the engine cannot run after all."""
        ...
