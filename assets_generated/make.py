"""Render the pictures that README and DEVELOPERS.md show, from the examples; write a manifest of hashes beside them.

``python assets_generated/make.py`` makes all of them, ``python assets_generated/make.py engines gallery`` some.
Those of the window need a virtual screen, and say so where there is none.
"""

from __future__ import annotations

import hashlib
import io
import json
import sys
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import numpy as np
import window
from PIL import Image

import mockup
from mockup.encode.png import png

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "examples"
VIEWS = ("three-quarter", "above")
SIZE = (1200, 900)
COMPARED_SIZE = (640, 600)  # of each picture on the sheet of a comparison
GALLERY = (4, 3)  # pedals across and down on one sheet
GALLERY_SIZE = (440, 330)  # of each
ENGINES_WIDTH = 360  # px, of each picture on the sheet of both engines
PAINTS = """name,colour,sheen
Old ivory,#eadfc0,satin
Butter,#f4e08a,gloss
Sea foam,#bfe0d0,gloss
Powder blue,#b9c4d8,matte
Salmon,#f0a58f,gloss
Mustard,#cda434,satin
Sage,#8fa37a,satin
Rust,#a4502c,hammered
Copper,#b87333,flake
Teal,#2a6f6b,gloss
Midnight,#26324a,satin
Silver,#c0c0c0,gloss
"""


def marked_up() -> bytes:
    """Return the findings on an example with two planted faults, pointed at on the pedal, as a PNG file."""
    folder = EXAMPLES / "lantern_moth"
    text = (folder / "layout.toml").read_text()
    for sound, faulty in (
        ("bottom = 12.5", "bottom = 18"),
        ("diameter = 15, pointer = 0.35", "diameter = 24, pointer = 0.35"),
    ):
        if sound not in text:
            raise ValueError(sound)
        text = text.replace(sound, faulty)
    design = mockup.loads(text, {"art.png": (folder / "art.png").read_bytes()})
    return encode(mockup.marked(design, [each for each in mockup.check(design) if each.severity != "note"]))


def main(wanted: list[str]) -> None:
    """Make every picture again, or the named ones: a file's name without its ending, or an example's."""
    unknown = set(wanted) - set(MADE) - {path.parent.name for path in EXAMPLES.glob("*/layout.toml")}
    if unknown:
        sys.exit(f"no such picture: {', '.join(sorted(unknown))}")
    found = HERE / "manifest.json"
    manifest = json.loads(found.read_text()) if wanted else {}
    for name, data in _pictures(wanted):
        (HERE / name).write_bytes(data)
        manifest[name] = hashlib.sha256(data).hexdigest()
        sys.stdout.write(f"{name}\n")
        sys.stdout.flush()
    found.write_text(json.dumps(manifest, indent=2) + "\n")


def _pictures(wanted: list[str]) -> Iterator[tuple[str, bytes]]:
    """Give the files asked for, all by default: name and content."""
    for layout in sorted(EXAMPLES.glob("*/layout.toml")):
        if not wanted or layout.parent.name in wanted:
            design = mockup.load(layout)
            for view in VIEWS:
                picture = mockup.still(design, view=view, size=SIZE, quality="final").picture
                yield f"{layout.parent.name}-{view}.png", encode(picture)
    for name, make in MADE.items():
        if not wanted or name in wanted:
            yield f"{name}.png", make()


def encode(picture: mockup.Picture) -> bytes:
    """Return a picture as a PNG file."""
    return png(picture.pixels, dpi=picture.dpi, text=picture.facts)


def hero() -> bytes:
    """Return an example as a photograph from low down, on dark ground, as a PNG file."""
    design = mockup.load(EXAMPLES / "night_ferry" / "layout.toml")
    return encode(mockup.still(design, view="hero", light="stage", size=SIZE, quality="final").picture)


def compared() -> bytes:
    """Return an example beside its variants, with what differs and all figures, as a PNG file."""
    path = EXAMPLES / "lantern_moth" / "layout.toml"
    designs = [mockup.load(path, variant) for variant in (None, *mockup.variants(path))]
    return mockup.compare(designs, view=["three-quarter"], size=COMPARED_SIZE).file("compare.png")


def sweep() -> bytes:
    """Return the contact sheet of twelve paints on an example, as a PNG file."""
    with tempfile.TemporaryDirectory() as folder:
        paints = Path(folder) / "paints.csv"
        paints.write_text(PAINTS, "utf-8")
        layout = EXAMPLES / "lantern_moth" / "layout.toml"
        made = mockup.sweep(layout, paint=str(paints), size=(285, 300), sort="contrast", output=["sweep.png"])
    return made.files["sweep.png"]


def gallery() -> bytes:
    """Return the gallery's pedals on one sheet, each at twice its size and reduced, as a PNG file."""
    layouts = sorted((EXAMPLES / "gallery").glob("*/layout.toml"))
    size = (2 * GALLERY_SIZE[0], 2 * GALLERY_SIZE[1])
    tiles = []
    for layout in layouts:
        pixels = mockup.still(mockup.load(layout), view="three-quarter", size=size, quality="normal").picture.pixels
        tiles.append(np.asarray(Image.fromarray(pixels).resize(GALLERY_SIZE, Image.Resampling.LANCZOS)))
    across, down = GALLERY
    rows = [np.concatenate(tiles[row * across : (row + 1) * across], axis=1) for row in range(down)]
    out = io.BytesIO()
    Image.fromarray(np.concatenate(rows)).save(out, "PNG", optimize=True)
    return out.getvalue()


def engines() -> bytes:
    """Return both engines' pictures of four pedals and how far apart they are, as a PNG file; takes minutes."""
    sys.path.insert(0, str(HERE.parent / "tests" / "bench"))  # the bench measures the same pairs
    from engine_pairs import UNTUNED, pair, sheet

    out = io.BytesIO()
    sheet([pair(name) for name in UNTUNED], ENGINES_WIDTH).save(out, "PNG", optimize=True)
    return out.getvalue()


MADE: dict[str, Callable[[], bytes]] = {
    "hero": hero,
    "check-marked": marked_up,
    "compare": compared,
    "sweep": sweep,
    "gallery": gallery,
    "engines": engines,
    **{Path(each.name).stem: partial(window.taken, each) for each in window.PICTURES},
}

if __name__ == "__main__":
    main(sys.argv[1:])
