"""Everything that the actions, the tools and the panel work on, side by side."""

from __future__ import annotations

from dataclasses import replace

from mockup.model.errors import MockupError
from mockup.window.photograph.held_photograph import HeldPhotograph
from mockup.window.saves.page_preview import PagePreview, PreviewResult
from mockup.window.saves.save_jobs import SaveJobs
from mockup.window.shelf.shelf import ThumbnailShelf
from mockup.window.shell import theme
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.shell.native_window import NativeWindow
from mockup.window.tools.pointer_tools import PointerTools
from mockup.window.view.camera_control import CameraControl
from mockup.window.view.camera_motion import MOTION_S
from mockup.window.view.scene_view import SceneView
from mockup.window.widgets.chooser import Chooser
from mockup.window.widgets.dialog import Dialog
from mockup.window.widgets.widgets import Widgets
from mockup.window.work import settings
from mockup.window.work.arranging import Arranger
from mockup.window.work.doubt_reader import DoubtReader
from mockup.window.work.mender import Mender
from mockup.window.work.page_lookup import PageLookup
from mockup.window.work.picture_reader import PictureReader
from mockup.window.work.remedy_trial import RemedyTrial
from mockup.window.work.room_search import RoomSearch
from mockup.window.work.settings import Settings
from mockup.window.work.try_outs import TryOuts, TryResult
from mockup.window.work.workbench import Workbench


class Desk:
    """The parts of the window, each given those that it works with."""

    def __init__(self, window: NativeWindow, mailbox: Mailbox) -> None:
        self.window = window
        self.messages = MessageLine(window.touch)
        self.work = Workbench(window, mailbox, self.messages)
        self.saves = SaveJobs(mailbox, self.messages)
        self.shelf = ThumbnailShelf(window, mailbox)
        self.shown_pages: PreviewResult | None = None
        self.preview = PagePreview(lambda result: mailbox.post(lambda: self._take_pages(result)))
        self.tried: TryResult | None = None
        self.try_outs = TryOuts(lambda result: mailbox.post(lambda: self._take_tried(result)))
        self.doubts = DoubtReader(mailbox.post)
        self.pages = PageLookup(mailbox)
        self.pictures = PictureReader(mailbox)
        self.arranger = Arranger(mailbox)
        self.view = SceneView(window, self.work)
        self.photo = HeldPhotograph()
        self.camera = CameraControl(self.view, self.work, self.photo)
        self.widgets = Widgets(window)
        self.dialog = Dialog(self.widgets)
        self.chooser = Chooser(self.widgets, self.messages)
        self.trial = RemedyTrial(self.work, self.messages)
        self.mender = Mender(mailbox)
        self.rooms = RoomSearch(mailbox)
        self.tools = PointerTools(self)
        kept = settings.kept()
        self.settings = replace(kept, scale=None) if window.is_scale_asked else kept
        self._wear()

    def settle(self, wanted: Settings) -> None:
        """Take on settings at once, and keep them for the next run."""
        self.settings = wanted
        self._wear()
        try:
            settings.keep(wanted)
        except MockupError as error:
            self.messages.say_error(error)

    def _wear(self) -> None:
        """Have the window look and move as it is wanted."""
        wanted = self.settings
        self.window.wear(theme.LIGHT if wanted.theme == "light" else theme.DARK, wanted.scale)
        self.camera.motion_s = 0.0 if wanted.has_less_motion else MOTION_S
        self.work.wished_units = wanted.units

    def _take_pages(self, result: PreviewResult) -> None:
        self.shown_pages = result

    def _take_tried(self, result: TryResult) -> None:
        self.tried = result
