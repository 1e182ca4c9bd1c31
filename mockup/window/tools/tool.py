"""What every pointer tool answers, and what all of them work on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from mockup.window.shell.messages import MessageLine
from mockup.window.shell.native_window import NativeWindow
from mockup.window.view.camera_control import CameraControl
from mockup.window.view.scene_view import SceneView
from mockup.window.work.workbench import Workbench


@dataclass(frozen=True, kw_only=True)
class ToolContext:
    """What a tool works on."""

    window: NativeWindow
    messages: MessageLine
    work: Workbench
    view: SceneView
    camera: CameraControl


@dataclass(frozen=True, kw_only=True)
class PointerMove:
    """A move of the pointer with a button down, pixels of the window; `is_free` while Alt is held: no snapping."""

    x: float
    y: float
    dx: float
    dy: float
    is_free: bool = False


class PointerTool(Protocol):
    """A tool in hand from the press of a button to its release."""

    def drag(self, move: PointerMove) -> None:
        """Follow the pointer, which went further than a click may tremble."""
        ...

    def drop(self) -> None:
        """End a drag."""
        ...

    def click(self, x: float, y: float) -> None:
        """Take a press that did not move."""
        ...
