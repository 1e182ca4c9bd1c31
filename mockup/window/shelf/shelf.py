"""The shelf of thumbnails: whoever shows one asks for it in every frame, and gets its texture or None."""

from __future__ import annotations

import time
from collections import OrderedDict, deque

from imgui_bundle import imgui

from mockup.engines.gl.context import make_current
from mockup.engines.gl.resources import ImageTexture
from mockup.window.shelf.maker import REST_S, Made, ThumbnailMaker
from mockup.window.shelf.subjects import ArtSubject, PedalSubject, Thumbnail
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.native_window import NativeWindow

BOUND_BYTES = 48 * 2**20  # of textures, about 150 cards: our choice
_MOST_NAMES = 2000  # thumbnails whose names are remembered: our choice
_QUIET_S = 0.05  # nothing goes onto the GPU in the frame of an input, nor right behind it: by eye


class ThumbnailShelf:
    """Textures of thumbnails, the ones used last within a bound of memory.

    A texture comes onto the GPU in a frame of its own, when nobody touches the window.
    """

    def __init__(self, window: NativeWindow, mailbox: Mailbox) -> None:
        self._window = window
        self._maker = ThumbnailMaker(
            lambda made: mailbox.post(lambda: self._take(made)), lambda: self._quiet_s < REST_S
        )
        self._names: OrderedDict[Thumbnail, str] = OrderedDict()  # "" where it cannot be drawn
        self._textures: OrderedDict[str, ImageTexture] = OrderedDict()
        self._arrived: deque[Made] = deque()
        self._slots: dict[str, str] = {}
        self._frame = self._order = 0

    def texture(self, wanted: Thumbnail, *, slot: str = "") -> imgui.ImTextureRef | None:
        """Return a thumbnail's texture, None as long as there is none.

        Where `slot` names the place that shows it, the one that was there before stays until the new one is ready.
        """
        name = self._names.get(wanted)
        texture = self._textures.get(name) if name else None
        if texture is None and name != "":
            self._ask(wanted)
        if texture is None and slot:
            name = self._slots.get(slot, "")
            texture = self._textures.get(name)
        if texture is None or not name:
            return None
        self._textures.move_to_end(name)
        if slot:
            self._slots[slot] = name
        return imgui.ImTextureRef(texture.id)

    @property
    def is_waiting(self) -> bool:
        """True where the frame drawn last asked for a thumbnail that there was not."""
        return self._frame >= imgui.get_frame_count() - 1

    def refresh(self) -> None:
        """Look again at what pedals show: their art may have changed. What is shown stays until then."""
        for wanted in [each for each in self._names if isinstance(each.subject, PedalSubject | ArtSubject)]:
            del self._names[wanted]

    def work(self) -> float | None:
        """Put at most one thumbnail onto the GPU; return seconds until there is more."""
        if not self._arrived:
            return None
        if self._quiet_s < _QUIET_S:
            return _QUIET_S
        self._keep(self._arrived.popleft())
        self._window.touch()
        return 0.0 if self._arrived else None

    def close(self) -> None:
        """End the making, and free the textures."""
        self._maker.close()
        for texture in self._textures.values():
            texture.delete()
        self._textures.clear()

    @property
    def _quiet_s(self) -> float:
        return time.perf_counter() - self._window.stirred_at

    def _ask(self, wanted: Thumbnail) -> None:
        frame = imgui.get_frame_count()
        if frame != self._frame:
            self._maker.forget(self._frame)
            self._frame, self._order = frame, 0
        self._order += 1
        if not any(made.wanted == wanted for made in self._arrived):
            self._maker.want(wanted, (frame, -self._order))

    def _take(self, made: Made) -> None:
        self._arrived.append(made)

    def _keep(self, made: Made) -> None:
        self._names[made.wanted] = made.name if made.pixels is not None else ""
        while len(self._names) > _MOST_NAMES:
            self._names.popitem(last=False)
        if made.pixels is None or made.name in self._textures:
            return
        make_current()
        self._textures[made.name] = ImageTexture(made.pixels, is_encoded=True)
        while sum(map(_bytes, self._textures.values())) > BOUND_BYTES and len(self._textures) > 1:
            self._textures.popitem(last=False)[1].delete()


def _bytes(texture: ImageTexture) -> int:
    return int(texture.width * texture.height * 4)  # three channels, and a third more for its smaller copies
