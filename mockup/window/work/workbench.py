"""The work in hand: a project, its layout as edited, its pictures and what the checks find."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from mockup.colour.paints import Paint
from mockup.layout.edit.merge import ClashError, Prefer
from mockup.layout.edit.placing import kept_edges
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Design, Placement
from mockup.model.edit import Address
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.errors import InputError, MockupError
from mockup.model.finding import Finding
from mockup.model.units import Unit
from mockup.window.pane_content import PaneContent, require_designed
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.shell.native_window import NativeWindow
from mockup.window.work import layout_file, recovery
from mockup.window.work.check_runner import CheckRequest, question_of
from mockup.window.work.edit_scope import EditScope, LayoutEdit
from mockup.window.work.file_watcher import FileWatcher
from mockup.window.work.finding_book import FindingBook
from mockup.window.work.held_edit import HeldEdit
from mockup.window.work.project import Project, opened
from mockup.window.work.recovery import Keeper
from mockup.window.work.scene_loader import MOST_PANES_KEPT, LoadResult, PaneScene, SceneLoader, SceneRequest

PICTURE, FILE, SAVING, KEEPING = "picture", "file", "saving", "keeping"
"""What may be wrong until it is mended: the sources of faults in the strip."""


class Workbench:
    """Holds what is worked on. Everything here runs on the window's own thread.

    `panes` are the scenes that came last, by what they show.
    """

    def __init__(self, window: NativeWindow, mailbox: Mailbox, messages: MessageLine) -> None:
        self._window = window
        self._messages = messages
        self._loader = SceneLoader(lambda found: mailbox.post(lambda: self._loaded(found)))
        self.found = FindingBook(mailbox, messages)
        self.held = HeldEdit(self)
        self._watcher = FileWatcher(lambda paths: mailbox.post(lambda: self._saved_outside(paths)))
        self._keeper = Keeper(lambda text: mailbox.post(lambda: messages.stand(KEEPING, text)))
        self._number = self._loaded_number = 0
        self.project: Project | None = None
        self.document: LayoutDocument | None = None
        self.panes: dict[PaneContent, PaneScene] = {}
        self.variants: tuple[str, ...] = ()
        self.paints: tuple[Paint, ...] = ()
        self.is_own_edit = False
        self.wished_units: Unit | None = None
        self.clashes: tuple[str, ...] = ()
        self._contents: tuple[PaneContent, ...] = (PaneContent(),)
        self._active = 0
        self._watched: frozenset[Path] = frozenset()

    def open(self, path: str | Path) -> bool:
        """Open a layout or a folder; False, with a message, where that is none."""
        try:
            project = opened(path)
            document = layout_file.reopened(project.layout)
        except MockupError as error:
            self._messages.say_error(error)
            return False
        self.leave()
        self.project, self.document = project, document
        try:
            recovery.remember(project.layout)
        except MockupError as error:
            self._messages.say(str(error))
        self._window.retitle(f"{project.title} - mockup")
        self.request_scenes(is_fresh=True)
        return True

    def leave(self) -> None:
        """Close the project; unsaved changes are lost, so the user must have been asked."""
        self._watcher.watch(())
        self.project, self.document = None, None
        self.panes, self.variants, self.paints, self.clashes = {}, (), (), ()
        self.is_own_edit = False
        self.found.clear()
        self._contents, self._active, self._watched = (PaneContent(),), 0, frozenset()
        self._messages.clear()
        self._window.retitle("mockup")

    def close(self) -> None:
        """End the threads."""
        self._watcher.close()
        self._keeper.close()
        self._loader.close()
        self.found.close()

    # What is shown

    @property
    def content(self) -> PaneContent:
        """What the active pane shows."""
        return self._contents[self._active]

    @property
    def pane(self) -> PaneScene | None:
        """The scene in the active pane, the last good one of its variant; None before the first picture."""
        found = self.panes.get(self.content)
        if found is None:
            found = next((each for key, each in self.panes.items() if key.variant == self.content.variant), None)
        return found

    @property
    def design(self) -> Design | None:
        """The design in the active pane."""
        return self.pane.design if self.pane is not None else None

    @property
    def units(self) -> Unit:
        """The unit that the user wants, else that of the layout, millimetres before the first picture."""
        return self.wished_units or (self.design.units if self.design is not None else "mm")

    @property
    def faces(self) -> dict[FaceName, Face]:
        """The faces of the box in the active pane; none before the first picture."""
        return faces(self.design.enclosure) if self.design is not None else {}

    @property
    def part_names(self) -> tuple[str, ...]:
        """The names of the parts in the active pane, in the content of the layout."""
        return tuple(part.name for part in self.design.parts) if self.design is not None else ()

    def part(self, name: str | None) -> Placement | None:
        """Return a part of the active design by name."""
        parts = self.design.parts if self.design is not None else ()
        return next((part for part in parts if part.name == name), None)

    def kept_edges(self, name: str) -> tuple[str, ...]:
        """Return the edges of its face that the layout measures a part from."""
        if self.document is None:
            return ()
        return kept_edges(self.document.raw, Address(way=("part", name), variant=self.content.variant))

    @property
    def is_changed(self) -> bool:
        """True where there is something to save."""
        return self.document is not None and self.document.is_changed

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks found last, the worst first, without what is accepted."""
        return self.found.findings

    @property
    def is_waiting(self) -> bool:
        """True while a change is on its way into the picture."""
        return self._loaded_number < self._number

    def show(self, contents: Sequence[PaneContent], active: int) -> None:
        """Say what the panes are to show and which is active; scenes and findings that are missing are asked for."""
        before, asked = self._contents, self.content.checked
        self._contents, self._active = tuple(contents), active
        if before != self._contents:
            self.request_scenes()
        if asked != self.content.checked or {each.checked for each in before} != {each.checked for each in contents}:
            self.request_findings()
        if self.content.variant is None:
            self.is_own_edit = False

    def request_scenes(self, *, is_fresh: bool = False) -> None:
        """Ask for the scenes of what is shown; `is_fresh` reads all files again."""
        if self.project is not None and self.document is not None:
            request = SceneRequest(
                project=self.project, contents=self._contents, text=self.unsaved_text, is_fresh=is_fresh
            )
            self._number = self._loader.request(request)

    def request_findings(self) -> None:
        """Ask for the findings of the active variant."""
        if self.project is not None and self.document is not None:
            self.found.request(self.question, [self.question_of(each) for each in self._contents])

    def request_trial(self, document: LayoutDocument) -> None:
        """Ask for the findings of a layout that is only on trial."""
        if self.project is not None:
            self.found.request_trial(replace(self.question, text=document.text))

    @property
    def question(self) -> CheckRequest:
        """What the checks are asked about the active variant; a project must be open."""
        return self.question_of(self.content)

    def question_of(self, content: PaneContent) -> CheckRequest:
        """Return what the checks are asked about what a pane shows."""
        assert self.project is not None
        return question_of(self.project, self.unsaved_text, content)

    @property
    def unsaved_text(self) -> str | None:
        """The layout's text where it differs from the file, else None."""
        return self.document.text if self.document is not None and self.document.is_changed else None

    # Edits

    def take(self, document: LayoutDocument | None, *, is_shown: bool = True) -> None:
        """Take a changed layout; findings follow, and the picture where it `is_shown`."""
        if document is None or document is self.document or self.project is None:
            return
        self.document = document
        if self.clashes:
            self._follow_layout()  # what was changed here may agree with the file again
        self._keeper.changed(self.project.layout, self.document)
        self._window.touch()
        if is_shown:
            self.request_scenes()
        self.request_findings()

    def edit(self, change: LayoutEdit, *, is_step: bool = True, is_shown: bool = True) -> None:
        """Change the layout, or say why that cannot be done.

        `is_step` makes the change a step of undo by itself; else it may join the step before.
        """
        if self.document is None:
            return
        document = self.held.before or (self.document.closed() if is_step else self.document)
        try:
            require_designed(self.content)
            self.take(change(document, self.scope), is_shown=is_shown)
        except InputError as error:
            self._messages.say_error(error)

    @property
    def scope(self) -> EditScope:
        """Where edits go."""
        return EditScope(variant=self.content.variant, is_own=self.is_own_edit)

    def end_step(self) -> None:
        """Make the next edit a new step of undo."""
        if self.document is not None:
            self.document = self.document.closed()

    def undo(self) -> None:
        """Take the last step back."""
        if self.document is not None and self.document.undoes is not None:
            self._messages.say(f"Undone: {self.document.undoes}.")
            self.take(self.document.undone())

    def redo(self) -> None:
        """Make the step again that was undone last."""
        if self.document is not None and self.document.redoes is not None:
            self._messages.say(f"Done again: {self.document.redoes}.")
            self.take(self.document.redone())

    def discard(self) -> None:
        """Drop everything that is not saved."""
        if self.document is not None and self.is_changed:
            self.take(self.document.reverted())
            self._messages.say("The unsaved changes are dropped.")

    def save(self, prefer: Prefer | None = None) -> bool:
        """Write the changes into the layout file; False, with a message, where that cannot be.

        Raises `ClashError` where the file was changed to other values meanwhile and `prefer` does not say which stay.
        """
        if self.document is None or self.project is None:
            return True
        layout = self.project.layout
        try:
            self._watcher.expect(layout, layout_file.ready(layout, self.document, prefer=prefer).data)
            self.document = layout_file.save(layout, self.document, prefer=prefer)
        except ClashError:
            raise
        except InputError as error:  # what the file now holds; the watcher tells when it is well again
            self._differs(error)
            return False
        except MockupError as error:
            self._messages.fault(SAVING, str(error).splitlines()[0])
            return False
        self.clashes = ()
        self._messages.mended(SAVING)
        self._messages.mended(FILE)
        recovery.drop(layout)
        self._keeper.changed(layout, self.document)
        self._messages.say("Saved.")
        self.request_scenes()
        return True

    def drop_unsaved(self) -> None:
        """Forget unsaved changes, those kept for a crash too."""
        if self.document is not None and self.project is not None:
            self.document = self.document.reverted()
            self._keeper.changed(self.project.layout, self.document)
            recovery.drop(self.project.layout)

    def reload(self) -> None:
        """Read all files again."""
        self.request_scenes(is_fresh=True)
        self.request_findings()

    # What the threads found

    def _loaded(self, result: LoadResult) -> None:
        if self.project is None or result.number < self._number - 50:
            return
        self._loaded_number = result.number
        self.variants, self.paints = result.variants, result.paints
        for pane in result.panes:
            if pane is not None:
                self.panes.pop(pane.content, None)
                self.panes[pane.content] = pane
        while len(self.panes) > MOST_PANES_KEPT:
            del self.panes[next(iter(self.panes))]
        if result.faults:
            more = f" (and {len(result.faults) - 1} more)" if len(result.faults) > 1 else ""
            stays = ". The last good picture stays." if self.pane is not None else ""
            self._messages.fault(PICTURE, result.faults[0].rstrip(".") + more + stays)
        else:
            self._messages.mended(PICTURE)
        if result.files != self._watched:
            self._watched = result.files
            self._watcher.watch(result.files)
        if result.number == self._number and self.found.checked is None and not self.found.is_checking:
            self.request_findings()

    def _saved_outside(self, paths: frozenset[Path]) -> None:
        """Follow files that were saved elsewhere; what is unsaved here stays on top of a new layout."""
        if self.project is None or self.document is None:
            return
        if self.project.layout.resolve() in {path.resolve() for path in paths} or not paths:
            self._follow_layout()
        self.reload()

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
            self._messages.mended(FILE)
        except MockupError as error:
            self._differs(error)

    def _differs(self, error: MockupError) -> None:
        """Remember, and say once, that the file cannot simply be followed; what was changed here stays in sight."""
        is_new = not self.clashes
        if self.document is not None and self.document.is_changed:
            self.clashes = tuple(str(error).splitlines())
        if not isinstance(error, ClashError):
            self._messages.fault(FILE, str(error).splitlines()[0])
        elif is_new:
            self._messages.mended(FILE)
            self._messages.say(
                "This pedal was also changed outside this window. Saving here asks which to keep.", seconds=12.0
            )
