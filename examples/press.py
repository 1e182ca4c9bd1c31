"""What the three art scripts share: lettering as outlines, and a sheet in millimetres.

Run ``python examples/press.py`` to draw all art again; the pictures are committed, so that looking
at an example needs no fonts.
"""

from __future__ import annotations

import importlib.util
import io
import math
import sys
from importlib import resources
from pathlib import Path

import resvg_py
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont
from PIL import Image

HERE = Path(__file__).parent
FACES = {
    "bold": ("font_manrope.files", "Manrope-ExtraBold.ttf"),
    "medium": ("font_manrope.files", "Manrope-SemiBold.ttf"),
    "hand": ("font_amatic_sc.files", "AmaticSC-Bold.ttf"),
}


def lettering(
    text: str, x: float, y: float, size_mm: float, *, face: str = "bold", fill: str = "#000", spacing: float = 0.0
) -> str:
    """Return SVG outlines of one line of text, centred on x, standing on the baseline y.

    `size_mm` is the height of a capital letter; `spacing` is extra room between letters, in mm.
    """
    package, file = FACES[face]
    font = TTFont(io.BytesIO(resources.files(package).joinpath(file).read_bytes()))
    glyphs, names, advance = font.getGlyphSet(), font.getBestCmap(), font["hmtx"]
    scale = size_mm / font["OS/2"].sCapHeight
    widths = [advance[names[ord(letter)]][0] * scale + spacing for letter in text]
    pen = SVGPathPen(glyphs, ntos=lambda value: f"{value:.4f}".rstrip("0").rstrip("."))
    at = x - (sum(widths) - spacing) / 2
    for letter, width in zip(text, widths, strict=True):
        glyphs[names[ord(letter)]].draw(TransformPen(pen, (scale, 0, 0, -scale, at, y)))
        at += width
    return f'<path d="{pen.getCommands()}" fill="{fill}"/>'


def sheet(width_mm: float, height_mm: float, marks: list[str], defs: str = "") -> str:
    """Return an SVG file whose user unit is one millimetre."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm}mm" height="{height_mm}mm" '
        f'viewBox="0 0 {width_mm} {height_mm}">\n<defs>{defs}</defs>\n' + "\n".join(marks) + "\n</svg>\n"
    )


def print_ready(svg: str, width_px: int, height_px: int, dpi: float) -> bytes:
    """Return a PNG of an SVG sheet at exact pixels, on transparent ground, resolution tagged."""
    drawn = resvg_py.svg_to_bytes(svg_string=svg, width=width_px, height=height_px, dpi=dpi, skip_system_fonts=True)
    out = io.BytesIO()
    with Image.open(io.BytesIO(bytes(drawn))) as image:
        image.save(out, "PNG", dpi=(dpi, dpi), optimize=True)
    return out.getvalue()


def scale_marks(
    x: float, y: float, radius: float, *, ticks: int = 11, length: float = 1.6, stroke: str = "#000"
) -> str:
    """Return tick marks round a knob, from 7 to 5 o'clock, the first and last a little longer."""
    marks = []
    for i in range(ticks):
        angle = math.radians(-150 + 300 * i / (ticks - 1))
        reach = length * (1.5 if i in (0, ticks - 1) else 1.0)
        (x1, y1), (x2, y2) = ((x + r * math.sin(angle), y - r * math.cos(angle)) for r in (radius, radius + reach))
        marks.append(f"M{x1:.3f} {y1:.3f}L{x2:.3f} {y2:.3f}")
    return f'<path d="{"".join(marks)}" stroke="{stroke}" stroke-width="0.4" stroke-linecap="round" fill="none"/>'


def main() -> None:
    """Draw the art of every example again."""
    for script in sorted(HERE.glob("*/draw.py")):
        spec = importlib.util.spec_from_file_location(f"draw_{script.parent.name}", script)
        if spec is None or spec.loader is None:
            raise ImportError(str(script))
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        for name, data in module.draw().items():
            (script.parent / name).write_bytes(data)
            sys.stdout.write(f"{script.parent.name}/{name}\n")


if __name__ == "__main__":
    sys.path.insert(0, str(HERE))
    main()
