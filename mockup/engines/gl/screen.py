"""Bytes to look at: what a window shows, and how a picture comes back from the GPU."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from OpenGL import GL

from mockup.model.material import Colour


class Screen:
    """Bytes to show: the finished interface under the panel, kept so that moving the pointer redraws no picture.

    `copy_back` asks for them at once, `bytes` waits for them: what is drawn between hides what the way back takes.
    """

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._colour = int(GL.glGenRenderbuffers(1))
        self.fb = int(GL.glGenFramebuffers(1))
        GL.glBindRenderbuffer(GL.GL_RENDERBUFFER, self._colour)
        GL.glRenderbufferStorage(GL.GL_RENDERBUFFER, GL.GL_RGBA8, width, height)
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glFramebufferRenderbuffer(GL.GL_FRAMEBUFFER, GL.GL_COLOR_ATTACHMENT0, GL.GL_RENDERBUFFER, self._colour)
        self._buffer = 0

    def begin(self) -> None:
        """Draw here from now on."""
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glViewport(0, 0, self.width, self.height)
        GL.glDisable(GL.GL_SCISSOR_TEST)
        GL.glDisable(GL.GL_BLEND)
        GL.glColorMask(True, True, True, True)

    def clear(self, colour: Colour) -> None:
        """Fill it with an encoded colour."""
        self.begin()
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

    def copy_back(self) -> None:
        """Have what is drawn so far copied back, beside whatever is drawn next."""
        if not self._buffer:
            self._buffer = int(GL.glGenBuffers(1))
        GL.glBindFramebuffer(GL.GL_READ_FRAMEBUFFER, self.fb)
        GL.glBindBuffer(GL.GL_PIXEL_PACK_BUFFER, self._buffer)
        GL.glBufferData(GL.GL_PIXEL_PACK_BUFFER, 4 * self.width * self.height, None, GL.GL_STREAM_READ)
        GL.glPixelStorei(GL.GL_PACK_ALIGNMENT, 1)
        GL.glReadPixels(0, 0, self.width, self.height, GL.GL_RGBA, GL.GL_UNSIGNED_BYTE, 0)
        GL.glBindBuffer(GL.GL_PIXEL_PACK_BUFFER, 0)

    def bytes(self) -> NDArray[np.uint8]:
        """Return what was copied back (h, w, 4), row 0 at the top; waits for it."""
        out = np.empty((self.height, self.width, 4), np.uint8)
        GL.glBindBuffer(GL.GL_PIXEL_PACK_BUFFER, self._buffer)
        GL.glGetBufferSubData(GL.GL_PIXEL_PACK_BUFFER, 0, out.nbytes, out)
        GL.glBindBuffer(GL.GL_PIXEL_PACK_BUFFER, 0)
        return out[::-1]

    def read(self) -> NDArray[np.uint8]:
        """Return its bytes (h, w, 4), row 0 at the top."""
        self.copy_back()
        return self.bytes()

    def delete(self) -> None:
        """Free it."""
        if self._buffer:
            GL.glDeleteBuffers(1, [self._buffer])
        GL.glDeleteFramebuffers(1, [self.fb])
        GL.glDeleteRenderbuffers(1, [self._colour])


class Screens:
    """Two screens in turn: while the bytes of one are copied back, the other is drawn."""

    def __init__(self) -> None:
        self._made: list[Screen] = []

    def next(self, width: int, height: int) -> Screen:
        """Return the one that was not used last, of this size."""
        screen = self._made.pop(0) if len(self._made) == 2 else None
        if screen is None or (screen.width, screen.height) != (width, height):
            if screen is not None:
                screen.delete()
            screen = Screen(width, height)
        self._made.append(screen)
        return screen

    def delete(self) -> None:
        """Free them."""
        for screen in self._made:
            screen.delete()
        self._made = []
