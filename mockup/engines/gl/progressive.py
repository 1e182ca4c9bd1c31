"""A picture on the screen: a quick draft while things move, then better pass by pass, never read back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from OpenGL import GL

from mockup.colour.view import SHOULDER
from mockup.engines.appearance.bloom import MOST, cell_px, halo_of
from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import posed
from mockup.engines.gl.projections import camera
from mockup.engines.gl.resources import FullScreen, GpuMesh, Programs, RenderTarget, Targets, bind, set_filters
from mockup.engines.gl.session import RasterSession
from mockup.engines.gl.settings import EFFORTS
from mockup.geometry.poses import turn
from mockup.model.material import Colour
from mockup.model.mesh import Mesh, joined
from mockup.model.scene import Shot

_SHOWN_FROM = 3  # passes; the mean of fewer looks worse than the draft: by eye


@dataclass(frozen=True, kw_only=True)
class Rect:
    """A rectangle of the screen in pixels, from its lower left corner."""

    x: int
    y: int
    width: int
    height: int


class Pane:
    """One picture on the screen, drawn from a session by `draft` and `refine` and shown by `present`."""

    def __init__(self, programs: Programs) -> None:
        self._programs = programs
        self._triangle = FullScreen()
        self._targets = Targets()
        self._halo = 0
        self._has_halo = False
        self._shown, self._gain, self._look = "draft", 1.0, "photo"

    def draft(self, session: RasterSession, shot: Shot) -> None:
        """Draw the draft of a shot at once; it is what `present` shows from now on."""
        for _ in session.passes(shot, self._targets.of("draft", shot.width_px, shot.height_px)):
            pass
        GL.glFinish()  # so that the caller's clock tells what it cost
        self._shown, self._gain, self._look, self._has_halo = "draft", 1.0, shot.look, False

    def refine(self, session: RasterSession, shot: Shot, bands: Callable[[], int] | None = None) -> Iterator[bool]:
        """Draw a shot at its own quality in small pieces, the same passes as `RasterSession.render`.

        Yields after each piece whether what `present` shows has changed.
        """
        passes, before = EFFORTS[shot.quality].passes, 0
        mean = self._targets.of("mean", shot.width_px, shot.height_px)
        for done in session.passes(shot, mean, bands=bands):
            is_new = done > before and (done >= min(_SHOWN_FROM, passes) or done == passes)
            before = done
            if is_new:
                self._shown, self._gain, self._look = "mean", passes / done, shot.look
                if shot.look == "photo" and shot.quality != "draft":
                    self._glow(mean)
            GL.glFinish()  # a driver that queues the work would do all of it at once, later
            yield is_new

    def present(self, framebuffer: int, place: Rect, behind: Colour, within: Rect | None = None) -> None:
        """Show the picture in a rectangle of a framebuffer, over an encoded colour where it is transparent.

        Nothing is drawn outside `within`, all of it by default.
        """
        source = self._targets.get(self._shown)
        if source is None:
            return
        _onto(framebuffer, place, within)
        program = self._programs.use("full_screen.vert", "view_transform.frag")
        bind(0, source.texture)
        bind(1, self._halo)
        cell = cell_px(source.height)
        program.set(
            uPass=0, uGain=self._gain, uRolled=float(self._look == "photo"), uShoulder=SHOULDER, uBehind=behind,
            uHalo=1, uHasHalo=float(self._has_halo), uHaloPlace=(source.width / cell, source.height / cell),
        )  # fmt: skip
        self._triangle.draw()
        GL.glDisable(GL.GL_SCISSOR_TEST)

    def mark(self, shot: Shot, session: RasterSession, solid: GpuMesh, pose: Floats | None) -> None:
        """Draw where a solid is, hidden or not, for `outline`."""
        mask = self._targets.of("mask", shot.width_px, shot.height_px)
        mask.begin(0.0, 0.0, 0.0, 0.0)
        GL.glDisable(GL.GL_DEPTH_TEST)
        GL.glDisable(GL.GL_CULL_FACE)
        GL.glDisable(GL.GL_BLEND)
        matrix = camera(shot.camera, shot.width_px, shot.height_px, *session.room)
        model = posed(turn(shot.turn_deg), pose)
        self._programs.use("surface.vert", "mask.frag").set(uModel=model, uViewProj=matrix)
        solid.draw()
        GL.glEnable(GL.GL_DEPTH_TEST)

    def outline(self, framebuffer: int, place: Rect, within: Rect, wide_px: float) -> None:
        """Draw a line round what was marked, looking for it only within a rectangle of the screen."""
        mask = self._targets.get("mask")
        if mask is None:
            return
        _onto(framebuffer, place, within)
        GL.glEnable(GL.GL_BLEND)
        GL.glBlendFunc(GL.GL_SRC_ALPHA, GL.GL_ONE_MINUS_SRC_ALPHA)
        bind(0, mask.texture)
        rect = (float(place.x), float(place.y), float(place.width), float(place.height))
        self._programs.use("full_screen.vert", "outline.frag").set(uMask=0, uMaskRect=rect, uWide=wide_px)
        self._triangle.draw()
        GL.glDisable(GL.GL_BLEND)
        GL.glDisable(GL.GL_SCISSOR_TEST)

    def read(self) -> np.ndarray:
        """Return the linear picture (h, w, 4) that is shown, its glow left out; for tests."""
        shown = self._targets.get(self._shown)
        assert shown is not None
        return shown.read() * np.float32(self._gain)

    def delete(self) -> None:
        """Free everything."""
        self._targets.delete()
        if self._halo:
            GL.glDeleteTextures([self._halo])
            self._halo = 0
        self._triangle.delete()

    def _glow(self, mean: RenderTarget) -> None:
        """Find what is brighter than white and make its halo: a small map is read back, not the picture."""
        cell = cell_px(mean.height)
        small = self._targets.of("excess", -(-mean.width // cell), -(-mean.height // cell))
        small.resume()
        GL.glDisable(GL.GL_BLEND)
        bind(0, mean.texture)
        self._programs.use("full_screen.vert", "bright_pass.frag").set(
            uPass=0, uGain=self._gain, uCell=cell, uMost=MOST
        )
        self._triangle.draw()
        excess = small.read()[::-1, :, :3]  # its own row 0 is the picture's top
        self._has_halo = bool(excess.max(initial=0.0) > 0.0)
        if self._has_halo:
            self._keep_halo(halo_of(np.ascontiguousarray(excess), mean.height))

    def _keep_halo(self, halo: np.ndarray) -> None:
        if not self._halo:
            self._halo = int(GL.glGenTextures(1))
        GL.glBindTexture(GL.GL_TEXTURE_2D, self._halo)
        GL.glPixelStorei(GL.GL_UNPACK_ALIGNMENT, 1)
        data: Any = np.ascontiguousarray(halo, np.float32)
        rows, columns = halo.shape[:2]
        GL.glTexImage2D(GL.GL_TEXTURE_2D, 0, GL.GL_RGB32F, columns, rows, 0, GL.GL_RGB, GL.GL_FLOAT, data)
        set_filters(GL.GL_LINEAR)


class Screen:
    """Bytes to show: the finished interface under the panel, kept so that moving the pointer redraws no picture."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._colour = int(GL.glGenRenderbuffers(1))
        self.fb = int(GL.glGenFramebuffers(1))
        GL.glBindRenderbuffer(GL.GL_RENDERBUFFER, self._colour)
        GL.glRenderbufferStorage(GL.GL_RENDERBUFFER, GL.GL_RGBA8, width, height)
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glFramebufferRenderbuffer(GL.GL_FRAMEBUFFER, GL.GL_COLOR_ATTACHMENT0, GL.GL_RENDERBUFFER, self._colour)

    def clear(self, colour: Colour) -> None:
        """Fill it with an encoded colour."""
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glViewport(0, 0, self.width, self.height)
        GL.glDisable(GL.GL_SCISSOR_TEST)
        GL.glColorMask(True, True, True, True)
        GL.glClearColor(*colour, 1.0)
        GL.glClear(GL.GL_COLOR_BUFFER_BIT)

    def show(self, framebuffer: int = 0) -> None:
        """Copy it to another framebuffer, the window's by default, and draw there from now on."""
        GL.glBindFramebuffer(GL.GL_READ_FRAMEBUFFER, self.fb)
        GL.glBindFramebuffer(GL.GL_DRAW_FRAMEBUFFER, framebuffer)
        size = (0, 0, self.width, self.height)
        GL.glDisable(GL.GL_SCISSOR_TEST)
        GL.glBlitFramebuffer(*size, *size, GL.GL_COLOR_BUFFER_BIT, GL.GL_NEAREST)
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, framebuffer)
        GL.glViewport(*size)

    def read(self) -> np.ndarray:
        """Return its bytes (h, w, 4), row 0 at the top."""
        GL.glBindFramebuffer(GL.GL_READ_FRAMEBUFFER, self.fb)
        out = np.empty((self.height, self.width, 4), np.uint8)
        GL.glPixelStorei(GL.GL_PACK_ALIGNMENT, 1)
        GL.glReadPixels(0, 0, self.width, self.height, GL.GL_RGBA, GL.GL_UNSIGNED_BYTE, out)
        return out[::-1]

    def delete(self) -> None:
        """Free it."""
        GL.glDeleteFramebuffers(1, [self.fb])
        GL.glDeleteRenderbuffers(1, [self._colour])


def outlined(meshes: Sequence[Mesh]) -> GpuMesh:
    """Return meshes as one solid to mark; the caller deletes it."""
    return GpuMesh(joined(Mesh(vertices=m.vertices, normals=m.normals, faces=m.faces) for m in meshes))


def _onto(framebuffer: int, place: Rect, within: Rect | None) -> None:
    GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, framebuffer)
    GL.glViewport(place.x, place.y, place.width, place.height)
    GL.glDisable(GL.GL_BLEND)
    GL.glColorMask(True, True, True, True)
    cut = within or place
    GL.glEnable(GL.GL_SCISSOR_TEST)
    GL.glScissor(cut.x, cut.y, max(cut.width, 0), max(cut.height, 0))
