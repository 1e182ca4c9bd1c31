"""Everything that the actions and the panel work on, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.window.shell.dialog import Dialog
from mockup.window.shell.messages import MessageLine
from mockup.window.shell.native_window import NativeWindow
from mockup.window.shell.widgets import Widgets
from mockup.window.tools.pointer_tools import PointerTools
from mockup.window.view.camera_control import CameraControl
from mockup.window.view.scene_view import SceneView
from mockup.window.work.save_jobs import SaveJobs
from mockup.window.work.workbench import Workbench


@dataclass(frozen=True, kw_only=True)
class Desk:
    """The parts of the window that know nothing of each other."""

    window: NativeWindow
    messages: MessageLine
    work: Workbench
    saves: SaveJobs
    view: SceneView
    camera: CameraControl
    tools: PointerTools
    widgets: Widgets
    dialog: Dialog
