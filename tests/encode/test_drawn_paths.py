"""Paths, windows and cutter files, read back by other people's readers."""

from __future__ import annotations

import io
import math
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray

from mockup.encode.dxf import dxf
from mockup.encode.pdf import pdf
from mockup.encode.pixels import pixels
from mockup.encode.svg import svg
from mockup.model.sheet import Circle, Clip, Image, Layer, Line, Mark, Page, Path, Rectangle

BLACK = (0.0, 0.0, 0.0)
DPI = 254.0  # ten pixels a millimetre
WINDOW_MM = 0.101  # a reader may open a window up to whole pixels, a tenth of a millimetre
# A slot 20 long and 10 wide about (25, 25): two straight sides, two half circles; area 10 * 10 + 25 pi.
SLOT = Path(points=((20, 20), (30, 20), (30, 30), (20, 30)), bulges=(0.0, 1.0, 0.0, 1.0), fill=BLACK)
# Three quarters of a disc of radius 8 about (25, 25), closed by its chord: sector 48 pi plus triangle 32.
MOST = Path(points=((33, 25), (25, 17)), bulges=(math.tan(math.radians(270) / 4), 0.0), fill=BLACK)
# A quarter that turns the other way: from (15, 25) over (15 + r, ...) bends inward; triangle less the segment.
INWARD = Path(points=((15, 35), (15, 15), (35, 35)), bulges=(0.0, -math.tan(math.radians(90) / 4), 0.0), fill=BLACK)


def _page(*marks: Mark) -> Page:
    return Page(width_mm=50.0, height_mm=50.0, marks=marks, title="paths")


def _by_pdfium(page: Page) -> NDArray[np.uint8]:
    document = pypdfium2.PdfDocument(pdf([page]))
    picture = document[0].render(scale=DPI / 72).to_numpy()
    document.close()
    return np.asarray(picture[..., :3])


def _by_resvg(page: Page) -> NDArray[np.uint8]:
    return pixels(page, DPI / 25.4)


def _ink_mm2(picture: NDArray[np.uint8]) -> float:
    return float((1.0 - picture[..., 0] / 255.0).sum()) / 100.0


@pytest.mark.parametrize("drawn", [_by_pdfium, _by_resvg])
@pytest.mark.parametrize(
    ("path", "area_mm2", "box"),
    [
        (SLOT, 100 + 25 * math.pi, (15, 20, 35, 30)),
        (MOST, 48 * math.pi + 32, (17, 17, 33, 33)),
        # Right triangle with legs 20; a quarter arc on the hypotenuse of length 20 sqrt 2 has radius 20: the segment is
        # 100 pi - 200, taken away.
        (INWARD, 200 - (100 * math.pi - 200), (15, 15, 35, 35)),
    ],
    ids=["slot", "three quarters", "inward"],
)
def test_arcs_cover_what_they_should(
    drawn: object, path: Path, area_mm2: float, box: tuple[int, int, int, int]
) -> None:
    picture = drawn(_page(path))  # type: ignore[operator]
    assert _ink_mm2(picture) == pytest.approx(area_mm2, abs=0.8)  # a tenth of a pixel all round
    rows, columns = np.nonzero(picture[..., 0] < 128)
    found = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
    tolerance = 16 if path is INWARD else 1  # its tips are sharper than a pixel
    assert np.abs(np.array(found) - 10 * np.array(box)).max() <= tolerance


@pytest.mark.parametrize("drawn", [_by_pdfium, _by_resvg])
def test_a_window_hides_what_lies_outside(drawn: object) -> None:
    whole = Rectangle(x_mm=5, y_mm=5, width_mm=40, height_mm=40, fill=BLACK)
    inner = Clip(x_mm=10, y_mm=12, width_mm=20, height_mm=8, marks=(whole,))
    picture = drawn(_page(inner, Circle(x_mm=40, y_mm=40, radius_mm=2, fill=BLACK)))  # type: ignore[operator]
    assert _ink_mm2(picture[:300]) == pytest.approx(160.0, abs=28 * WINDOW_MM)
    assert _ink_mm2(picture[300:]) == pytest.approx(4 * math.pi, abs=0.1)  # after the window all shows again


def test_windows_nest() -> None:
    whole = Rectangle(x_mm=0, y_mm=0, width_mm=50, height_mm=50, fill=BLACK)
    inner = Clip(x_mm=20, y_mm=0, width_mm=30, height_mm=50, marks=(whole,))
    outer = Clip(x_mm=0, y_mm=10, width_mm=25, height_mm=10, marks=(inner,))
    assert _ink_mm2(_by_pdfium(_page(outer))) == pytest.approx(50.0, abs=15 * WINDOW_MM)
    assert _ink_mm2(_by_resvg(_page(outer))) == pytest.approx(50.0, abs=15 * WINDOW_MM)


def test_svg_is_in_millimetres() -> None:
    root = ET.fromstring(svg(_page(SLOT)))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("50mm", "50mm", "0 0 50 50")


class TestDxf:
    def _read(self, *layers: Layer) -> ezdxf.document.Drawing:
        return ezdxf.read(io.StringIO(dxf(layers).decode()))

    def test_says_millimetres_and_passes_the_audit(self) -> None:
        read = self._read(Layer(name="top", colour="black", marks=(SLOT,)))
        assert read.header["$INSUNITS"] == 4
        assert not read.audit().errors

    def test_circles_stay_circles_on_their_layer(self) -> None:
        circle = Circle(x_mm=12.5, y_mm=40.0, radius_mm=3.1)
        read = self._read(
            Layer(name="near", colour="red", marks=(circle,)), Layer(name="far", colour="black", marks=())
        )
        (found,) = read.modelspace().query("CIRCLE")
        assert tuple(found.dxf.center)[:2] == pytest.approx((12.5, -40.0))
        assert found.dxf.radius == pytest.approx(3.1)
        assert found.dxf.layer == "near"
        assert {"near", "far"} <= {layer.dxf.name for layer in read.layers}

    @pytest.mark.parametrize(("path", "box"), [(SLOT, (15, -30, 35, -20)), (MOST, (17, -33, 33, -17))])
    def test_arcs_bend_the_right_way(self, path: Path, box: tuple[float, float, float, float]) -> None:
        from ezdxf import bbox

        read = self._read(Layer(name="top", colour="black", marks=(path,)))
        (found,) = read.modelspace().query("LWPOLYLINE")
        assert found.closed
        around = bbox.extents([found], fast=False)
        assert (*tuple(around.extmin)[:2], *tuple(around.extmax)[:2]) == pytest.approx(box, abs=0.02)

    def test_lines_run_as_drawn(self) -> None:
        read = self._read(Layer(name="top", colour="black", marks=(Line(x1_mm=1, y1_mm=2, x2_mm=3, y2_mm=4),)))
        (found,) = read.modelspace().query("LINE")
        assert (tuple(found.dxf.start)[:2], tuple(found.dxf.end)[:2]) == ((1, -2), (3, -4))

    def test_refuses_what_no_cutter_follows(self) -> None:
        with pytest.raises(ValueError, match="rectangle"):
            dxf([Layer(name="top", colour="black", marks=(Rectangle(x_mm=0, y_mm=0, width_mm=3, height_mm=3),))])


def test_a_long_page_is_drawn_in_strips_that_show_no_seam() -> None:
    # A line 20 px wide down 2500 px, and one of 4 px that lies across the seam at 1000 px.
    down = Line(x1_mm=10.0, y1_mm=0.0, x2_mm=10.0, y2_mm=625.0, line_mm=5.0)
    across = Line(x1_mm=0.0, y1_mm=250.0, x2_mm=25.0, y2_mm=250.0, line_mm=1.0)
    drawn = pixels(Page(width_mm=25.0, height_mm=625.0, marks=(down, across)), 4.0)
    assert drawn.shape == (2500, 100, 3)
    assert (drawn[:, 31:49] == 0).all()
    assert (drawn[998:1002] == 0).all()
    assert (drawn[:997, 51:] == 255).all() and (drawn[1003:, 51:] == 255).all()


def test_a_short_last_strip_is_drawn_too() -> None:
    """2005 px make three strips, not two of 1000 and one of 5, which no drawing may be as small as."""
    down = Line(x1_mm=10.0, y1_mm=0.0, x2_mm=10.0, y2_mm=2005.0, line_mm=4.0)
    drawn = pixels(Page(width_mm=20.0, height_mm=2005.0, marks=(down,)), 1.0)
    assert (drawn[:, 9:11] == 0).all() and (drawn[:, :7] == 255).all()


def test_a_picture_keeps_its_pixels_on_paper_of_a_colour_and_stretched() -> None:
    """By hand: 40 by 20 px laid at (10, 5), stretched by 2 across: 40 px wide from column 20 on."""
    shown = np.arange(20 * 40 * 3, dtype=np.uint8).reshape(20, 40, 3)
    marks = (Image(x_mm=10.0, y_mm=5.0, width_mm=20.0, height_mm=20.0, pixels=shown),)
    drawn = pixels(Page(width_mm=50.0, height_mm=40.0, marks=marks, stretch=(2.0, 1.0)), 1.0, (1.0, 0.0, 0.0))
    assert drawn.shape == (40, 100, 3)
    assert (drawn[5:25, 20:60] == shown).all()
    drawn[5:25, 20:60] = (255, 0, 0)
    assert (drawn == (255, 0, 0)).all()
