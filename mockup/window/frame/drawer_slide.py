"""The drawer on its way out from behind the rail, and back again."""

from __future__ import annotations

from mockup.window.view.camera_motion import eased

SLIDE_S = 0.14  # the window's design


class DrawerSlide:
    """Knows whether the drawer is open, since when, and how far out it was then."""

    def __init__(self) -> None:
        self._is_open = False
        self._since = self._before = 0.0

    def share(self, *, is_open: bool, now: float, seconds: float = SLIDE_S) -> float:
        """Return how far out the drawer is, 0 to 1, at a time in seconds."""
        there = self._at(now, seconds)
        if is_open != self._is_open:
            self._is_open, self._since, self._before = is_open, now, there
            there = self._at(now, seconds)
        return there

    def _at(self, now: float, seconds: float) -> float:
        end = 1.0 if self._is_open else 0.0
        done = eased(min((now - self._since) / seconds, 1.0)) if seconds > 0 else 1.0
        return self._before + (end - self._before) * done
