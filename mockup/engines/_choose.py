"""Which engine renders: the one asked for, or the first that can run here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from mockup.engines._interface import Engine
from mockup.model.errors import EngineError, nearest
from mockup.plugins import Folder

ENGINES = Folder("mockup.engines")


def choose(name: str | None = None, refused: Mapping[str, str] | None = None) -> tuple[str, Engine, str]:
    """Return an engine's name, the engine, and one line why another was not taken (or "").

    With a name, that engine; without, the one with the lowest `PREFERENCE` that can run here and is not
    in `refused`, which maps engines that turned out not to run to the reason.
    `EngineError` if there is no such engine, or it (or none) can run here.
    """
    if name is not None:
        return _named(name)
    engines = [(each, cast(Engine, module)) for each, module in ENGINES.all()]
    reasons: list[str] = []
    for each, engine in sorted(engines, key=lambda pair: pair[1].PREFERENCE):
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
