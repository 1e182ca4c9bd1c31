"""From the edited layout and its files to scenes, on a thread of its own: the newest request wins.

A broken file leaves the last good picture and says in one line what is wrong. What is unchanged since the
picture before is the same object: designs, meshes, textures, whole scenes.
"""

from __future__ import annotations

import contextlib
import itertools
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

from mockup import failure, reader
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import clearances
from mockup.colour.paints import Paint
from mockup.model.design import Design
from mockup.model.errors import MockupError
from mockup.model.scene import Scene
from mockup.scene.assemble import assemble
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.rays import Picker
from mockup.window.work.assets import Assets
from mockup.window.work.newest_job import NewestJobThread
from mockup.window.work.project import Project, assets, listed_paints, paints, watched

PATIENCE_S = 0.5  # a file may be read while it is half written; editors take less than this to end
_PAUSE_S = 0.08  # between two tries
MOST_PANES_KEPT = 12  # scenes that can be shown again at once
AHEAD = 6  # variants made ready while nobody waits, so that switching to them takes no time


@dataclass(frozen=True, kw_only=True, eq=False)
class SceneRequest:
    """What the window would like to show: an edited text of a project's layout, one content per pane.

    `text` None means the layout file as it is on disk. `is_fresh` says that files may have changed: all
    are read again, and one that seems broken is tried again for a moment. `number` counts wishes.
    """

    project: Project
    contents: tuple[PaneContent, ...]
    text: str | None = None
    is_fresh: bool = False
    number: int = 0


@dataclass(frozen=True, kw_only=True, eq=False)
class PaneScene:
    """One variant ready to draw. `design` is all that the layout says; `scene` is what `content` leaves of it."""

    content: PaneContent
    design: Design
    scene: Scene
    picker: Picker


@dataclass(frozen=True, kw_only=True, eq=False)
class LoadResult:
    """What came of a request.

    `panes` has one entry per content, None where that variant was never good yet. `faults` are lines for the
    user, none when all is well. `files` are those whose saving matters. Where it `is_coarse`, the same request
    comes once more, its vectors drawn as finely as they are elsewhere.
    """

    number: int = 0
    panes: tuple[PaneScene | None, ...] = ()
    faults: tuple[str, ...] = ()
    variants: tuple[str, ...] = ()
    paints: tuple[Paint, ...] = ()
    files: frozenset[Path] = frozenset()
    is_coarse: bool = False


@dataclass(kw_only=True, eq=False)
class _Memory:
    """What the thread remembers between wishes: of the `last` layout that could be read, variants, paints and files."""

    assets: Assets
    panes: dict[PaneContent, PaneScene] = field(default_factory=dict)
    last: LoadResult = LoadResult()
    project: Project | None = None


class SceneLoader:
    """Loads on a thread of its own and hands each result to `deliver`, which is called on that thread."""

    def __init__(self, deliver: Callable[[LoadResult], None], *, patience_s: float = PATIENCE_S) -> None:
        self._deliver = deliver
        self._patience_s = patience_s
        self._memory = _Memory(assets=Assets())
        self._numbers = itertools.count(1)
        self.jobs: NewestJobThread[SceneRequest] = NewestJobThread(self._work, "loading")

    def request(self, request: SceneRequest) -> int:
        """Ask for a picture in place of any that is not begun; return the request's number. Never waits."""
        number = next(self._numbers)
        self.jobs.request(replace(request, number=number))
        return number

    def close(self) -> None:
        """End the thread after what it is at, and let go of all that it kept."""
        reader.stop()
        self.jobs.close()
        self._memory = _Memory(assets=Assets())

    def _work(self, request: SceneRequest) -> None:
        until = time.perf_counter() + self._patience_s
        loaded = self._tried(request, is_quick=True)
        while loaded.faults and request.is_fresh and time.perf_counter() < until:
            if self.jobs.wait(_PAUSE_S):
                return  # a newer request reads the files anyway
            loaded = self._tried(request, is_quick=True)
        self._deliver(loaded)
        if loaded.is_coarse and not self.jobs.wait(_PAUSE_S):
            loaded = self._tried(request)
            self._deliver(loaded)
        if not loaded.faults:
            self._make_ready(request)

    def _tried(self, request: SceneRequest, *, is_quick: bool = False) -> LoadResult:
        try:
            if request.project != self._memory.project:
                self._memory = _Memory(assets=Assets(), project=request.project)
            return self._loaded(request, is_quick=is_quick)
        except Exception as error:  # whatever goes wrong, the window stays and says so
            return self._failed(request, (failure.noted(error, "the picture could not be made: this went wrong"),))

    def _loaded(self, request: SceneRequest, *, is_quick: bool = False) -> LoadResult:
        memory = self._memory
        if request.is_fresh:
            memory.assets.refresh()
        try:
            text = memory.assets.text(request.project) if request.text is None else request.text
            layout = memory.assets.layout(text, request.project)
        except MockupError as error:
            return self._failed(request, _lines(error))
        memory.last = LoadResult(
            number=request.number,
            variants=tuple(layout.file.variants),
            paints=paints(layout.raw, listed_paints(request.project)),
            files=watched(request.project, assets(layout)),
        )
        found = [self._pane(text, request.project, content, is_quick=is_quick) for content in request.contents]
        good = {pane.content.variant for pane, lines in found if pane is not None and not lines}
        return replace(
            memory.last,
            panes=tuple(pane for pane, _ in found),
            faults=tuple(dict.fromkeys(line for _, lines in found for line in lines)),
            is_coarse=is_quick and any(memory.assets.is_coarse(layout, request.project, each) for each in good),
        )

    def _pane(
        self, text: str, project: Project, content: PaneContent, *, is_quick: bool = False
    ) -> tuple[PaneScene | None, tuple[str, ...]]:
        """Return what a pane shows, and what is wrong with it: then it is the last good one, if there is one."""
        memory = self._memory
        try:
            design = memory.assets.design(
                text, project, content.variant, is_quick=is_quick, is_as_built=content.is_as_built
            )
            lighting = content.lighting
        except MockupError as error:
            return self._last_good(content), _lines(error)
        before = memory.panes.get(content)
        if before is None or before.design is not design:
            scene = assemble(content.dressed(design), lighting, look=content.look, is_flipped=content.is_flipped)
            before = PaneScene(content=content, design=design, scene=scene, picker=Picker(scene.bodies))
        memory.panes.pop(content, None)
        memory.panes[content] = before  # used last, dropped last
        while len(memory.panes) > MOST_PANES_KEPT:
            del memory.panes[next(iter(memory.panes))]
        return before, ()

    def _last_good(self, content: PaneContent) -> PaneScene | None:
        """Return the last good pane of what a pane shows, or else of its variant."""
        panes = self._memory.panes
        return panes.get(content) or next(
            (pane for pane in reversed(panes.values()) if pane.content.variant == content.variant), None
        )

    def _warm(self, design: Design) -> None:
        """Make ready what the room round any part is measured by, so that the first that is carried is no slower."""
        for part in design.parts:
            if self.jobs.is_overtaken:
                return
            clearances(Built(design), part)

    def _failed(self, request: SceneRequest, faults: tuple[str, ...]) -> LoadResult:
        """Return the last good pictures with what is wrong now."""
        last = self._memory.last
        return replace(
            last,
            number=request.number,
            panes=tuple(self._last_good(content) for content in request.contents),
            faults=faults,
            files=last.files | watched(request.project),
        )

    def _make_ready(self, request: SceneRequest) -> None:
        """Load the variants that are not shown, as long as nobody waits; what is wrong with them is told when shown."""
        content = request.contents[0] if request.contents else PaneContent()
        for variant in (None, *self._memory.last.variants)[:AHEAD]:
            if self.jobs.is_overtaken:
                return
            with contextlib.suppress(Exception):  # nobody asked for it yet
                text = self._memory.assets.text(request.project) if request.text is None else request.text
                pane, _ = self._pane(text, request.project, replace(content, variant=variant))
                if pane is not None and variant == content.variant:
                    self._warm(pane.design)


def _lines(error: MockupError) -> tuple[str, ...]:
    return tuple(" ".join(line.split()) for line in str(error).splitlines() if line.strip())
