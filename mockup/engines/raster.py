"""Draws on the GPU (or a software GL): quick, with soft shadows and studio reflections."""

from __future__ import annotations

from mockup.engines import Session
from mockup.model.scene import Quality, Scene

PREFERENCE = 10


def unavailable() -> str | None:
    """Return why no GL picture can be made here, or None."""
    from mockup.engines.gl.context import reason_against

    return reason_against()


def still_preference(quality: Quality) -> int:
    """Return this engine's place for stills: behind the path tracer where GL runs in software, which costs more, and
    for a final one, to which more passes add nothing."""
    from mockup.engines.gl.context import is_software

    return 30 if quality == "final" or is_software() else PREFERENCE


def open(scene: Scene) -> Session:
    """Return a session that holds the scene on the GPU; `EngineError` if no context can be made."""
    from mockup.engines.gl.context import make_current

    make_current()
    from mockup.engines.gl.session import RasterSession

    return RasterSession(scene)
