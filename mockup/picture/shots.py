"""What pictures a comparison takes, and what comes back: data in, pictures out.

What goes in is plain and can be hashed (a design by its content), so that whoever takes them may keep
pictures, or render in another process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.scene import Camera
from mockup.picture.options import PictureRequest


@dataclass(frozen=True, kw_only=True)
class Sight:
    """One picture to take: a named view through a given camera, `turn_deg` as on a turntable."""

    view: str
    camera: Camera
    width_px: int
    height_px: int
    turn_deg: float = 0.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Taken:
    """Pictures in the order of the sights asked for, and notes that a user should read once."""

    pictures: tuple[Picture, ...]
    notes: tuple[str, ...] = ()


class Take(Protocol):
    """How pictures are taken: one of a design for each sight, in order.

    `open_engine.take` is the usual way. Another one may hand out pictures from elsewhere; it has to pickle where a
    comparison is large enough for several processes.
    """

    def __call__(self, design: Design, sights: Sequence[Sight], request: PictureRequest) -> Taken:
        """Return a picture through each sight, rendered as asked; raise `EngineError` where none can be taken."""
