"""A picture on the screen: a quick draft while things move, then better pass by pass, never read back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from OpenGL import GL

from mockup.engines.appearance.samples import Floats
from mockup.engines.gl.batch import posed
from mockup.engines.gl.projections import camera
from mockup.engines.gl.resources import FullScreen, GpuMesh, Programs, Targets, bind
from mockup.engines.gl.session import RasterSession
from mockup.engines.gl.settings import effort_of
from mockup.engines.gl.view_transform import ViewTransform
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
        self._view_transform = ViewTransform(programs)
        self._shown = "draft"

    def draft(self, session: RasterSession, shot: Shot) -> None:
        """Draw the draft of a shot at once; it is what `present` shows from now on."""
        picture = self._targets.of("draft", shot.width_px, shot.height_px)
        for _ in session.passes(shot, picture):
            pass
        GL.glFinish()  # so that the caller's clock tells what it cost
        self._shown = "draft"
        self._view_transform.expose(picture, shot)

    def refine(self, session: RasterSession, shot: Shot, bands: Callable[[], int] | None = None) -> Iterator[bool]:
        """Draw a shot at its own quality in small pieces, the same passes as `RasterSession.render`.

        Yields after each piece whether what `present` shows has changed.
        """
        passes, before = effort_of(shot.quality).passes, 0
        mean = self._targets.of("mean", shot.width_px, shot.height_px)
        for done in session.passes(shot, mean, bands=bands):
            is_new = done > before and (done >= min(_SHOWN_FROM, passes) or done == passes)
            before = done
            if is_new:
                self._shown = "mean"
                self._view_transform.expose(mean, shot, passes / done)
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
        self._view_transform.draw(source, behind)
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
        return shown.read() * np.float32(self._view_transform.gain)

    def delete(self) -> None:
        """Free everything."""
        self._targets.delete()
        self._view_transform.delete()
        self._triangle.delete()


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
