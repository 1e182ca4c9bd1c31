"""Render the pictures that README shows, from the examples; write a manifest of hashes beside them."""

from __future__ import annotations

import hashlib
import io
import json
import sys
from pathlib import Path

import numpy as np
import window
from PIL import Image

import mockup

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "examples"
VIEWS = ("three-quarter", "above")
SIZE = (1200, 900)
COMPARED_SIZE = (640, 600)  # of each picture on the sheet of a comparison
GALLERY = (4, 3)  # pedals across and down on one sheet
GALLERY_SIZE = (440, 330)  # of each
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


def marked_up() -> mockup.Picture:
    """Return the findings on an example with two planted faults, pointed at on the pedal."""
    folder = EXAMPLES / "lantern_moth"
    text = (folder / "layout.toml").read_text()
    for sound, faulty in (
        ("bottom = 13", "bottom = 18"),
        ("diameter = 15, pointer = 0.35", "diameter = 24, pointer = 0.35"),
    ):
        if sound not in text:
            raise ValueError(sound)
        text = text.replace(sound, faulty)
    design = mockup.loads(text, {"art.png": (folder / "art.png").read_bytes()})
    return mockup.marked(design, [each for each in mockup.check(design) if each.severity != "note"])


def main() -> None:
    """Make every picture again."""
    manifest = {}
    for layout in sorted(EXAMPLES.glob("*/layout.toml")):
        design = mockup.load(layout)
        for view in VIEWS:
            path = HERE / f"{layout.parent.name}-{view}.png"
            mockup.save(mockup.still(design, view, size=SIZE, quality="final"), path)
            manifest[path.name] = hashlib.sha256(path.read_bytes()).hexdigest()
            sys.stdout.write(f"{path.name}\n")
    path = HERE / "check-marked.png"
    mockup.save(marked_up(), path)
    manifest[path.name] = hashlib.sha256(path.read_bytes()).hexdigest()
    sys.stdout.write(f"{path.name}\n")
    (HERE / "compare.png").write_bytes(compared())
    manifest["compare.png"] = hashlib.sha256((HERE / "compare.png").read_bytes()).hexdigest()
    (HERE / "sweep.png").write_bytes(sweep())
    manifest["sweep.png"] = hashlib.sha256((HERE / "sweep.png").read_bytes()).hexdigest()
    sheet = gallery()
    (HERE / "gallery.png").write_bytes(sheet)
    manifest["gallery.png"] = hashlib.sha256(sheet).hexdigest()
    before = json.loads(window.MANIFEST.read_text())
    kept = {each.name: before[each.name] for each in window.PICTURES if each.name in before}
    window.MANIFEST.write_text(json.dumps(manifest | kept, indent=2) + "\n")
    window.main()  # last: it needs a virtual screen, and says so where there is none


def compared() -> bytes:
    """Return an example beside its variants, with what differs and all figures, as a PNG file."""
    path = EXAMPLES / "lantern_moth" / "layout.toml"
    designs = [mockup.load(path, variant) for variant in (None, *mockup.variants(path))]
    return mockup.compare(designs, "three-quarter", size=COMPARED_SIZE).file("compare.png")


def sweep() -> bytes:
    """Return the contact sheet of twelve paints on an example, as a PNG file."""
    from mockup.comparison import contact_files
    from mockup.comparison.base import base
    from mockup.comparison.sweep import Settings
    from mockup.comparison.sweep import sweep as swept
    from mockup.layout import axes

    layout = base(EXAMPLES / "lantern_moth" / "layout.toml")
    chosen = axes.combinations([axes.paints(PAINTS, "paints")])
    made = swept(layout, chosen, Settings(size=(285, 300), by="contrast"))
    return contact_files.made(made, layout.drawn.name, "paints", ["sweep.png"], (210.0, 297.0), None).files["sweep.png"]


def gallery() -> bytes:
    """Return the gallery's pedals on one sheet, each at twice its size and reduced, as a PNG file."""
    layouts = sorted((EXAMPLES / "gallery").glob("*/layout.toml"))
    size = (2 * GALLERY_SIZE[0], 2 * GALLERY_SIZE[1])
    tiles = []
    for layout in layouts:
        pixels = mockup.still(mockup.load(layout), "three-quarter", size=size, quality="normal").pixels
        tiles.append(np.asarray(Image.fromarray(pixels).resize(GALLERY_SIZE, Image.Resampling.LANCZOS)))
    across, down = GALLERY
    rows = [np.concatenate(tiles[row * across : (row + 1) * across], axis=1) for row in range(down)]
    out = io.BytesIO()
    Image.fromarray(np.concatenate(rows)).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    main()
