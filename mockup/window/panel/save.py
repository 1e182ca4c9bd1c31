"""Saving: the layout itself, pictures, a turntable, template and sheet, with progress and a way to stop."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.model.scene import Quality
from mockup.window import pane_content
from mockup.window.doing import Doing
from mockup.window.shell.widgets import Widgets
from mockup.window.view.scene_view import App
from mockup.window.work.pane_pictures import PicturedPanes, saved_size
from mockup.window.work.save_jobs import KINDS, Kind, SaveJob, SaveProgress, SaveRunner

_TURN_KINDS = ((".webp", "WebP"), (".gif", "GIF"), (".mp4", "MP4"))
_TEMPLATE_KINDS = ((".pdf", "PDF"), (".svg", "SVG"), (".dxf", "DXF"))
_PAGES = (("a4", "A4"), ("letter", "Letter"))


class SavePage:
    """The page, what is chosen on it, and what is being made."""

    def __init__(self, app: App, kit: Widgets, doing: Doing) -> None:
        self._app = app
        self._kit = kit
        self._doing = doing
        self._maker = SaveRunner(lambda news: app.post(lambda: self._heard(news)))
        self._news: SaveProgress | None = None
        self._times, self._quality, self._turn, self._frames = "2", "normal", ".webp", "36"
        self._template, self._page, self._copies = ".pdf", "a4", "1"

    @property
    def is_busy(self) -> bool:
        """True while something is being made."""
        return self._maker.is_busy

    def draw(self) -> None:
        """Lay out the page."""
        self._layout()
        if self._news is not None:
            self._progress(self._news)
        self._picture()
        self._turntable()
        self._pages()

    def make(self, kind: Kind) -> None:
        """Begin to make something with what is chosen on the page."""
        app = self._app
        if app.project is None or app.document is None or app.pane is None:
            return
        quality: Quality = "final" if self._quality == "final" else "normal"
        sitting = PicturedPanes(
            orders=(app.order,),
            shot=pane_content.shot(app.state, app.orbit.camera(), app.pane_size(), quality=quality),
            view=app.state.view,
        )
        job = SaveJob(
            kind=kind,
            project=app.project,
            sitting=sitting,
            text=app.document.text if app.is_changed else None,
        )
        match kind:
            case "picture":
                wipe = app.state.wipe if app.state.is_wipe else None
                every = replace(sitting, orders=pane_content.contents(app.state), wipe=wipe, larger=int(self._times))
                job = replace(job, sitting=every)
            case "turntable":
                job = replace(job, suffix=self._turn, frames=int(self._frames))
            case "template":
                job = replace(job, suffix=self._template, options={"page": self._page})
            case "sheet":
                job = replace(job, suffix=".pdf", options={"page": self._page, "copies": int(self._copies)})
        app.wanted_tab = "save"
        if self._maker.start(job):
            self._news = SaveProgress(job=job, what="starting")
            app.host.touch()
        else:
            app.say("something is being saved already; wait for it, or stop it first")

    def stop(self) -> None:
        """Stop what is being made."""
        self._maker.stop()

    def close(self) -> None:
        """Stop, and wait for the end."""
        self._maker.close()

    def _heard(self, news: SaveProgress) -> None:
        self._news = news
        if news.is_over and news.fault:
            self._app.say(news.fault)
        elif news.is_over and news.files:
            self._app.say(f"saved {', '.join(path.name for path in news.files)} beside the layout")

    def _progress(self, news: SaveProgress) -> None:
        kit = self._kit
        kit.title(f"The {KINDS[news.job.kind]}")
        if not news.is_over:
            imgui.progress_bar(news.share, ImVec2(kit.wide - 80 * kit.scale, 0), news.what or "")
            kit.mark("save.progress")
            imgui.same_line()
            if kit.button("Stop", "save.stop", action="cancel", tip="Nothing is written", wide=kit.wide):
                self.stop()
        elif news.fault:
            kit.text(news.fault)
        else:
            for path in news.files:
                with kit.bold():
                    kit.text(path.name)
            kit.note(f"in {news.files[0].parent}")

    def _layout(self) -> None:
        kit, app = self._kit, self._app
        kit.title("Layout", is_first=True)
        document = app.document
        if document is None or not app.is_changed:
            kit.note("Nothing to save: the picture shows the file as it is.")
            return
        changes = document.unsaved
        for place, (_, value) in list(changes.items())[:12]:
            said = " ".join(str(step) for step in place)
            kit.pair(said if len(said) < 30 else said[-30:], f"= {value}", at=0.66)
        wide = (kit.wide - 8 * kit.scale) / 2
        if kit.button(
            "Save layout", "save.layout", action="save", wide=wide, tip="Only these values change in the file"
        ):
            self._doing.act("save")
        imgui.same_line()
        if kit.button("Drop changes", "save.discard", wide=wide, tip="Back to the file as it is"):
            self._doing.act("discard")

    def _picture(self) -> None:
        kit = self._kit
        kit.title("Picture")
        width, height = saved_size(
            self._app.pane_size(), 1 if self._app.state.is_wipe else len(self._app.state.variants)
        )
        rows = [(str(n), f"{width * n} x {height * n}") for n in (1, 2, 3)]
        self._times = kit.choose("picture.size", rows, self._times) or self._times
        kinds = [("normal", "Normal"), ("final", "Finest, slower")]
        self._quality = kit.choose("picture.quality", kinds, self._quality) or self._quality
        self._button("picture", "Save picture", "make-still", "What you see, without numbers and outlines, as PNG")

    def _turntable(self) -> None:
        kit = self._kit
        kit.title("Turntable")
        half = (kit.wide - 8 * kit.scale) / 2
        self._turn = kit.combo("turntable.kind", _TURN_KINDS, self._turn, wide=half) or self._turn
        imgui.same_line()
        rows = [("24", "24 pictures"), ("36", "36 pictures"), ("72", "72 pictures")]
        self._frames = kit.combo("turntable.frames", rows, self._frames, wide=half) or self._frames
        self._button(
            "turntable",
            "Save turntable",
            "make-turntable",
            "What you see, turning once round; the whole pedal stays in the picture",
        )

    def _pages(self) -> None:
        kit = self._kit
        kit.title("Pages at true size")
        third = (kit.wide - 16 * kit.scale) / 3
        self._page = kit.combo("page", _PAGES, self._page, wide=third) or self._page
        imgui.same_line()
        self._template = kit.combo("template.kind", _TEMPLATE_KINDS, self._template, wide=third) or self._template
        kit.tip("What the template is saved as")
        imgui.same_line()
        rows = [(str(n), "1 copy" if n == 1 else f"{n} copies") for n in (1, 2, 3, 4, 6, 8)]
        self._copies = kit.combo("sheet.copies", rows, self._copies, wide=third) or self._copies
        kit.tip("Of each decal on the sheet")
        self._button("template", "Save drill template", "make-template", "Holes with sizes, to print or cut")
        self._button("sheet", "Save decal sheet", "make-sheet", "The decals at true size, to print on film")
        kit.note("Print at 100 percent and measure the check rule before you drill or cut.")

    def _button(self, kind: Kind, label: str, action: str, tip: str) -> None:
        kit = self._kit
        if kit.button(label, f"save.{kind}", action=action, tip=tip, wide=kit.wide, is_enabled=not self.is_busy):
            self.make(kind)
