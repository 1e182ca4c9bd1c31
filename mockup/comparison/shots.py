"""The one place where a comparison's pictures are rendered: data in, pictures out.

What goes in is plain and can be hashed (a design by its content), so that whoever calls may keep
pictures, or render in another process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.scene import Camera, Look, Quality
from mockup.outputs._studio import OWN_BACKGROUND, lit, named_view, studio


@dataclass(frozen=True, kw_only=True)
class Sight:
    """One picture to take: a named view through a given camera, `turn_deg` as on a turntable."""

    view: str
    camera: Camera
    width_px: int
    height_px: int
    turn_deg: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Setting:
    """How pictures are taken: the same for every pedal of a comparison. `engine` None is the best one here."""

    light: str = "bench"
    background: str = OWN_BACKGROUND
    look: Look = "photo"
    quality: Quality = "normal"
    engine: str | None = None
    seconds: float | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Taken:
    """Pictures in the order of the sights asked for, and notes that a user should read once."""

    pictures: tuple[Picture, ...]
    notes: tuple[str, ...] = ()


def shoot(design: Design, sights: Sequence[Sight], setting: Setting) -> Taken:
    """Return one picture for each sight; the scene is built once for each way the pedal lies.

    Raises `InputError` for a light, ground or view that does not exist and `EngineError` where the
    engine cannot run.
    """
    lighting = lit(setting.light, setting.background)
    order = sorted(range(len(sights)), key=lambda index: named_view(sights[index].view).is_flipped)
    found: dict[int, Picture] = {}
    notes: dict[str, None] = {}
    for is_flipped, group in groupby(order, key=lambda index: named_view(sights[index].view).is_flipped):
        with studio(design, engine=setting.engine, lighting=lighting, look=setting.look, is_flipped=is_flipped) as room:
            notes.update(dict.fromkeys(room.notes))
            for index in group:
                sight = sights[index]
                found[index] = room.shoot(
                    named_view(sight.view),
                    sight.camera,
                    (sight.width_px, sight.height_px),
                    look=setting.look,
                    quality=setting.quality,
                    seconds=setting.seconds,
                    turn_deg=sight.turn_deg,
                )
    return Taken(pictures=tuple(found[index] for index in range(len(sights))), notes=tuple(notes))
