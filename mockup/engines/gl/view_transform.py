"""The end of a frame: its glow, and the view transform that makes bytes of light, as `colour.view` does elsewhere."""

from __future__ import annotations

from typing import Any

import numpy as np
from OpenGL import GL

from mockup.colour.view import SHOULDER
from mockup.engines.appearance.bloom import MOST, cell_px, halo_of
from mockup.engines.gl.resources import FullScreen, Programs, RenderTarget, Targets, bind, set_filters
from mockup.model.material import Colour
from mockup.model.scene import Shot


class ViewTransform:
    """`expose` takes a picture's look and gain and finds its glow; `draw` draws it encoded, as often as wanted."""

    def __init__(self, programs: Programs) -> None:
        self._programs, self._triangle = programs, FullScreen()
        self._targets = Targets()
        self._halo = 0
        self._has_halo, self._is_rolled = False, True
        self.gain = 1.0
        """What the picture is to be multiplied by: it may hold a part of its passes."""

    def expose(self, picture: RenderTarget, shot: Shot, gain: float = 1.0) -> None:
        """Make ready for a shot's linear picture; a small map of what is brighter than white is read back for it."""
        self.gain, self._is_rolled = gain, shot.look == "photo"
        self._has_halo = self._is_rolled and shot.quality != "draft" and self._glow(picture)

    def draw(self, picture: RenderTarget, behind: Colour | None) -> None:
        """Draw the picture onto the bound framebuffer, over an encoded colour, or on nothing with straight alpha."""
        program = self._programs.use("full_screen.vert", "view_transform.frag")
        bind(0, picture.texture)
        bind(1, self._halo)
        cell = cell_px(picture.height)
        program.set(
            uPass=0, uGain=self.gain, uRolled=float(self._is_rolled), uShoulder=SHOULDER,
            uBehind=behind or (0.0, 0.0, 0.0), uOpaque=float(behind is not None),
            uHalo=1, uHasHalo=float(self._has_halo), uHaloPlace=(picture.width / cell, picture.height / cell),
        )  # fmt: skip
        self._triangle.draw()

    def rest(self) -> None:
        """Free what a glow is made with; the next one makes it again."""
        self._targets.delete()
        if self._halo:
            GL.glDeleteTextures([self._halo])
            self._halo = 0

    def delete(self) -> None:
        """Free everything."""
        self.rest()
        self._triangle.delete()

    def _glow(self, picture: RenderTarget) -> bool:
        """Return whether anything is brighter than white, and keep its halo."""
        cell = cell_px(picture.height)
        small = self._targets.of("excess", -(-picture.width // cell), -(-picture.height // cell))
        small.resume()
        GL.glDisable(GL.GL_BLEND)
        bind(0, picture.texture)
        self._programs.use("full_screen.vert", "bright_pass.frag").set(uPass=0, uGain=self.gain, uCell=cell, uMost=MOST)
        self._triangle.draw()
        excess = small.read()[::-1, :, :3]  # its own row 0 is the picture's top
        if excess.max(initial=0.0) <= 0.0:
            return False
        self._keep_halo(halo_of(np.ascontiguousarray(excess), picture.height))
        return True

    def _keep_halo(self, halo: np.ndarray) -> None:
        if not self._halo:
            self._halo = int(GL.glGenTextures(1))
        GL.glBindTexture(GL.GL_TEXTURE_2D, self._halo)
        GL.glPixelStorei(GL.GL_UNPACK_ALIGNMENT, 1)
        data: Any = np.ascontiguousarray(halo, np.float32)
        rows, columns = halo.shape[:2]
        GL.glTexImage2D(GL.GL_TEXTURE_2D, 0, GL.GL_RGB32F, columns, rows, 0, GL.GL_RGB, GL.GL_FLOAT, data)
        set_filters(GL.GL_LINEAR)
