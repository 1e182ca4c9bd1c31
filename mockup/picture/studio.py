"""A design set up in front of a camera: one scene, one engine, as many pictures as wanted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace

import numpy as np

from mockup import __version__, engines
from mockup.colour import rgb
from mockup.colour.view import view as encoded
from mockup.decal import ink
from mockup.engines import Session
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.errors import EngineError, nearest
from mockup.model.mesh import Floats
from mockup.model.picture import Picture
from mockup.model.scene import Camera, Group, Lighting, Look, Quality, Scene, Shot
from mockup.model.units import MM_PER_INCH
from mockup.options import bad_option, option
from mockup.scene.assemble import assemble
from mockup.scene.cameras import VIEWS, View, frame

OWN_BACKGROUND = "own"
NO_BACKGROUND = "none"


@dataclass(frozen=True, kw_only=True)
class StudioOptions:
    """The options that every rendered output shares."""

    def __post_init__(self) -> None:
        if self.seconds is not None and not 0.1 <= self.seconds <= 3600:  # an hour: nobody waits longer for a picture
            raise bad_option("seconds", f"{self.seconds:g} is out of range", "give 0.1 to 3600 seconds")

    seconds: float | None = option(None, "time budget for one picture, for an engine that can use one")
    engine: str | None = option(None, "render engine; the best one here by default", choices=engines.ENGINES.names)
    light: str = option("bench", "light and ground", choices=tuple(presets()))
    background: str = option(
        OWN_BACKGROUND,
        f'colour of the ground, "{NO_BACKGROUND}" for transparent, "{OWN_BACKGROUND}" for the light\'s own',
    )


def named_view(name: str) -> View:
    """Return a named view; `InputError` with the nearest name where there is none."""
    if name not in VIEWS:
        raise bad_option("view", f"there is no view {name!r}", nearest(name, VIEWS))
    return VIEWS[name]


def lit(light: str, background: str) -> Lighting:
    """Return a light preset with its ground replaced.

    `background` is "own" (the preset's ground), "none" (transparent) or a colour as text.
    """
    if light not in presets():
        raise bad_option("light", f"there is no light {light!r}", nearest(light, presets()))
    preset = presets()[light]
    if background == OWN_BACKGROUND:
        return preset
    if background == NO_BACKGROUND:
        return replace(preset, ground=None)
    try:
        red, green, blue = (float(value) for value in rgb.decode(np.array(rgb.parse(background))))
    except ValueError as error:
        raise bad_option("background", f'{error}, or "{NO_BACKGROUND}" for transparent') from None
    return replace(preset, ground=(red, green, blue), backdrop=(red, green, blue))


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
        return frame(at, self.points(at.hidden), size[0] / size[1], turns_deg=turns_deg)

    def shoot(
        self,
        at: View,
        camera: Camera,
        size: tuple[int, int],
        *,
        look: Look,
        quality: Quality,
        seconds: float | None = None,
        turn_deg: float = 0.0,
    ) -> Picture:
        """Return one picture, encoded, with the facts of how it was made."""
        shot = Shot(
            camera=camera,
            width_px=size[0],
            height_px=size[1],
            look=look,
            quality=quality,
            turn_deg=turn_deg,
            hidden=at.hidden,
            seconds=seconds,
        )
        return self.take(shot, at.name)

    def take(self, shot: Shot, view: str) -> Picture:
        """Return the picture of a shot, encoded, with the facts of how it was made; `view` is what it is called."""
        taken = self.session.render(shot)
        camera, look = shot.camera, shot.look
        dpi = shot.height_px * MM_PER_INCH / camera.ortho_mm if camera.ortho_mm else None
        facts = caption(self.design) | {"View": view, "Look": look, "Engine": self.engine, **taken.facts}
        if dpi:
            facts["Scale"] = f"true to size at {dpi:.2f} dpi"
        if look == "proof":
            facts["Ink"] = ink_figures(self.design)
            facts["Limits"] = " ".join(ink.limits(self.design.finish, (decal.film for decal in self.design.decals)))
        pixels = encoded(taken.pixels, look)
        is_opaque = bool((pixels[..., 3] == 255).all())
        return Picture(pixels=pixels[..., :3] if is_opaque else pixels, dpi=dpi, facts=facts)


def caption(design: Design) -> dict[str, str]:
    """Return the facts of a design that belong to every picture of it."""
    box = design.enclosure
    facts = {
        "Software": f"mockup {__version__}",
        "Title": design.name,
        "Source": design.source,
        "Box": f"{box.width_mm:g} x {box.length_mm:g} x {box.height_mm:g} mm (width x length x height)",
        "Paint": f"{rgb.to_hex(design.finish.paint)} {design.finish.sheen.name}",
    }
    if design.variant:
        facts["Variant"] = design.variant
    if design.finish.printer:
        facts["Printer"] = design.finish.printer
    return facts


def ink_figures(design: Design) -> str:
    """Return the figures that the ink was predicted with, in words."""
    finish = design.finish
    words = f"strength {finish.ink_strength:.3g}, internal reflection k {finish.internal_reflection:.3g}"
    for film in dict.fromkeys(decal.film for decal in design.decals if not decal.film.is_clear):
        words += f", {film.name} film reflects {film.reflectance:.3g} and lets through {film.transmittance:.3g}"
    return words


@contextmanager
def studio(
    design: Design, *, engine: str | None, lighting: Lighting, look: Look, is_flipped: bool = False
) -> Iterator[Studio]:
    """Open an engine (None: the best one here) on a design's scene; it closes with the block."""
    scene = assemble(design, lighting, look=look, is_flipped=is_flipped)
    name, opened, note = opened_on(engine, scene)
    notes = (*scene.notes, *((note,) if note else ()))
    with opened as session:
        yield Studio(design=design, session=session, scene=scene, engine=name, notes=notes)


def opened_on(engine: str | None, scene: Scene) -> tuple[str, Session, str]:
    """Return an engine's name, its session and one line why another was not taken (or "").

    An engine that seemed able to run and then cannot gives way to the next, unless it was asked for.
    """
    refused: dict[str, str] = {}
    while True:
        name, module, note = engines.choose(engine, refused)
        try:
            return name, module.open(scene), note
        except EngineError as error:
            if engine is not None:
                raise
            refused[name] = str(error)
