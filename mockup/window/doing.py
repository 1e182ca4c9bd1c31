"""What each action of the key table does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from mockup.model.enclosure import FACES, FaceName
from mockup.model.errors import MockupError
from mockup.scene.cameras import VIEWS
from mockup.window.actions import BY_NAME
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.picture import Hands
from mockup.window.shell import screen_scale
from mockup.window.state import TOGGLES, Toggle
from mockup.window.view.scene_view import App, Measured

_STEP_DEG = 7.5
_STEP_PX = 40.0
_ZOOM = 1.15
_WIPE_STEP = 0.02


class Doing:
    """Carries out actions by name; `asks` are handed to the panel (dialogs, saving, help)."""

    def __init__(self, app: App, hands: Hands, asks: Callable[[str], None]) -> None:
        self._app = app
        self._hands = hands
        self._asks = asks
        self._table: dict[str, Callable[[], None]] = {
            "undo": self._undo,
            "redo": self._redo,
            "save": lambda: self._asks("save"),
            "reload": self._reload,
            "discard": self._discard,
            "next-part": lambda: self._next_part(1),
            "previous-part": lambda: self._next_part(-1),
            "deselect": self._leave,
            "turn-part": self._turn,
            "next-grid": lambda: app.change(app.state.next_grid()),
            "fit": self._fit,
            "fit-part": self._fit_part,
            "true-size": self._true_size,
            "perspective": self._perspective,
            "zoom-in": lambda: self._zoom(_ZOOM),
            "zoom-out": lambda: self._zoom(1 / _ZOOM),
            "proof": lambda: app.change(app.state.looked("photo" if app.state.look == "proof" else "proof")),
            "measure": self._measure,
            "next-light": lambda: app.change(app.state.next_light()),
            "next-variant": lambda: app.change(app.state.next_variant(app.variants)),
            "previous-variant": lambda: app.change(app.state.next_variant(app.variants, -1)),
            "one-pane": lambda: app.change(app.state.with_panes(1)),
            "two-panes": lambda: app.change(app.state.with_panes(2, app.variants)),
            "three-panes": lambda: app.change(app.state.with_panes(3, app.variants)),
            "four-panes": lambda: app.change(app.state.with_panes(4, app.variants)),
            "wipe": lambda: app.change(app.state.wiped(app.variants)),
            "wipe-left": lambda: app.change(app.state.wiped_to(app.state.wipe - _WIPE_STEP)),
            "wipe-right": lambda: app.change(app.state.wiped_to(app.state.wipe + _WIPE_STEP)),
            "bigger": lambda: app.host.rescale(app.host.scale * 1.1),
            "smaller": lambda: app.host.rescale(app.host.scale / 1.1),
        }
        for way, (x, y) in {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}.items():
            self._table[f"nudge-{way}"] = lambda x=x, y=y: self._nudge(x, y)  # type: ignore[misc]
            self._table[f"orbit-{way}"] = lambda x=x, y=y: self._orbit(x, y)  # type: ignore[misc]
            self._table[f"pan-{way}"] = lambda x=x, y=y: self._pan(x, y)  # type: ignore[misc]
        for name in VIEWS:
            self._table[f"view-{name}"] = lambda name=name: app.take_view(name)  # type: ignore[misc]
        for toggle in TOGGLES:
            self._table[toggle] = lambda toggle=toggle: self.toggle(toggle)  # type: ignore[misc]

    def act(self, name: str) -> bool:
        """Do an action; False where there is none of that name."""
        if name not in BY_NAME:
            return False
        self._app.host.touch()
        if name in self._table:
            if self._app.project is not None or name in ("bigger", "smaller"):
                self._table[name]()
        else:
            self._asks(name)
        return True

    def is_on(self, toggle: str) -> bool:
        """True where a toggle is on, be it here or in the layout."""
        app = self._app
        found = app.state.is_on(toggle)  # type: ignore[arg-type]
        if found is not None:
            return found
        design = app.design
        if design is None:
            return False
        if toggle == "lamp":
            return any(part.lamp is not None and part.lamp.is_lit for part in design.parts)
        return design.finish.has_clear_coat

    def toggle(self, toggle: Toggle) -> None:
        """Put a toggle the other way."""
        app = self._app
        app.change(app.state.toggled(toggle, self.is_on(toggle)))

    def _undo(self) -> None:
        app = self._app
        if app.document is not None and app.document.undoes is not None:
            app.say(f"undone: {app.document.undoes}")
            app.edit(app.document.undone())

    def _redo(self) -> None:
        app = self._app
        if app.document is not None and app.document.redoes is not None:
            app.say(f"done again: {app.document.redoes}")
            app.edit(app.document.redone())

    def _reload(self) -> None:
        self._app.wish(is_fresh=True)
        self._app.check()

    def _discard(self) -> None:
        app = self._app
        if app.document is not None and app.is_changed:
            app.edit(app.document.reverted())
            app.say("unsaved changes dropped")

    def _next_part(self, step: int) -> None:
        app = self._app
        if app.design is not None:
            app.change(app.state.next_part([part.name for part in app.design.parts], step))
            app.show_part()

    def _leave(self) -> None:
        app = self._app
        if self._hands.leave():
            return
        if app.measured.points:
            app.measured, app.preview = Measured(), None
        elif app.state.tool != "look":
            app.change(app.state.with_tool("look"))
        elif app.state.selected is not None:
            app.change(app.state.picked(None))

    def _turn(self) -> None:
        app = self._app
        part = app.part(app.state.selected)
        if part is not None:
            app.try_edit(
                lambda document: document.closed().turned(
                    part.name, part.rotation_deg + 90.0, variant=app.state.variant, is_own=app.is_own_change
                )
            )

    def _nudge(self, x: int, y: int) -> None:
        """Move the selected part by one step of the grid, as the face is seen from outside."""
        app = self._app
        part = app.part(app.state.selected)
        if part is None or app.document is None:
            app.say("select a part first: click it, or press Tab")
            return
        step = app.state.grid_mm or 0.1
        u, v = self._wanted.get(part.name, (part.u_mm, part.v_mm)) if app.is_waiting else (part.u_mm, part.v_mm)
        u, v = u + x * step, v + y * step
        self._wanted = {part.name: (u, v)}
        face = app.faces[part.face]
        app.try_edit(
            lambda document: document.moved(part.name, face, u, v, variant=app.state.variant, is_own=app.is_own_change)
        )

    _wanted: dict[str, tuple[float, float]] = {}  # noqa: RUF012  # replaced, never changed

    def _orbit(self, x: int, y: int) -> None:
        self._app.orbit = self._app.orbit.orbited(x * _STEP_DEG, -y * _STEP_DEG)

    def _pan(self, x: int, y: int) -> None:
        app = self._app
        app.orbit = app.orbit.panned(x * _STEP_PX, y * _STEP_PX, app.pane_size())

    def _zoom(self, factor: float) -> None:
        app = self._app
        width, height = app.pane_size()
        app.orbit = app.orbit.zoomed(factor, (width / 2, height / 2), (width, height))

    def _fit(self) -> None:
        app = self._app
        points = app.points()
        if points is not None:
            width, height = app.pane_size()
            app.change(app.state.at_true_size(None))
            app.orbit = app.orbit.fitted(points, width / height)

    def _fit_part(self) -> None:
        app = self._app
        pane = app.panes.get(app.order)
        if pane is None or app.state.selected is None:
            return
        meshes = [body.mesh for body in pane.scene.bodies if body.part == app.state.selected]
        if meshes:
            import numpy as np

            points = np.concatenate([mesh.vertices for mesh in meshes])
            middle, spread = points.mean(axis=0), points - points.mean(axis=0)
            width, height = app.pane_size()
            app.orbit = app.orbit.fitted(middle + 1.6 * spread, width / height)

    def _perspective(self) -> None:
        app = self._app
        app.change(replace(app.state, true_size=None))
        app.orbit = app.orbit.perspective() if app.orbit.ortho_mm is not None else app.orbit.orthographic()

    def _true_size(self) -> None:
        """Show the face that is looked at most squarely as large as it is; again goes back."""
        app = self._app
        if app.state.true_size is not None:
            self._fit()
            return
        try:
            px_per_mm = screen_scale.measured(app.host.screen_name)
        except MockupError as error:
            app.say(str(error))
            px_per_mm = None
        px_per_mm = px_per_mm or app.host.px_per_mm
        if px_per_mm is None:
            self._asks("measure-screen")
            return
        self.at_true_size(px_per_mm)

    def at_true_size(self, px_per_mm: float) -> None:
        """Show a face with one millimetre so many pixels long."""
        app = self._app
        if not app.faces:
            return
        face = self._facing()
        app.change(app.state.at_true_size(face))
        width, height = app.pane_size()
        app.orbit = Orbit.true_size(app.faces[face], px_per_mm, (float(width), float(height)))
        app.keep_camera()

    def _facing(self) -> FaceName:
        """Return the face that looks most towards the eye."""
        app = self._app
        back = app.orbit.camera().basis()[:3, 2]
        if app.order.is_flipped:
            return "top"
        return max(FACES, key=lambda name: float(app.faces[name].out @ back))

    def _measure(self) -> None:
        app = self._app
        app.measured, app.preview = Measured(), None
        app.change(app.state.with_tool("look" if app.state.tool == "measure" else "measure"))
        if app.state.tool == "measure":
            app.wanted_tab = "check"
