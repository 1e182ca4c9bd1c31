"""The work in hand: a project, its edited layout, and what threads and processes deliver of it."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.errors import InputError, MockupError
from mockup.model.finding import Finding
from mockup.window import pane_content
from mockup.window.editing import ClashError, Document, Prefer
from mockup.window.pane_content import PaneContent
from mockup.window.shell.native_window import NativeWindow
from mockup.window.state import State
from mockup.window.work import layout_file, recovery
from mockup.window.work.check_runner import CheckRequest, CheckResult, CheckRunner
from mockup.window.work.file_watcher import FileWatcher
from mockup.window.work.project import Paint, Project, opened
from mockup.window.work.scene_loader import LoadResult, PaneScene, SceneLoader, SceneRequest


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line for the user at the foot of the picture. `is_fault` lines stay until things are well again."""

    text: str
    is_fault: bool = False
    until: float = 0.0


class Desk:
    """Holds what is worked on. Everything here runs on the window's own thread.

    What shows it follows by `_arrived` (a version's scene came), `_varied` (the state changed) and
    `_left` (the project was closed).
    """

    def __init__(self, host: NativeWindow) -> None:
        self.host = host
        self.state = State()
        self.project: Project | None = None
        self.document: Document | None = None
        self.panes: dict[PaneContent, PaneScene] = {}
        self.variants: tuple[str, ...] = ()
        self.paints: tuple[Paint, ...] = ()
        self.findings: tuple[Finding, ...] = ()
        self.checked: str | None = None
        self.is_checking = False
        self.finding = -1
        self.faults: tuple[str, ...] = ()
        self.line: Line | None = None
        self.clashes: tuple[str, ...] = ()
        self.is_own_change = False
        self.seconds = 0.0
        self._mail: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        self._number = self._shown_number = 0
        self._watched: frozenset[Path] = frozenset()
        self.loader = SceneLoader(lambda loaded: self.post(lambda: self._loaded(loaded)))
        self.checker = CheckRunner(lambda answer: self.post(lambda: self._answered(answer)))
        self.watcher = FileWatcher(lambda paths: self.post(lambda: self._saved_outside(paths)))
        self.keeper = recovery.Keeper(lambda text: self.post(lambda: self.say(text, is_fault=True)))

    # What threads send

    def post(self, letter: Callable[[], None]) -> None:
        """Have something done on the window's thread; may be called from any."""
        self._mail.put(letter)
        self.host.wake()

    def collect(self) -> None:
        """Do what threads have asked for."""
        while True:
            try:
                letter = self._mail.get_nowait()
            except queue.Empty:
                return
            letter()
            self.host.touch()

    # Projects

    def open(self, path: str | Path) -> bool:
        """Open a layout or a folder; False, with a line for the user, where that is none."""
        try:
            project = opened(path)
            document = layout_file.reopened(project.layout)
        except MockupError as error:
            self.say(str(error).splitlines()[0], is_fault=True)
            return False
        self.leave()
        self.project, self.document = project, document
        self.state = replace(State(), has_panel=self.state.has_panel)
        self.line = None
        try:
            recovery.remember(project.layout)
        except MockupError as error:
            self.say(str(error))
        self.host.retitle(f"{project.title} - mockup")
        self.wish(is_fresh=True)
        return True

    def leave(self) -> None:
        """Go back to the start page; what is unsaved must have been asked about before."""
        self._left()
        self.watcher.watch(())
        self.project, self.document = None, None
        self.panes, self.findings, self.faults = {}, (), ()
        self.variants, self.paints, self.checked = (), (), None
        self.finding, self._watched, self.line, self.clashes = -1, frozenset(), None, ()
        self.is_own_change = False
        self.host.retitle("mockup")

    @property
    def order(self) -> PaneContent:
        """What the active pane shows."""
        return pane_content.contents(self.state)[self.state.active]

    @property
    def pane(self) -> PaneScene | None:
        """What the active pane was made of, the last good one; None before the first picture."""
        found = self.panes.get(self.order)
        if found is None:
            found = next((each for key, each in self.panes.items() if key.variant == self.state.variant), None)
        return found

    @property
    def design(self) -> Design | None:
        """The design in the active pane."""
        return self.pane.design if self.pane is not None else None

    @property
    def faces(self) -> dict[FaceName, Face]:
        """The faces of the box in the active pane; none before the first picture."""
        return faces(self.design.enclosure) if self.design is not None else {}

    def part(self, name: str | None) -> Placement | None:
        """Return a part of the active design by name."""
        if self.design is None:
            return None
        return next((part for part in self.design.parts if part.name == name), None)

    @property
    def is_changed(self) -> bool:
        """True where there is something to save."""
        return self.document is not None and self.document.is_changed

    @property
    def is_waiting(self) -> bool:
        """True while a change is on its way into the picture."""
        return self._shown_number < self._number

    # Changes

    def change(self, state: State) -> None:
        """Show another state."""
        before, self.state = self.state, state
        self.host.touch()
        if pane_content.contents(before) != pane_content.contents(state):
            self.wish()
        if before.variant != state.variant:
            self.check()
        self._varied(before)

    def edit(self, document: Document | None, *, is_shown: bool = True) -> None:
        """Take a changed layout; the picture and the findings follow."""
        if document is None or document is self.document or self.project is None:
            return
        self.document = document
        if self.clashes:
            self._follow_layout()  # what was changed here may agree with the file again
        self.keeper.changed(self.project.layout, self.document)
        self.host.touch()
        if is_shown:
            self.wish()
        self.check()

    def try_edit(self, changed: Callable[[Document], Document], *, is_shown: bool = True) -> None:
        """Change the layout, or say in one line why that cannot be done."""
        if self.document is None:
            return
        try:
            self.edit(changed(self.document), is_shown=is_shown)
        except InputError as error:
            self.say(str(error).splitlines()[0], is_fault=False)

    def save(self, prefer: Prefer | None = None) -> bool:
        """Write the changes into the layout file; False, with a line, where that cannot be."""
        if self.document is None or self.project is None:
            return True
        try:
            ready = layout_file.ready(self.project.layout, self.document, prefer=prefer)
            self.watcher.expect(self.project.layout, ready.data)
            self.document = layout_file.save(self.project.layout, self.document, prefer=prefer)
        except MockupError as error:
            self.say(str(error).splitlines()[0], is_fault=True)
            return False
        self.clashes = ()
        recovery.drop(self.project.layout)
        self.keeper.changed(self.project.layout, self.document)
        self.say(f"saved to {self.project.layout.name}")
        self.wish()
        return True

    def wish(self, *, is_fresh: bool = False) -> None:
        """Ask for the pictures of the present state."""
        if self.project is None or self.document is None:
            return
        text = self.document.text if self.document.is_changed else None
        orders = pane_content.contents(self.state)
        self._number = self.loader.request(
            SceneRequest(project=self.project, orders=orders, text=text, is_fresh=is_fresh)
        )

    def check(self) -> None:
        """Ask for the findings of the present state."""
        if self.project is None or self.document is None:
            return
        text = self.document.text if self.document.is_changed else None
        self.is_checking = True
        self.checker.request(CheckRequest(project=self.project, text=text, variant=self.state.variant))

    def say(self, text: str, *, is_fault: bool = False, seconds: float = 6.0) -> None:
        """Tell the user something in one line."""
        self.line = Line(text=" ".join(text.split()), is_fault=is_fault, until=time.perf_counter() + seconds)
        self.host.touch()

    # Letters

    def _loaded(self, loaded: LoadResult) -> None:
        if self.project is None or loaded.number < self._number - 50:
            return
        self.seconds, self._shown_number = loaded.seconds, loaded.number
        self.variants, self.paints = loaded.variants, loaded.paints
        for pane in loaded.panes:
            if pane is not None:
                before = self.panes.get(pane.order)
                self.panes[pane.order] = pane
                self._arrived(pane, before is None)
        self.faults = loaded.faults
        if loaded.faults:
            more = f" (and {len(loaded.faults) - 1} more)" if len(loaded.faults) > 1 else ""
            self.say(loaded.faults[0] + more, is_fault=True)
        elif self.line is not None and self.line.is_fault and not self.clashes:
            self.line = None
        if loaded.files != self._watched:
            self._watched = loaded.files
            self.watcher.watch(loaded.files)
        if self.design is not None:
            self.state = self.state.kept_to(self.variants, [part.name for part in self.design.parts])
        if loaded.number == self._number and self.checked is None and not self.is_checking:
            self.check()

    def _answered(self, answer: CheckResult) -> None:
        if self.project is None or answer.question.project != self.project:
            return
        self.is_checking = False
        if answer.faults:
            return
        self.findings = answer.findings
        self.checked = answer.question.variant or ""
        if self.finding >= len(self.findings):
            self.finding = -1

    def _saved_outside(self, paths: frozenset[Path]) -> None:
        """Follow files that were saved elsewhere; what is unsaved here stays on top of a new layout."""
        if self.project is None or self.document is None:
            return
        if self.project.layout.resolve() in {path.resolve() for path in paths} or not paths:
            self._follow_layout()
        self.wish(is_fresh=True)
        self.check()

    def _follow_layout(self) -> None:
        assert self.project is not None
        assert self.document is not None
        try:
            there = layout_file.reopened(self.project.layout)
            if not self.document.is_changed:
                self.document = there
            elif there.disk != self.document.disk:
                self.document = replace(self.document.onto(there.disk), has_bom=there.has_bom)
            self.clashes = ()
        except MockupError as error:
            self._differs(error)

    def _differs(self, error: MockupError) -> None:
        """Remember, and say once, that the file cannot simply be followed; what was changed here stays in sight."""
        lines, is_new = tuple(str(error).splitlines()), not self.clashes
        if self.document is None or not self.document.is_changed:
            self.say(lines[0], is_fault=True)
            return
        self.clashes = lines
        if isinstance(error, ClashError) and is_new:
            self.say("the file was saved elsewhere with other values; saving here asks which to keep", seconds=12.0)
        elif not isinstance(error, ClashError):
            self.say(lines[0], is_fault=True)

    def _arrived(self, pane: PaneScene, is_first: bool) -> None:
        """A version's scene came; `is_first` where there was none of it."""

    def _varied(self, before: State) -> None:
        """The state is another one."""

    def _left(self) -> None:
        """The project is closed."""

    def close(self) -> None:
        """End the threads."""
        self.watcher.close()
        self.keeper.close()
        self.loader.close()
        self.checker.close()
