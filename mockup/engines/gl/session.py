"""One scene on the GPU, drawn from any camera at any turn."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from OpenGL import GL

from mockup.engines import Session
from mockup.engines.appearance.film import FilmMap, film_map
from mockup.engines.appearance.samples import Floats, pixel_filter
from mockup.engines.gl.batch import (
    Batch,
    Cast,
    Casters,
    depth_prepass,
    flake_sides,
    gathered,
    posed,
    seen_once,
    set_paint,
)
from mockup.engines.gl.context import make_current
from mockup.engines.gl.face_mirrors import face_of
from mockup.engines.gl.frame_light import FrameLight, LightPass
from mockup.engines.gl.lit_scene import LitScene
from mockup.engines.gl.projections import camera, jittered, through_lens
from mockup.engines.gl.resources import ImageTexture, Programs, RenderTarget, Targets
from mockup.engines.gl.screen import Screen, Screens
from mockup.engines.gl.settings import Effort, effort_of
from mockup.engines.gl.store import GpuStore
from mockup.engines.gl.view_transform import ViewTransform
from mockup.geometry.poses import turn
from mockup.model.errors import EngineError
from mockup.model.mesh import Mesh
from mockup.model.picture import Picture
from mockup.model.scene import Body, Frame, Group, Lighting, Point3, Scene, Shot

_GHOST_ALPHA = 0.22  # how much of a see-through surface is left: by eye


class RasterSession(Session):
    """A scene that stays on the GPU; every picture changes only the camera, the turn and what is hidden.

    `programs` may be shared by several sessions of one context, so that each is compiled once; then
    they belong to the caller. A window gives its session another scene by `update`, and moves one
    part about by `lift` and `carry`.
    """

    def __init__(self, scene: Scene, programs: Programs | None = None) -> None:
        self._owns_programs = programs is None
        self._programs = Programs() if programs is None else programs
        self._store = GpuStore()
        self._targets = Targets()
        self._view_transform = ViewTransform(self._programs)
        self._lifted: str | None = None
        self._pose: Floats | None = None
        self._version = 0
        self._scene = scene
        self._lit = LitScene(scene, self._programs, self._targets)
        self._batches = self._lay()
        self._open = True

    @property
    def scene(self) -> Scene:
        """The scene that it shows."""
        return self._scene

    @property
    def room(self) -> tuple[Point3, float]:
        """Centre (mm) and radius (mm) of a sphere that holds all that is drawn."""
        x, y, z = (float(value) for value in self._lit.light.extent.centre)
        return (x, y, z), self._lit.light.far_reach

    def update(self, scene: Scene) -> None:
        """Show another scene from now on; meshes and pictures that both hold stay where they are."""
        self._scene = scene
        self._lit.update(scene)
        self._batches = self._lay()

    def lift(self, part: str | None) -> None:
        """Make one part ready to be carried about, its holes left behind; None puts it down again."""
        if part != self._lifted:
            self._lifted, self._pose = part, None
            self._lit.lifted = part
            self._batches = self._lay()

    def carry(self, pose: Floats) -> None:
        """Show the lifted part moved by a rigid (4, 4) pose on the body."""
        self._pose = pose
        self._version += 1

    def rest(self) -> None:
        """Free what pictures are made with, the scene itself stays: for a session that is not looked at now."""
        self._lit.rest()
        self._targets.delete()
        self._view_transform.rest()

    def render(self, shot: Shot) -> Frame:
        """Return one linear picture, without its glow; `EngineError` once the session is closed."""
        return Frame(pixels=self._drawn(shot).read(), facts=_facts(shot))

    def pictures(self, shots: Iterable[Shot]) -> Iterator[Picture]:
        """Yield a finished picture of each shot; its bytes are copied back while the next one is drawn.

        `EngineError` once the session is closed.
        """
        screens, under_way = Screens(), None
        try:
            for shot in shots:
                linear = self._drawn(shot)
                self._view_transform.expose(linear, shot)
                screen = screens.next(shot.width_px, shot.height_px)
                screen.begin()
                self._view_transform.draw(linear, None)
                screen.copy_back()
                if under_way is not None:
                    yield _picture(*under_way)
                under_way = shot, screen
            if under_way is not None:
                yield _picture(*under_way)
        finally:
            screens.delete()

    def _drawn(self, shot: Shot) -> RenderTarget:
        if not self._open:
            raise EngineError("this render session is closed")
        make_current()
        mean = self._targets.of("mean", shot.width_px, shot.height_px)
        for _ in self.passes(shot, mean):
            pass
        return mean

    def close(self) -> None:
        """Free everything on the GPU; the context itself is kept for the next session."""
        if not self._open:
            return
        self._open = False
        make_current()
        self.rest()
        self._lit.delete()
        self._view_transform.delete()
        self._store.delete()
        if self._owns_programs:
            GL.glUseProgram(0)  # a program still in use would outlive its deletion
            self._programs.clear()

    def passes(self, shot: Shot, mean: RenderTarget, *, bands: Callable[[], int] | None = None) -> Iterator[int]:
        """Draw a picture into `mean` piece by piece; yield after each how many whole passes are in.

        Whatever is drawn elsewhere between two pieces does no harm; each pass adds its share of the
        whole. `bands` says, at each pass, how many strips to split it into.
        """
        self._light(shot.lighting or self._scene.lighting)
        effort, ghost = effort_of(shot.quality), shot.see_through
        width, height = shot.width_px, shot.height_px
        view = camera(shot.camera, width, height, *self.room)
        model = turn(shot.turn_deg)
        visible = [batch for batch in self._batches if batch.group not in shot.hidden]
        if effort.passes == 1 and self._scene.seam is not None and "lid" not in shot.hidden:
            visible = seen_once(visible, self._scene.seam)
        plain = [batch for batch in visible if batch.group not in ghost]
        veiled = [batch for batch in visible if batch.group in ghost]
        _begin()
        cast = self._casters(shot.hidden, ghost, effort)
        veil = self._cast(shot.hidden | (_GROUPS - ghost), 0.0) if veiled else ()
        frame, background = None, (0.0, 0.0, 0.0, 0.0)
        if shot.look == "photo":
            key = (shot.turn_deg, shot.hidden, ghost, self._version)
            frame, background = self._lit.frame(effort, model, shot.turn_deg, key), self._lit.light.background
            for _ in self._lit.prepare(frame, shot, view, cast, plain, self._pose):
                yield 0
                _begin()
        target = self._targets.of("pass", width, height, depth=True)
        if effort.passes > 1:
            mean.begin(0.0, 0.0, 0.0, 0.0)
        for index, offset in enumerate(pixel_filter(effort.passes)):
            lit = (frame, frame.of_pass(index)) if frame is not None else None
            if shot.camera.aperture_mm > 0.0:
                seen, shift = through_lens(shot.camera, index, effort.passes, height)
                view, offset = camera(seen, width, height, *self.room), offset + shift
            this = _Pass(shot=shot, matrix=jittered(view, offset, width, height), model=model, effort=effort, lit=lit)
            count = bands() if bands is not None else 1
            if lit is not None:
                for _ in self._lit.prepare_pass(*lit, shot, this.matrix, cast, self._pose, count):
                    yield index
                    _begin()
            target.begin(*background)
            GL.glDepthFunc(GL.GL_LESS)
            depth_prepass(self._programs, this.matrix, model, cast.whole)
            for band in range(count):
                if count > 1:
                    target.resume()
                    target.strip(band, count)
                self._draw(this, plain)
                if veiled:
                    self._draw_veiled(this, veiled, veil)
                GL.glDisable(GL.GL_SCISSOR_TEST)
                if band < count - 1:
                    yield index
                    _begin()
            self._hand_over(target, mean, this)
            yield index + 1
            _begin()

    def _light(self, lighting: Lighting) -> None:
        """Light the scene by what a picture asks for."""
        if lighting != self._lit.light.lighting:
            self._lit.update(replace(self._scene, lighting=lighting))
            self._version += 1

    def _hand_over(self, target: RenderTarget, mean: RenderTarget, this: _Pass) -> None:
        """Put a finished pass into the mean."""
        if this.effort.passes > 1:
            self._lit.combine(target, mean, "accumulate.frag", 1.0 / this.effort.passes)
        elif this.lit is not None:
            self._lit.combine(target, mean, "antialias.frag", None)
        else:
            mean.begin(0.0, 0.0, 0.0, 0.0)
            self._lit.combine(target, mean, "accumulate.frag", 1.0)

    def _draw(self, this: _Pass, visible: list[Batch], has_ground: bool = True) -> None:
        if this.lit is not None:
            self._lit.draw(*this.lit, this.shot, this.matrix, visible, self._pose, has_ground)
            return
        GL.glDepthFunc(GL.GL_LEQUAL)
        for batch in visible:
            program = self._programs.use("surface.vert", "proof.frag", HAS_PICTURE=int(batch.picture is not None))
            place = posed(this.model, self._pose if batch.is_lifted else None)
            program.set(uModel=place, uViewProj=this.matrix)
            set_paint(program, batch, this.effort.passes)
            batch.solid.draw()

    def _draw_veiled(self, this: _Pass, veiled: list[Batch], veil: Cast) -> None:
        """Draw the nearest see-through surfaces over what they hold."""
        GL.glDepthFunc(GL.GL_LESS)
        depth_prepass(self._programs, this.matrix, this.model, veil)
        GL.glEnable(GL.GL_BLEND)
        GL.glBlendColor(0.0, 0.0, 0.0, _GHOST_ALPHA)
        GL.glBlendFunc(GL.GL_CONSTANT_ALPHA, GL.GL_ONE_MINUS_CONSTANT_ALPHA)  # alpha too: colours are premultiplied
        self._draw(this, veiled, has_ground=False)
        GL.glDisable(GL.GL_BLEND)

    def _casters(self, hidden: frozenset[Group], ghost: frozenset[Group], effort: Effort) -> Casters:
        """Return what is in view as casters; what a closed box holds casts nothing out of it.

        What is seen through lets light in, and still stands on the ground with its whole shadow.
        """
        inside: frozenset[Group] = frozenset({"inside"})
        closed = hidden if (hidden | ghost) & {"box", "lid"} else hidden | inside
        shadow, ground = self._lit.light.cells_mm(effort)
        return Casters(
            whole=self._cast(hidden | ghost, 0.0),
            shadow=self._cast(closed | ghost, shadow),
            ground=self._cast(closed, ground),
        )

    def _cast(self, hidden: frozenset[Group], cell_mm: float) -> Cast:
        shown = [body for body in self._scene.bodies if body.group not in hidden and len(body.mesh.faces)]
        lifted = [body for body in shown if self._is_lifted(body)]
        fixed = self._store.cast([body.mesh for body in shown if body not in lifted], cell_mm)
        moving = self._store.cast([body.mesh for body in lifted], cell_mm) if lifted else None
        return tuple((solid, pose) for solid, pose in ((fixed, None), (moving, self._pose)) if solid is not None)

    def _is_lifted(self, body: Body) -> bool:
        return self._lifted is not None and body.part == self._lifted and body.group in ("hardware", "inside")

    def _lay(self) -> list[Batch]:
        """Bring the scene to the GPU; return what is drawn in one call each."""
        self._version += 1
        textures = [body.material.texture for body in self._scene.bodies]
        layers = [each.film for each in textures if each is not None and each.film is not None]
        films = {id(each): found for each in layers if (found := film_map(each)) is not None}
        art = [texture.pixels for texture in textures if texture is not None]
        pictures = self._store.show([*art, *(each.pixels for each in films.values())])
        centre = self._lit.light.extent.centre
        batches = [
            self._batch(bodies, way, pictures, films) for way, bodies in gathered(self._scene, centre, self._is_lifted)
        ]
        self._store.sweep()
        return batches

    def _batch(
        self, bodies: list[Body], way: Point3, pictures: dict[int, ImageTexture], films: dict[int, FilmMap]
    ) -> Batch:
        material = bodies[0].material
        meshes: list[Mesh] = [body.mesh for body in bodies]
        film = films.get(id(material.texture.film)) if material.texture is not None else None
        return Batch(
            group=bodies[0].group,
            material=material,
            solid=self._store.solid(meshes),
            picture=pictures[id(material.texture.pixels)] if material.texture is not None else None,
            film=(film, pictures[id(film.pixels)]) if film is not None else None,
            axis=way,
            centre=bodies[0].spindle[0] if bodies[0].spindle is not None else None,
            is_lifted=self._is_lifted(bodies[0]),
            bounds=np.array([mesh.bounds() for mesh in meshes]),
            sides=flake_sides(meshes, material),
            face=face_of(bodies[0]),
        )


@dataclass(frozen=True, kw_only=True, eq=False)
class _Pass:
    """One pass of a picture: where it is seen from, and its light, None in a proof."""

    shot: Shot
    matrix: Floats
    model: Floats
    effort: Effort
    lit: tuple[FrameLight, LightPass] | None


_GROUPS: frozenset[Group] = frozenset({"box", "lid", "hardware", "inside"})


def _picture(shot: Shot, screen: Screen) -> Picture:
    make_current()
    return Picture(pixels=screen.bytes(), facts=_facts(shot))


def _facts(shot: Shot) -> dict[str, str]:
    drawn_by = GL.glGetString(GL.GL_RENDERER).decode("ascii", "replace")
    return {"engine": "raster", "look": shot.look, "passes": str(effort_of(shot.quality).passes), "gl": drawn_by}


def _begin() -> None:
    """Set the GL state that drawing starts from, whatever was drawn before."""
    GL.glEnable(GL.GL_DEPTH_TEST)
    GL.glDisable(GL.GL_CULL_FACE)
    GL.glDisable(GL.GL_BLEND)
    GL.glDisable(GL.GL_SCISSOR_TEST)
