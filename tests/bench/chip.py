"""How near a paint in a picture comes to its own chip: a blank box, every sheen, three views, every light.

    python tests/bench/chip.py [--engine traced] [--lights bench stage] [--sheens gloss matte] [--paints "#101012" ...]

The paints lie side by side on the face that is seen, as squares of one picture: their mean in linear light after the
view transform; the paint's own colour is what it is given by. Printed: mean and largest CIEDE2000 over the paints, for
each view, light and sheen, and which paint is the worst. Paint by paint on boxes of their own, they came within
0.3 of this where both were measured (three rows).
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace

import numpy as np

from mockup import engines
from mockup.colour import rgb
from mockup.colour.difference import difference
from mockup.colour.view import view as encoded
from mockup.decal.paint import paint_material
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.finish import Finish
from mockup.model.material import Material, Texture
from mockup.model.scene import QUALITIES, Scene
from mockup.picture.options import PictureRequest
from mockup.picture.studio import lit, shot
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.projection import projected
from mockup.scene.views import VIEWS

# twelve paints of our own choosing: black, white and greys, and round the circle pale, middling and deep
PAINTS = ("#101012", "#f1efe8", "#808284", "#c23a28", "#e0782c", "#e9c63c", "#5d8f3a", "#1f6f68", "#2c4f9a", "#5a3b86",
          "#d9a3b0", "#eadfc0")  # fmt: skip
FACES: dict[str, FaceName] = {"above": "top", "three-quarter": "top", "near": "near"}
SIZE = (320, 240)
BOX = Enclosure(width_mm=66.0, length_mm=121.0, height_mm=39.5)
ACROSS = 3  # squares in a row
SHARE = 0.6  # of the face that the squares cover, each way
FROM = {
    "three-quarter": 0.36
}  # of the face, down to the squares; the rest of the top mirrors a panel in gloss, as meant
INSIDE = 0.15  # of a square, from its edge to the first place that is read
PLACES = 40  # that are read, each way: every pixel of the largest square
CELL_PX = 8  # of a square, in the picture that is laid on the face


def finish(paint: str, sheen: str) -> Finish:
    """Return a box's finish of a paint."""
    return Finish(paint=rgb.parse(paint), sheen=sheens()[sheen])


def material(paint: str, sheen: str) -> Material:
    """Return a paint as the engines see it."""
    return paint_material(finish(paint, sheen))


def alike(paints: list[str], sheen: str) -> list[list[str]]:
    """Return the paints that differ in their colour alone, group by group: one row of squares where flakes glitter,
    since a square of few hundred flakes is as bright as those happen to be."""
    found: dict[str, list[str]] = {}
    for paint in paints:
        found.setdefault(digest(replace(material(paint, sheen), base_color=(0.0, 0.0, 0.0))), []).append(paint)
    most = ACROSS if sheens()[sheen].flake > 0.0 else len(paints)
    return [group[first : first + most] for group in found.values() for first in range(0, len(group), most)]


def corner(view: str) -> np.ndarray:
    """Return where the squares of a view begin, as shares (2,) of its face across and down."""
    return np.array([(1.0 - SHARE) / 2.0, FROM.get(view, (1.0 - SHARE) / 2.0)])


def centres(count: int, view: str) -> np.ndarray:
    """Return the places (n, m, 2) within each square of a view's face that are read, in millimetres."""
    place = faces(BOX)[FACES[view]]
    whole = np.array([place.width_mm, place.height_mm])
    size = SHARE * whole / (ACROSS, -(-count // ACROSS))
    index = np.arange(count)
    grid = np.column_stack([index % ACROSS, index // ACROSS])[:, None] + np.stack(
        np.meshgrid(*2 * [np.linspace(INSIDE, 1.0 - INSIDE, PLACES)]), axis=-1
    ).reshape(1, -1, 2)
    return np.asarray(corner(view) * whole + grid * size)


def scene(paints: list[str], sheen: str, view: str, request: PictureRequest) -> Scene:
    """Return a blank grey box with squares of paint on the face that a view looks at."""
    face = FACES[view]
    design = Design(name="chip", source="", enclosure=BOX, finish=finish(paints[0], sheen))
    made = assemble(design, request.lit(VIEWS[view].rig))
    rows = -(-len(paints) // ACROSS)
    colours = np.zeros((rows * ACROSS, 3))
    for index in range(len(colours)):
        colours[index] = material(paints[min(index, len(paints) - 1)], sheen).base_color
    cells = np.round(255.0 * rgb.encode(colours)).astype(np.uint8).reshape(rows, ACROSS, 3)
    place = faces(BOX)[face]
    u, v = corner(view)
    squares = Texture(
        pixels=cells.repeat(CELL_PX, axis=0).repeat(CELL_PX, axis=1), u_mm=u * place.width_mm,
        v_mm=v * place.height_mm, width_mm=SHARE * place.width_mm, height_mm=SHARE * place.height_mm,
    )  # fmt: skip
    grey = replace(material(paints[0], sheen), base_color=tuple(rgb.linear_colour(rgb.parse("#808284"))))
    bodies = [
        replace(each, material=replace(grey, texture=squares if each.name == face else None))
        if each.material.name == grey.name
        else each
        for each in made.bodies
    ]
    return replace(made, bodies=tuple(bodies))


def gaps(sheen: str, view: str, light: str, paints: list[str], engine: str, quality: str) -> dict[str, float]:
    """Return the CIEDE2000 of each paint's square from its chip."""
    request = PictureRequest(view=(view,), light=light, engine=engine, quality=quality)
    face, module, out = FACES[view], engines.choose(engine)[1], {}
    for group in alike(paints, sheen):
        made = scene(group, sheen, view, request)
        points = np.concatenate([body.mesh.vertices for body in made.bodies])
        camera = frame(VIEWS[view], points, SIZE[0] / SIZE[1])
        with module.open(made) as session:
            asked = lit(shot(VIEWS[view], camera, SIZE, request), finish(group[0], sheen).surface)
            taken = session.render(asked)
        pixels = encoded(taken.pixels, "photo")
        for paint, within in zip(group, centres(len(group), view), strict=True):
            at = projected(camera, SIZE, faces(BOX)[face].to_world(within)).astype(int)
            seen = rgb.encode(rgb.decode_8bit(pixels[at[:, 1], at[:, 0], :3]).mean(axis=0))
            out[paint] = float(difference(np.asarray(seen), np.array(rgb.parse(paint))))
    return out


def main() -> None:
    """Measure, and print as it goes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--engine", default="traced")
    parser.add_argument("--quality", default="normal", choices=QUALITIES)
    parser.add_argument("--lights", nargs="*", default=list(presets()))
    parser.add_argument("--sheens", nargs="*", default=[name for name, each in sheens().items() if each.is_painted])
    parser.add_argument("--views", nargs="*", default=list(FACES))
    parser.add_argument("--paints", nargs="*", default=list(PAINTS))
    told = parser.parse_args()
    every = []
    for light in told.lights:
        for view in told.views:
            for sheen in told.sheens:
                found = gaps(sheen, view, light, told.paints, told.engine, told.quality)
                values = np.array(list(found.values()))
                every.append(values)
                worst = max(found, key=lambda paint: found[paint])
                figures = f"mean {values.mean():5.2f}  max {values.max():5.2f}"
                sys.stdout.write(f"{light:8} {view:14} {sheen:9} {figures}  {worst}\n")
                sys.stdout.flush()
    sys.stdout.write(f"all      mean {np.mean(every):.2f}  max {np.max(every):.2f}\n")


if __name__ == "__main__":
    main()
