"""A thumbnail drawn: its subject as a scene, in front of a camera. Runs beside the window, in a process of its own."""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup import files, reader
from mockup.encode.png import png
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import Enclosure
from mockup.model.finish import Finish
from mockup.model.mesh import Floats
from mockup.model.part import Kind
from mockup.model.scene import Camera, Lighting, Scene, Shot
from mockup.picture.open_engine import open_engine
from mockup.scene.assemble import alone, assemble
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS, View
from mockup.window.shelf.subjects import (
    ArtSubject,
    BoxSubject,
    KnobSubject,
    PartSubject,
    PedalSubject,
    SheenSubject,
    Subject,
    Thumbnail,
)
from mockup.window.work.assets import Assets

_GROUND = (0.16, 0.16, 0.16)  # linear; a neutral grey, so that a small picture tints nothing: by eye
_HAND = View(name="", about="", direction=(-0.42, -0.92, 0.62), margin=0.02)  # a part held up before the eye: by eye
_CHIP = View(name="", about="", direction=(-0.5, -0.9, 0.64), margin=0.0)  # the panel's edge lies in it
_CHIP_BOX = Enclosure(length_mm=90, width_mm=90, height_mm=40, corner_mm=6.0, edge_mm=2.5)
_CHIP_MM = 46.0  # how much of its corner is seen: wide enough for several dents of a hammered paint; by eye
_SHEET, _SHEET_DPI = "#e8e8e8", 150.0  # by eye; enough for a thumbnail of a pedal's face
_FINER = 2  # a draft so many times larger, brought down, looks like a normal picture in an eighth of its time: measured
_GL_THREADS = "LP_NUM_THREADS"  # of Mesa's software renderer, which else takes every core from the window


def drawn(wanted: Thumbnail) -> bytes:
    """Return a thumbnail as PNG, without transparency; raises `MockupError` where its subject cannot be read."""
    if isinstance(wanted.subject, ArtSubject):
        return png(_on_a_sheet(wanted.subject, wanted.size))
    os.environ.setdefault(_GL_THREADS, "1")
    scene, camera = _staged(wanted.subject, wanted.size[0] / wanted.size[1])
    width, height = wanted.size
    shot = Shot(camera=camera, width_px=_FINER * width, height_px=_FINER * height, quality="draft")
    picture = Image.fromarray(open_engine().pixels(scene, shot)[..., :3])
    return png(np.asarray(picture.resize(wanted.size, Image.Resampling.BOX)))


def _on_a_sheet(subject: ArtSubject, size: tuple[int, int]) -> NDArray[np.uint8]:
    """Return a picture file (h, w, 3), whole, in the middle of a pale grey sheet."""
    art = reader.picture(files.read_bytes(subject.project.folder / subject.name), subject.name, _SHEET_DPI)
    picture = Image.fromarray(art.pixels)
    picture.thumbnail((round(0.88 * size[0]), round(0.88 * size[1])))
    sheet = Image.new("RGB", size, _SHEET)
    sheet.paste(picture, ((size[0] - picture.width) // 2, (size[1] - picture.height) // 2), picture)
    return np.asarray(sheet)


def _staged(subject: Subject, aspect: float) -> tuple[Scene, Camera]:
    match subject:
        case PartSubject():
            scene = alone(subject.kind, _neutral(), knob=subject.knob, lamp=subject.lamp)
            others = [_points(alone(kind, _neutral(), lamp=subject.lamp)) for kind in subject.beside]
            return scene, _at_scale(_points(scene), max(map(_span, (_points(scene), *others))), aspect)
        case KnobSubject():
            kind = Kind(name="knob", family="", about="", shaft=subject.shaft)
            scene = alone(kind, _neutral(), knob=subject.knob)
            points = _points(scene)
            return scene, _at_scale(points, _span(points), aspect)
        case SheenSubject():
            scene = assemble(_bare(_CHIP_BOX, subject.finish), _mirrored())
            return scene, frame(_CHIP, _ball(_chip_corner(), _CHIP_MM), aspect)
        case BoxSubject():
            scene = assemble(_bare(subject.box, subject.finish), _neutral())
            return scene, frame(VIEWS["three-quarter"], _points(scene), aspect)
        case ArtSubject():
            raise TypeError("a picture file is no scene")
        case PedalSubject():
            design = Assets().design(subject.text, subject.project, subject.variant, is_quick=True)
            scene = assemble(design, presets()["bench"])
            return scene, frame(VIEWS["three-quarter"], _points(scene), aspect)


def _neutral() -> Lighting:
    return replace(presets()["bench"], ground=_GROUND, backdrop=_GROUND)


def _mirrored() -> Lighting:
    """Return the bench's light with the panel that gloss mirrors lit for every paint: how it shows tells a sheen."""
    lighting = presets()["bench"]
    lit = (
        replace(box, surfaces=box.surfaces | {"dented", "dull"} if "mirror" in box.surfaces else box.surfaces)
        for box in lighting.boxes
    )
    return replace(lighting, boxes=tuple(lit))


def _bare(box: Enclosure, finish: Finish) -> Design:
    return Design(name="", source="", enclosure=box, finish=finish)


def _chip_corner() -> Floats:
    """Return the middle of what is seen of the chip: on the top face, towards its near left corner."""
    box = _CHIP_BOX
    inset = 0.36 * _CHIP_MM
    return np.array([-box.width_mm / 2 + inset, -box.length_mm / 2 + inset, box.height_mm])


def _points(scene: Scene) -> Floats:
    return np.concatenate([body.mesh.vertices for body in scene.bodies])


def _span(points: Floats) -> float:
    """Return how large a ball (mm) holds points (n, 3), about the middle of what they fill."""
    return 2.0 * float(np.linalg.norm(points - _middle(points), axis=1).max())


def _middle(points: Floats) -> Floats:
    return np.asarray((points.min(axis=0) + points.max(axis=0)) / 2)


def _at_scale(points: Floats, span_mm: float, aspect: float) -> Camera:
    return frame(_HAND, _ball(_middle(points), span_mm), aspect)


def _ball(middle: Floats, span_mm: float) -> Floats:
    """Return points (26, 3) on a ball: near enough all that a camera needs to hold it."""
    ways = np.array([way for way in np.ndindex(3, 3, 3) if way != (1, 1, 1)], dtype=float) - 1.0
    return np.asarray(middle + span_mm / 2 * ways / np.linalg.norm(ways, axis=1, keepdims=True))
