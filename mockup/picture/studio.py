"""A design set up in front of a camera: one scene, one engine, as many pictures as wanted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import tee

import numpy as np

from mockup import __version__, engines
from mockup.clearance.plugs import with_plugs
from mockup.decal import ink_over_paint
from mockup.decal.painting import paint_words
from mockup.engines import Session
from mockup.fingerprint import fingerprint
from mockup.lights import suited, told, with_dark_card
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.errors import EngineError
from mockup.model.finish import LACQUER_INDEX
from mockup.model.mesh import Floats
from mockup.model.picture import Picture
from mockup.model.scene import DAYLIGHT, LEFT_OUT, Camera, Group, Quality, Scene, Shot, Surface
from mockup.model.units import MM_PER_INCH
from mockup.options import Progress, silent
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.views import View

_LEVEL_MM = 1e-3  # that a level camera's eye may lie over its target: rounding


@dataclass(frozen=True, kw_only=True, eq=False)
class Studio:
    """An open engine session on one design. `notes` are lines a user should read once."""

    design: Design
    session: Session
    scene: Scene
    engine: str
    notes: tuple[str, ...]

    def points(self, hidden: frozenset[Group]) -> Floats:
        """Return the vertices (n, 3) of everything that is not hidden."""
        return np.concatenate([body.mesh.vertices for body in self.scene.bodies if body.group not in hidden])

    def camera(self, at: View, size: tuple[int, int], turns_deg: Sequence[float] = (0.0,)) -> Camera:
        """Return the camera of a view that holds the whole pedal at every angle of `turns_deg`."""
        return frame(at, self.points(at.hidden), size[0] / size[1], turns_deg=turns_deg, focus=sharp_at(self.design))

    def shoot(
        self,
        at: View,
        camera: Camera,
        size: tuple[int, int],
        request: PictureRequest,
        *,
        turn_deg: float = 0.0,
    ) -> Picture:
        """Return one picture of a view and size, encoded, with the facts of how it was made."""
        return self.take(shot(at, camera, size, request, turn_deg=turn_deg), at.name)

    def take(self, shot: Shot, view: str) -> Picture:
        """Return the picture of a shot, encoded, with the facts of how it was made; `view` is what it is called."""
        [picture] = self.series([shot], view)
        return picture

    def series(self, shots: Iterable[Shot], view: str) -> Iterator[Picture]:
        """Yield the picture of each shot, as `take` does; the engine may be at the next one already."""
        asked, drawn = tee(shots)
        for shot, picture in zip(asked, self.session.pictures(map(self._lit, drawn)), strict=True):
            yield self._told(shot, picture, view)

    def turn(self, shot: Shot, view: str, frames: int, progress: Progress = silent) -> Iterator[Picture]:
        """Yield a shot's pictures in so many equal steps of one anticlockwise turn; `view` is what they are called."""
        turns = (replace(shot, turn_deg=360.0 * index / frames) for index in range(frames))
        for done, picture in enumerate(self.series(turns, view)):
            progress(done, frames, "frame")
            yield picture
        progress(frames, frames, "frame")

    def _lit(self, shot: Shot) -> Shot:
        return lit(shot, self.design.finish.surface)

    def _told(self, shot: Shot, picture: Picture, view: str) -> Picture:
        camera, look = shot.camera, shot.look
        dpi = shot.height_px * MM_PER_INCH / camera.ortho_mm if camera.ortho_mm else None
        facts = caption(self.design) | {"View": view, "Look": look, "Engine": self.engine, **picture.facts}
        if dpi:
            facts["Scale"] = f"true to size at {dpi:.2f} dpi"
        if look == "photo":
            facts["Light"] = told(self._lit(shot).lighting or self.scene.lighting)
        if look == "proof":
            facts["Ink"] = ink_figures(self.design)
            facts["Limits"] = " ".join(
                ink_over_paint.limits(self.design.finish, (decal.ink_film for decal in self.design.decals))
            )
        pixels = picture.pixels
        is_opaque = bool((pixels[..., 3] == 255).all())
        shown = np.ascontiguousarray(pixels[..., :3] if is_opaque else pixels)
        return Picture(pixels=shown, dpi=dpi, facts=facts)


def sharp_at(design: Design) -> Floats | None:
    """Return the place (3,) that a lens is set to: the pedal's own name on its top, None where it is not known."""
    top = faces(design.enclosure)["top"]
    for label in design.labels:
        if label.face == "top" and label.text.casefold() == design.name.casefold():
            return top.to_world(np.array([label.u_mm, label.v_mm]))
    return None


def shot(at: View, camera: Camera, size: tuple[int, int], request: PictureRequest, *, turn_deg: float = 0.0) -> Shot:
    """Return the shot of a view, size and request."""
    return Shot(
        camera=camera,
        width_px=size[0],
        height_px=size[1],
        look=request.look,
        quality=request.quality,
        turn_deg=turn_deg,
        hidden=at.hidden | LEFT_OUT[request.stage],
        seconds=request.seconds,
        lighting=request.lit(at.rig),
    )


def lit(shot: Shot, surface: Surface) -> Shot:
    """Return a shot with the light of its view as a surface wants it, the scene's own left alone.

    A box without its lid is seen from within, where it is bare metal under any paint.
    """
    if shot.lighting is None:
        return shot
    surface = "metal" if "lid" in shot.hidden else surface
    lighting = suited(shot.lighting, surface)
    is_level = shot.camera.ortho_mm is not None and abs(shot.camera.eye[2] - shot.camera.target[2]) < _LEVEL_MM
    return replace(shot, lighting=with_dark_card(lighting, surface) if is_level else lighting)


def caption(design: Design) -> dict[str, str]:
    """Return the facts of a design that belong to every picture of it."""
    box = design.enclosure
    facts = {
        "Software": f"mockup {__version__}",
        "Title": design.name,
        "Source": design.source,
        "Design": fingerprint(design),
        "Box": f"{box.width_mm:g} x {box.length_mm:g} x {box.height_mm:g} mm (width x length x height)",
        "Paint": f"{paint_words(design.finish)} {design.finish.sheen.name}",
    }
    if design.variant:
        facts["Variant"] = design.variant
    if design.finish.printer:
        facts["Printer"] = design.finish.printer
    return facts


def ink_figures(design: Design) -> str:
    """Return the figures that the ink was predicted with, in words."""
    finish = design.finish
    words = f"strength {finish.ink_strength:.3g}, lacquer of index {LACQUER_INDEX:g}"
    if finish.room != DAYLIGHT:
        words += f", seen in {finish.room} light"
    for white in dict.fromkeys(decal.process.white for decal in design.decals if decal.process.white is not None):
        words += f", {white.about} reflects {white.reflectance:.3g} and lets through {white.transmittance:.3g}"
    for film in dict.fromkeys(decal.film for decal in design.decals):
        if not film.is_clear:
            words += f", {film.name} film reflects {film.reflectance:.3g} and lets through {film.transmittance:.3g}"
        if film.haze:
            words += f", {film.name} film scatters {film.haze:.3g}"
    return words


@contextmanager
def studio(
    design: Design, request: PictureRequest, *, is_flipped: bool = False, is_still: bool = True
) -> Iterator[Studio]:
    """Open an engine on a design's scene, dressed and lit as asked for; it closes with the block.

    Without an engine named, a still that is no draft is made by the one whose picture is better for its time.
    """
    design = request.finished(design)
    shown = with_plugs(design) if request.stage == "plugged" else design
    scene = assemble(shown, request.lighting, look=request.look, is_flipped=is_flipped)
    still = request.quality if is_still and request.look == "photo" and request.quality != "draft" else None
    name, opened, note = opened_on(request.engine, scene, still=still)
    notes = (*scene.notes, *((note,) if note else ()))
    with opened as session:
        yield Studio(design=design, session=session, scene=scene, engine=name, notes=notes)


def opened_on(engine: str | None, scene: Scene, *, still: Quality | None = None) -> tuple[str, Session, str]:
    """Return an engine's name, its session and one line why another was not taken (or "").

    An engine that seemed able to run and then cannot gives way to the next, unless it was asked for.
    """
    refused: dict[str, str] = {}
    while True:
        name, module, note = engines.choose(engine, refused, still=still)
        try:
            return name, module.open(scene), note
        except EngineError as error:
            if engine is not None:
                raise
            refused[name] = str(error)
