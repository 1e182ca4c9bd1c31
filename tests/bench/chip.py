"""How near a paint in a picture comes to its own chip: blank boxes, every sheen, three views, every light.

    python tests/bench/chip.py [--engine traced] [--lights bench stage] [--sheens gloss matte] [--paints 12]

The patch is the middle of the face that is seen, its mean in linear light after the view transform; the paint's own
colour is what it is given by. Printed: mean and largest CIEDE2000 over the paints, for each view, light and sheen.
"""

from __future__ import annotations

import argparse
import sys

import numpy as np

from mockup.colour import rgb
from mockup.colour.difference import difference
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.enclosure import Enclosure, faces
from mockup.model.finish import Finish
from mockup.model.scene import QUALITIES
from mockup.picture.options import PictureRequest
from mockup.picture.studio import shot, studio
from mockup.scene.projection import projected
from mockup.scene.views import VIEWS

# twelve paints of our own choosing: black, white and greys, and round the circle pale, middling and deep
PAINTS = ("#101012", "#f1efe8", "#808284", "#c23a28", "#e0782c", "#e9c63c", "#5d8f3a", "#1f6f68", "#2c4f9a", "#5a3b86",
          "#d9a3b0", "#eadfc0")  # fmt: skip
FACES = {"above": "top", "three-quarter": "top", "near": "near"}
SIZE = (160, 120)
BOX = Enclosure(width_mm=66.0, length_mm=121.0, height_mm=39.5)


def patch(design: Design, view: str, request: PictureRequest) -> np.ndarray:
    """Return the mean encoded colour (3,) of the middle of the face that a view looks at."""
    face = faces(design.enclosure)[FACES[view]]
    with studio(design, request) as room:
        camera = room.camera(VIEWS[view], SIZE)
        pixels = room.take(shot(VIEWS[view], camera, SIZE, request), view).pixels
    u, v = (np.linspace(-0.25, 0.25, 9) * size for size in (face.width_mm, face.height_mm))
    middle = np.array([face.width_mm, face.height_mm]) / 2
    grid = np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2) + middle
    at = projected(camera, SIZE, face.to_world(grid)).astype(int)
    seen = rgb.decode_8bit(pixels[at[:, 1], at[:, 0], :3]).mean(axis=0)
    return np.asarray(rgb.encode(seen))


def gaps(sheen: str, view: str, light: str, paints: list[str], engine: str, quality: str) -> np.ndarray:
    """Return the CIEDE2000 of each paint's patch from its chip."""
    out = []
    for paint in paints:
        own = rgb.parse(paint)
        design = Design(name="chip", source="", enclosure=BOX, finish=Finish(paint=own, sheen=sheens()[sheen]))
        request = PictureRequest(view=(view,), light=light, engine=engine, quality=quality)
        out.append(float(difference(patch(design, view, request), np.array(own))))
    return np.array(out)


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
                every.append(found)
                worst = told.paints[int(found.argmax())]
                figures = f"mean {found.mean():5.2f}  max {found.max():5.2f}"
                sys.stdout.write(f"{light:8} {view:14} {sheen:9} {figures}  {worst}\n")
                sys.stdout.flush()
    sys.stdout.write(f"all      mean {np.mean(every):.2f}  max {np.max(every):.2f}\n")


if __name__ == "__main__":
    main()
