"""A small project that sweeps quickly: one pot, two words in black on clear film; no test itself."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

LAYOUT = """
name = "Bench"
[box]
size = "112x60x31"
[finish]
paint = "#ffffff"
[[decal]]
art = "art.png"
dpi = 150
[[part]]
name = "TONE"
kind = "pot-16"
top = 30
[[label]]
part = "TONE"
side = "below"
gap = 3
height = 4
width = 16
[[label]]
text = "LOW"
height = 4
width = 12
bottom = 20
[variants.red]
finish = { paint = "#ff0000" }
"""


def project(folder: Path) -> Path:
    """Write the project and return its layout file; the words are bars, as wide and high as they are declared."""
    from mockup.api import loads
    from mockup.encode.png import png

    size = (round(40 / 25.4 * 150), round(90 / 25.4 * 150))
    art = Image.new("RGBA", size, (255, 255, 255, 0))
    (folder / "layout.toml").write_text(LAYOUT)
    import numpy as np

    drawn = loads(LAYOUT, {"art.png": png(np.asarray(art))})
    decal, pen = drawn.decals[0], ImageDraw.Draw(art)
    for label in drawn.labels:
        for stroke in range(5):
            left = label.u_mm - label.width_mm / 2 + label.width_mm * (stroke + 0.2) / 5
            corners = [
                (left, label.v_mm - label.height_mm / 2),
                (left + label.width_mm * 0.1, label.v_mm + label.height_mm / 2),
            ]
            corner = decal.u_mm - decal.width_mm / 2, decal.v_mm - decal.height_mm / 2
            pen.rectangle(
                [
                    tuple((each - from_) * 150 / 25.4 for each, from_ in zip(point, corner, strict=True))
                    for point in corners
                ],
                fill=(0, 0, 0, 255),
            )  # type: ignore[arg-type]
    art.save(folder / "art.png")
    return folder / "layout.toml"
