"""An engine that stays open, so that one pedal's picture can be taken after another's."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from mockup.engines import Session
from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.scene import Lighting, Scene, Shot
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight, Taken
from mockup.picture.studio import Studio, opened_on
from mockup.scene.assemble import assemble
from mockup.scene.views import VIEWS


@dataclass(frozen=True, kw_only=True, eq=False)
class _Open:
    """An engine that is open, what it was opened for, and what was said when it was."""

    session: Session
    asked: tuple[object, ...]
    engine: str
    note: str


class OpenEngine:
    """For one thread; close it, or leave it to the end of the process."""

    def __init__(self) -> None:
        self._open: _Open | None = None

    def take(self, design: Design, sights: Sequence[Sight], request: PictureRequest) -> Taken:
        """Return one picture for each sight, in order; those of a pedal that lies the same way one after the other.

        Raises `EngineError` where the engine cannot run.
        """
        order = sorted(range(len(sights)), key=lambda index: VIEWS[sights[index].view].is_flipped)
        found: dict[int, Picture] = {}
        notes: dict[str, None] = {}
        for is_flipped, group in groupby(order, key=lambda index: VIEWS[sights[index].view].is_flipped):
            studio = self._studio(design, request, is_flipped=is_flipped)
            notes.update(dict.fromkeys(studio.notes))
            for index in group:
                sight = sights[index]
                found[index] = studio.shoot(
                    VIEWS[sight.view],
                    sight.camera,
                    (sight.width_px, sight.height_px),
                    request,
                    turn_deg=sight.turn_deg,
                )
        return Taken(pictures=tuple(found[index] for index in range(len(sights))), notes=tuple(notes))

    def pixels(self, scene: Scene, shot: Shot) -> NDArray[np.uint8]:
        """Return the encoded pixels (h, w, 4) of a scene's shot on the best engine here; raises `EngineError`."""
        asked = PictureRequest(look=shot.look, quality=shot.quality).rendering()
        [picture] = self._ready(scene, (asked, scene.lighting, False)).session.pictures([shot])
        return picture.pixels

    def close(self) -> None:
        """Give back what the engine holds."""
        if self._open is not None:
            self._open.session.close()
            self._open = None

    def _studio(self, design: Design, request: PictureRequest, *, is_flipped: bool) -> Studio:
        design = request.finished(design)
        scene = assemble(design, request.lighting, look=request.look, is_flipped=is_flipped)
        ready = self._ready(scene, (request.rendering(), scene.lighting, is_flipped))
        notes = (*scene.notes, *((ready.note,) if ready.note else ()))
        return Studio(design=design, session=ready.session, scene=scene, engine=ready.engine, notes=notes)

    def _ready(self, scene: Scene, asked: tuple[PictureRequest, Lighting, bool]) -> _Open:
        """Return the open engine, showing a scene; opened again where it cannot take another one."""
        before = self._open
        update = getattr(before.session, "update", None) if before is not None else None
        if before is not None and before.asked == asked and update is not None:
            update(scene)
            return before
        self.close()
        engine, session, note = opened_on(asked[0].engine, scene)
        self._open = _Open(session=session, asked=asked, engine=engine, note=note)
        return self._open


@functools.cache
def open_engine() -> OpenEngine:
    """Return this process's own, which is no memory but its one GL context: it takes one pedal at a time."""
    return OpenEngine()


def take(design: Design, sights: Sequence[Sight], request: PictureRequest) -> Taken:
    """Take pictures with this process's open engine: the usual `shots.Take`."""
    return open_engine().take(design, sights, request)
