"""What the pointer does on the picture: go round, shift, zoom, carry a part, measure, wipe."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mockup.model.enclosure import Face, FaceName
from mockup.model.mesh import Floats
from mockup.window import pane_content
from mockup.window.pointer import measuring
from mockup.window.pointer.rays import Hit, Ray, on_face, pixel, ray
from mockup.window.pointer.snapping import Across, Down, neighbours, snapped
from mockup.window.view.scene_view import App, Carried, Measured

_DEGREES_PER_PX = 0.4  # at scale 1; half a turn over the width of a small window: by eye
_SLACK_PX = 3.0  # a click may tremble so much: common practice, no source
_WIPE_PX = 7.0  # how near the wipe's line is taken hold of
_REACH_PX = 7.0  # how near a line draws a carried part to it
_PER_LINE = 1.12  # zoom of one line of the wheel: by eye
_PAUSE_S = 0.3  # a part that is held still so long is built where it is


@dataclass
class _Hold:
    """What the pressed button has hold of."""

    does: str
    start: tuple[float, float]
    is_moved: bool = False
    part: str | None = None
    grab: tuple[float, float] = (0.0, 0.0)


class Hands:
    """Turns pointer events into changes of the app."""

    def __init__(self, app: App, settle: Callable[[float], None]) -> None:
        self._app = app
        self._hold: _Hold | None = None
        self._settle = settle
        self._last_move = 0.0
        self.hover: str | None = None
        self.at_wipe = False

    def pressed(self, x: float, y: float, button: str, key: str) -> None:
        """Take hold of what is under the pointer."""
        app = self._app
        found = app.pane_at(x, y)
        if found is None:
            return
        index, at = found
        if self._is_wipe(x):
            self._hold = _Hold(does="wipe", start=(x, y))
            return
        if index != app.state.active:
            app.change(app.state.activated(index))
        if button in ("middle", "right") or "shift+" in key:
            self._hold = _Hold(does="pan", start=(x, y))
            return
        if app.state.tool == "measure":
            self._hold = _Hold(does="measure", start=(x, y))
            return
        hit = self.pick(at)
        if hit is not None and hit.part is not None:
            self._hold = _Hold(does="carry", start=(x, y), part=hit.part, grab=self._grab(hit.part, at))
            if app.state.selected != hit.part:
                app.change(app.state.picked(hit.part))
                app.show_part()
            return
        self._hold = _Hold(does="orbit", start=(x, y))

    def dragged(self, x: float, y: float, dx: float, dy: float, key: str) -> None:
        """Move what is held."""
        app, hold = self._app, self._hold
        if hold is None:
            return
        if not hold.is_moved:
            gone = (x - hold.start[0], y - hold.start[1])
            if float(np.hypot(*gone)) < _SLACK_PX * app.host.scale:
                return
            hold.is_moved = True
            dx, dy = gone
        size = app.pane_size()
        match hold.does:
            case "orbit" | "measure":
                turn = _DEGREES_PER_PX / app.host.scale
                app.orbit = app.orbit.orbited(-dx * turn, dy * turn)
            case "pan":
                app.orbit = app.orbit.panned(dx, dy, size)
            case "wipe":
                rect = app.stage.rects[0]
                app.change(app.state.wiped_to((x - rect.x) / max(rect.width, 1)))
            case "carry":
                self._carry(x, y, hold, "alt+" not in key)
        app.host.touch()

    def released(self, x: float, y: float) -> None:
        """Let go."""
        app, hold = self._app, self._hold
        self._hold = None
        if hold is None:
            return
        if hold.does == "carry" and hold.is_moved:
            self._land()
        elif not hold.is_moved and hold.does == "orbit" and app.state.selected is not None:
            app.change(app.state.picked(None))
        elif not hold.is_moved and hold.does == "measure":
            self._measure(x, y)
        app.host.touch()

    def hovered(self, x: float, y: float) -> None:
        """Follow the pointer: what a click would choose, and where a measure would end."""
        app = self._app
        self.at_wipe = self._is_wipe(x)
        found = app.pane_at(x, y)
        if found is None or found[0] != app.state.active:
            self.hover = None
            return
        if app.state.tool == "measure":
            self._preview(found[1])
            return
        hit = self.pick(found[1])
        self.hover = hit.part if hit is not None else None

    def scrolled(self, x: float, y: float, lines: float, _key: str) -> None:
        """Zoom about the pointer."""
        app = self._app
        found = app.pane_at(x, y)
        if found is not None:
            app.orbit = app.orbit.zoomed(_PER_LINE**lines, found[1], app.pane_size())
            app.host.touch()

    def pick(self, at: tuple[float, float]) -> Hit | None:
        """Return what lies under a place of the active pane."""
        app = self._app
        pane = app.panes.get(app.order)
        if pane is None:
            return None
        size = tuple(float(side) for side in app.pane_size())
        return pane.picker.pick(ray(app.orbit.camera(), at, (size[0], size[1])), pane_content.untouchable(app.state))

    def pause(self) -> None:
        """A carried part is held still: build the box with it there."""
        if self._app.carried is not None and time.perf_counter() - self._last_move >= _PAUSE_S * 0.9:
            self._app.wish()

    @property
    def is_holding(self) -> bool:
        """True while a button is held on the picture."""
        return self._hold is not None

    def leave(self) -> bool:
        """Let go of a carried part without moving it; False where nothing was held."""
        app = self._app
        if self._hold is not None and self._hold.does == "carry" and self._hold.is_moved:
            self._hold = None
            app.carry(None)
            if app.document is not None and self._before is not None:
                app.edit(self._before)
            return True
        return False

    # Carrying

    _before = None

    def _line(self, at: tuple[float, float]) -> Ray:
        """Return the ray through a place of the active pane, in the frame of the pedal on its lid."""
        app = self._app
        width, height = app.pane_size()
        line = ray(app.orbit.camera(), at, (float(width), float(height)))
        pose = app.body_pose(app.order)
        return line if pose is None else line.seen_from(pose)

    def _grab(self, part: str, at: tuple[float, float]) -> tuple[float, float]:
        """Return how far from a part's centre it was taken, on its face."""
        placed = self._app.part(part)
        if placed is None:
            return 0.0, 0.0
        uv = on_face(self._line(at), self._app.faces[placed.face])
        return (uv[0] - placed.u_mm, uv[1] - placed.v_mm) if uv is not None else (0.0, 0.0)

    def _carry(self, x: float, y: float, hold: _Hold, is_snapping: bool) -> None:
        app = self._app
        found, part, design = app.pane_at(x, y), app.part(hold.part), app.design
        if found is None or found[0] != app.state.active or part is None or design is None:
            return
        face = app.faces[part.face]
        uv = on_face(self._line(found[1]), face)
        if uv is None:
            return
        if self._before is None:
            self._before = app.document
        across, down = self._edges(part.name)
        reach = min(_REACH_PX * app.host.scale * app.orbit.mm_per_px(app.pane_size()[1]), 4.0)
        landed = snapped(
            face,
            (uv[0] - hold.grab[0], uv[1] - hold.grab[1]),
            neighbours(design, part.name),
            grid_mm=app.state.grid_mm,
            reach_mm=reach,
            across=across,
            down=down,
            is_on=app.state.is_snapping and is_snapping,
        )
        app.carry(Carried(part=part.name, u_mm=landed.u_mm, v_mm=landed.v_mm, guides=landed.guides))
        self._last_move = time.perf_counter()
        self._write(part.name, face, is_shown=False)
        self._settle(_PAUSE_S)

    def _edges(self, part: str) -> tuple[Across, Down]:
        """Return the edges that the layout measures a part from."""
        document = self._app.document
        if document is None:
            return "left", "top"
        tables: list[dict[str, object]] = document.raw.get("part", [])
        table = next((each for each in tables if each.get("name") == part), {})
        return ("right" if "right" in table else "left"), ("bottom" if "bottom" in table else "top")

    def _write(self, part: str, face: Face, *, is_shown: bool) -> None:
        app, carried = self._app, self._app.carried
        if carried is None or app.document is None:
            return
        app.try_edit(
            lambda document: document.moved(
                part, face, carried.u_mm, carried.v_mm, variant=app.state.variant, is_own=app.is_own_change
            ),
            is_shown=is_shown,
        )

    def _land(self) -> None:
        app = self._app
        self._before = None
        if app.carried is None:
            return
        if app.document is not None:
            app.document = app.document.closed()
        app.put_down()
        app.wish()

    # Measuring

    def _measure(self, x: float, y: float) -> None:
        app = self._app
        found = app.pane_at(x, y)
        point = self._measuring_point(found[1]) if found is not None else None
        if point is None:
            app.measured = Measured()
            return
        held = app.measured.points
        points = (*held[:1], point) if len(held) == 1 else (point,)
        app.measured = self._told(points)

    def _preview(self, at: tuple[float, float]) -> None:
        app = self._app
        point = self._measuring_point(at)
        told = self._told((*app.measured.points[:1], point)) if point and len(app.measured.points) == 1 else None
        app.preview = told
        app.pointed = point[0] if point is not None else None

    def _measuring_point(self, at: tuple[float, float]) -> tuple[Floats, FaceName | None] | None:
        """Return the point (3,) on the pedal under the pointer and the face it lies on; a part counts by its centre."""
        app = self._app
        hit = self.pick(at)
        if hit is None:
            return None
        pose = app.body_pose(app.order)
        point = hit.point if pose is None else (hit.point - pose[:3, 3]) @ pose[:3, :3]
        part = app.part(hit.part)
        if part is not None:
            face = app.faces[part.face]
            return face.to_world(np.array([part.u_mm, part.v_mm])), part.face
        return point, hit.face

    def _told(self, points: tuple[tuple[Floats, FaceName | None], ...]) -> Measured:
        app = self._app
        units = app.design.units if app.design is not None else "mm"
        faces = {face for _, face in points}
        named = next(iter(faces)) if len(faces) == 1 else None
        face = app.faces[named] if named is not None else None
        uv = [face.from_world(point)[:2] for point, _ in points] if face is not None else []
        lines: tuple[str, ...] = ()
        span = None
        if len(points) == 2:
            (one, _), (two, _) = points
            span = (
                measuring.on_face((uv[0][0], uv[0][1]), (uv[1][0], uv[1][1]))
                if face is not None
                else measuring.in_space(one, two)
            )
            lines = span.lines(units)
        elif face is not None:
            lines = (f"on the {face.name} face", *measuring.edges(face, (uv[0][0], uv[0][1])).lines(units))
        return Measured(points=points, face=face.name if face is not None else None, span=span, lines=lines)

    def _is_wipe(self, x: float) -> bool:
        app = self._app
        if not app.state.is_wipe or not app.stage.rects:
            return False
        rect = app.stage.rects[0]
        return abs(x - rect.x - rect.width * app.state.wipe) <= _WIPE_PX * app.host.scale


def seen_at(app: App, point: Floats, index: int | None = None) -> tuple[float, float] | None:
    """Return where a point (3,) of the pedal on its lid is seen in the window, in a pane (the active one)."""
    at = app.state.active if index is None else index
    orders = pane_content.contents(app.state)
    if at >= len(app.stage.rects) or at >= len(orders):
        return None
    pose = app.body_pose(orders[at])
    world = point if pose is None else pose[:3, :3] @ point + pose[:3, 3]
    width, height = app.pane_size()
    found = pixel(app.orbit.camera(), world, (float(width), float(height)))
    if found is None:
        return None
    x, y = app.origin(at)
    return x + found[0], y + found[1]
