"""What is drawn in one call, and its own colour as the shaders read it."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.engines.raster.gpu import Picture, Program, Solid, bind
from mockup.model.material import Material
from mockup.model.scene import Group


@dataclass(frozen=True, kw_only=True, eq=False)
class Batch:
    """Bodies of one group and one material, drawn in one call."""

    group: Group
    material: Material
    solid: Solid
    picture: Picture | None


def set_paint(program: Program, batch: Batch, sharper: float) -> None:
    """Set a batch's own colour; `sharper` is the texture level bias (negative is sharper)."""
    program.set(uBase=batch.material.base_color, uSharper=sharper)
    texture = batch.material.texture
    if texture is not None and batch.picture is not None:
        bind(0, batch.picture.id)
        program.set(
            uPicture=0, uPicturePlace=(texture.u_mm, texture.v_mm, 1.0 / texture.width_mm, 1.0 / texture.height_mm)
        )
