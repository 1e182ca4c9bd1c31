"""The strip comes out of PDF and PNG at true size: read back by programs that we did not write."""

from __future__ import annotations

import io

import numpy as np
import pypdf
import pypdfium2
import pytest
from PIL import Image

from mockup.calibration.strip import BARE, PATCH_MM, field_mm, marks_mm, patches, strip_page
from mockup.encode.pdf import pdf
from mockup.model.sheet import Line, Paper

pytestmark = pytest.mark.slow

DPI = 300
PER_MM = DPI / 25.4  # the definition of dpi
PAGES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; 8.5 x 11 in
PLACE = (34.0, 52.0)  # where the page has the corner of the patches, mm from its top left corner


def patch_centre(name: str) -> tuple[float, float]:
    """Where the page has the middle of a patch, mm from its top left corner."""
    return PLACE[0] + patches(30)[name].x_mm, PLACE[1] + patches(30)[name].y_mm


@pytest.fixture(scope="module")
def raster() -> np.ndarray:
    """The A4 page of the PDF as another program draws it, (h, w, 3)."""
    document = pypdfium2.PdfDocument(pdf([strip_page("a4")]))
    image = document[0].render(scale=DPI / 72).to_numpy()[..., ::-1]
    document.close()
    return np.array(image)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pdf_page_has_the_papers_size_and_its_fonts_inside(paper: Paper) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf([strip_page(paper)])))
    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    # one user unit is 1/72 in = 25.4/72 mm (ISO 32000-1 8.3.2.3)
    assert float(box.width) * 25.4 / 72 == pytest.approx(PAGES[paper][0], abs=0.01)
    assert float(box.height) * 25.4 / 72 == pytest.approx(PAGES[paper][1], abs=0.01)
    assert "/UserUnit" not in reader.pages[0]
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    fonts = [font.get_object() for font in reader.pages[0]["/Resources"]["/Font"].values()]
    used = [font for font in fonts if "Manrope" in str(font["/BaseFont"])]
    assert len(used) == 2
    assert all("/FontFile2" in font["/FontDescriptor"] for font in used)
    text = " ".join(reader.pages[0].extract_text().split())
    for word in (
        "Print at 100 %",
        "white card",
        "a scrap painted",
        "respirator",
        "dry fully",
        "50 mm",
        "2 in",
        "--photo",
    ):
        assert word in text


def test_pdf_bytes_repeat() -> None:
    assert pdf([strip_page("a4")]) == pdf([strip_page("a4")])
    assert b"CreationDate (D:2000" in pdf([strip_page("a4")])  # the library's fixed date: no clock


@pytest.mark.parametrize("size", [22, 30])
def test_every_patch_and_mark_of_the_pdf_lies_where_it_should(size: int) -> None:
    """Drawn at 600 dpi, where the drawing program's habit of widening a rectangle to whole pixels is 0.04 mm."""
    per_mm = 600 / 25.4
    document = pypdfium2.PdfDocument(pdf([strip_page("a4", size=size)]))
    drawn = np.array(document[0].render(scale=600 / 72).to_numpy()[..., ::-1])
    document.close()
    for name, patch in patches(size).items():
        if name == BARE:
            continue
        x, y = patch_centre(name)
        column, row = round(x * per_mm), round(y * per_mm)
        assert np.abs(drawn[row, column].astype(int) - np.rint(np.array(patch.printed) * 255)).max() <= 1, name
        reach = round((PATCH_MM / 2 + 0.4) * per_mm)
        across, down = drawn[row, column - reach : column + reach], drawn[row - reach : row + reach, column]
        for line, start, centre in ((across, column, x), (down, row, y)):
            inked = np.flatnonzero((line != 255).any(axis=-1))
            edges = (np.array([inked[0], inked[-1] + 1]) + start - reach) / per_mm
            assert edges == pytest.approx([centre - PATCH_MM / 2, centre + PATCH_MM / 2], abs=0.09), name
    for x, y in marks_mm(size):
        for dx, dy, ink in ((-0.7, -0.7, 0), (0.7, 0.7, 0), (0.7, -0.7, 255), (-0.7, 0.7, 255)):
            at = round((PLACE[1] + y + dy) * per_mm), round((PLACE[0] + x + dx) * per_mm)
            assert drawn[at].tolist() == [ink] * 3


def test_rules_are_50_mm_and_2_in_long(raster: np.ndarray) -> None:
    lines = [mark for mark in strip_page("a4").marks if isinstance(mark, Line) and mark.y1_mm == mark.y2_mm]
    assert sorted(line.x2_mm - line.x1_mm for line in lines) == pytest.approx([50.0, 50.8])
    for line in lines:
        row = raster[round((line.y1_mm - 1.0) * PER_MM)].mean(axis=1)  # 1 mm above the base line: all ticks
        near = slice(int((line.x1_mm - 1) * PER_MM), int((line.x2_mm + 1) * PER_MM))
        dark = np.clip(255 - row[near], 0, None)
        starts = np.flatnonzero(np.diff(np.concatenate([[0], (dark > 20).astype(int)])) == 1)
        outer = [slice(start, start + 4) for start in (starts[0], starts[-1])]  # 0.15 mm are 1.8 px
        ends = [(np.arange(len(dark))[part] + 0.5) @ dark[part] / dark[part].sum() for part in outer]
        assert len(starts) == (51 if line.x2_mm - line.x1_mm < 50.5 else 33)
        assert (ends[1] - ends[0]) / PER_MM == pytest.approx(line.x2_mm - line.x1_mm, abs=0.05)


def test_strips_hold_what_a_profile_needs() -> None:
    """The corners of the colour cube, points inside it and on its faces; and all of it costs little film."""
    printed = [each.printed for each in patches(22).values()]
    assert (len(printed), len(patches(30))) == (22, 30)
    assert len(set(printed)) == 22
    assert sum(set(each) <= {0.0, 1.0} for each in printed) == 8
    assert sum(min(each) > 0.0 and max(each) < 1.0 for each in printed) == 8
    assert sum(sorted(each)[1] == 0.5 for each in printed) == 6
    assert (len(printed) * PATCH_MM**2) < 1000  # 10 cm2
    width, height = field_mm(22)
    assert width * height < 1200
    assert list(patches(30))[:22] == list(patches(22))


def test_png_says_600_dpi(tmp_path: object) -> None:
    """pHYs holds pixels per metre: 600 / 0.0254 = 23622.05 (ISO/IEC 15948 11.3.5.3)."""
    from pathlib import Path

    from mockup import calibrate

    place = calibrate.strip(Path(str(tmp_path)) / "strip.png", "letter")
    data = place.read_bytes()
    at = data.index(b"pHYs") + 4
    assert (int.from_bytes(data[at : at + 4]), int.from_bytes(data[at + 4 : at + 8]), data[at + 8]) == (23622, 23622, 1)
    with Image.open(place) as image:
        assert image.size == (5100, 6600)  # 8.5 and 11 in x 600
