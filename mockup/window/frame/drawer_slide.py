"""The drawer on its way out from behind the rail."""

from __future__ import annotations

from mockup.window.view.camera_motion import eased

SLIDE_S = 0.14  # the window's design


class DrawerSlide:
    """Knows since when the drawer is open."""

    def __init__(self) -> None:
        self._since: float | None = None

    def share(self, *, is_open: bool, now: float, seconds: float = SLIDE_S) -> float:
        """Return how far out the drawer is, 0 to 1, at a time in seconds; a closed one begins anew."""
        if not is_open:
            self._since = None
            return 1.0
        if self._since is None:
            self._since = now
        return eased(min((now - self._since) / seconds, 1.0)) if seconds > 0 else 1.0
