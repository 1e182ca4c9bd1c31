"""The print sheet read back by programs that we did not write: boxes, places, pixels, marks, resolution."""

from __future__ import annotations

import io
import re
import struct
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdf
import pypdfium2
import pytest
from PIL import Image

from mockup import api, calibrate, files
from mockup.decal import ink_over_paint as ink
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.printer import Rule
from mockup.outputs import sheet

POINTS = 72 / 25.4  # ISO 32000-1 8.3.2.3
LAYOUT = """
[box]
size = "112x60x31"
[finish]
paint = "#c8a23a"
[[decal]]
art = "art.png"
[[part]]
name = "TONE"
kind = "pot-16"
left = 19
top = 30
"""


def pedal() -> Design:
    pixels = np.random.default_rng(5).integers(0, 256, (472, 236, 3)).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", dpi=(600, 600))
    return api.loads(LAYOUT, {"art.png": out.getvalue()})


def made(name: str = "s.pdf", design: Design | None = None, **options: object) -> bytes:
    return sheet.make(design or pedal(), sheet.Options(output=name, **options)).files[name]  # type: ignore[arg-type]


def placed(data: bytes) -> list[tuple[float, float, float, float]]:
    """Return left, top, width and height in mm of every picture on the first page."""
    document = pypdfium2.PdfDocument(data)
    page = document[0]
    height = page.get_height()
    found = []
    for each in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
        left, bottom, right, top = each.get_bounds()
        found.append((left / POINTS, (height - top) / POINTS, (right - left) / POINTS, (top - bottom) / POINTS))
    page.close()
    document.close()
    return found


@pytest.mark.parametrize(
    ("page", "size"),
    [("a4", (210, 297)), ("letter", (215.9, 279.4)), ("4x6 in", (101.6, 152.4)), ("100x150", (100, 150))],
)
def test_pages_have_their_size_and_pictures_theirs(page: str, size: tuple[float, float]) -> None:
    """ISO 216; 8.5 x 11 in; a decal of 236 x 472 px at 600 dpi is 9.991 x 19.981 mm."""
    data = made(page=page, copies=2)
    box = pypdf.PdfReader(io.BytesIO(data)).pages[0].mediabox
    assert (float(box.width) / POINTS, float(box.height) / POINTS) == pytest.approx(size, abs=0.01)
    for _, _, width, height in placed(data):
        assert sorted((width, height)) == pytest.approx((236 * 25.4 / 600, 472 * 25.4 / 600), abs=0.05)
    assert len(placed(data)) == 2


def test_embedded_pixels_are_the_arts_ink_with_srgb() -> None:
    design = pedal()
    (image,) = pypdf.PdfReader(io.BytesIO(made(design=design))).pages[0]["/Resources"]["/XObject"].values()
    stream = image.get_object()
    got = np.frombuffer(stream.get_data(), np.uint8).reshape(472, 236, 3)
    assert (got == ink.flatten(design.decals[0].art.pixels)).all()
    assert stream["/ColorSpace"][0] == "/ICCBased"
    assert stream["/ColorSpace"][1].get_object()["/N"] == 3
    assert made() == made()  # no clock


def test_png_has_its_resolution_and_the_arts_own_pixels() -> None:
    design = pedal()
    data = made("s.png", design, page="100x150")
    at = data.index(b"pHYs") + 4
    assert struct.unpack(">IIB", data[at : at + 9]) == (23622, 23622, 1)  # 600 / 0.0254
    with Image.open(io.BytesIO(data)) as image:
        pixels = np.asarray(image)
        assert image.size == (2362, 3543)  # 100 and 150 mm at 600 dpi
    left, top, _, _ = (round(each * 600 / 25.4) for each in placed(made(design=design, page="100x150"))[0])
    assert (pixels[top : top + 472, left : left + 236] == ink.flatten(design.decals[0].art.pixels)).all()


def test_cut_marks_lie_on_the_trims_corners() -> None:
    """Just beyond each corner, 2 mm outside the art, there is a line along both edges, within 0.05 mm."""
    data = made(page="100x150")
    left, top, width, height = placed(data)[0]
    per_mm = 1200 / 25.4
    document = pypdfium2.PdfDocument(data)
    drawn = document[0].render(scale=1200 / 72).to_numpy()[..., :3].min(axis=2)
    document.close()
    for x, away in ((left - 2, -1), (left + width + 2, 1)):
        for y, up in ((top - 2, -1), (top + height + 2, 1)):
            row = round((y + up * 1.8) * per_mm)
            line = drawn[row, round((x - 1) * per_mm) : round((x + 1) * per_mm)] < 128
            assert np.flatnonzero(line).mean() / per_mm == pytest.approx(1.0, abs=0.05)
            column = round((x + away * 1.8) * per_mm)
            line = drawn[round((y - 1) * per_mm) : round((y + 1) * per_mm), column] < 128
            assert np.flatnonzero(line).mean() / per_mm == pytest.approx(1.0, abs=0.05)


def test_printers_error_is_corrected_and_said() -> None:
    """A printer that makes 99.6 x 100.3 of 100 mm must be given 100 / 99.6 and 100 / 100.3 of every length."""
    design = replace(pedal(), rule=Rule(printer="den", across_mm=99.6, down_mm=100.3))
    data = made(design=design, page="100x150")
    _, _, width, height = placed(data)[0]
    assert width * 0.996 == pytest.approx(236 * 25.4 / 600, abs=0.01)
    assert height * 1.003 == pytest.approx(472 * 25.4 / 600, abs=0.01)
    text = pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text().replace("\n", " ")
    assert '"den"' in text
    assert "1.0040 x 0.9970" in text


def test_a_sheet_that_lies_is_fed_by_its_short_side() -> None:
    design = replace(pedal(), rule=Rule(printer="den", across_mm=99.6, down_mm=100.3))
    ((_, _, width, height),) = placed(made(design=design, page="150x100"))
    assert sorted((width * 1.003, height * 0.996)) == pytest.approx((236 * 25.4 / 600, 472 * 25.4 / 600), abs=0.01)


def printed(width_mm: float, height_mm: float) -> Design:
    out = io.BytesIO()
    Image.new("RGB", (round(width_mm), round(height_mm)), "#204060").save(out, "PNG")
    return api.loads(LAYOUT.replace('"art.png"', f'"art.png"\nwidth = {width_mm}'), {"art.png": out.getvalue()})


def test_art_of_2_4_by_4_7_inches_goes_on_a_4_by_6_page() -> None:
    """61 x 119.4 mm with 2 mm of trim on 101.6 x 152.4 mm; all of it at least 7 mm from the edges."""
    ((left, top, width, height),) = placed(made(design=printed(60.96, 119.38), page="4x6 in"))
    assert (width, height) == pytest.approx((60.96, 119.4), abs=0.5)
    assert left >= 9.0
    assert top >= 9.5
    assert top + height <= 152.4 - 14.0 - 2.0


def test_what_is_too_large_by_its_trim_says_which_trim_fits() -> None:
    """130.9 mm of room for 119 mm of art leave 5.9 mm on either side, less what is lost to whole cells of 1 mm."""
    design = printed(61.0, 119.0)
    with pytest.raises(InputError) as raised:
        made(design=design, page="4x6 in", trim=10.0)
    found = re.search(r"give --trim ([\d.]+), or choose a larger page", str(raised.value))
    assert found is not None
    assert float(found[1]) == pytest.approx(5.9, abs=1.0)
    assert placed(made(design=design, page="4x6 in", trim=float(found[1])))


def test_the_slug_of_a_small_page_leaves_nothing_out() -> None:
    """Every sentence stands on the page, below the decals and above its edge."""
    design = replace(pedal(), rule=Rule(printer="the one in the workshop", across_mm=99.6, down_mm=100.3))
    data = made(design=design, page="4x6 in", mirror=True, date="2026-11-25")
    found: list[tuple[str, float]] = []
    page = pypdf.PdfReader(io.BytesIO(data)).pages[0]
    text = " ".join(page.extract_text(visitor_text=lambda t, m, tm, *_: found.append((t, m[3] * tm[5] + m[5]))).split())
    for said in (
        "layout",
        "2026-11-25.",
        "100 %",
        "White is not printed",
        "MIRRORED",
        "in the workshop",
        "before it meets water",
        "safety sheets",
    ):
        assert said in text
    assert "(across x along the feed)." in text
    low = min(at for words, at in found if words.strip()) / POINTS
    _, top, _, height = placed(data)[0]
    assert 2.0 < low < 152.4 - top - height


def test_measuring_page_is_true_to_size() -> None:
    """Both rules, read as vectors (PDFium's bounds of the end lines) and as 1200 dpi pixels: 100 mm within 0.05."""
    options = sheet.Options(rule=True)
    result = sheet.alone(options)
    assert result is not None
    assert sheet.alone(sheet.Options()) is None
    (data,) = result.files.values()
    document = pypdfium2.PdfDocument(data)
    page = document[0]
    assert (page.get_width() / POINTS, page.get_height() / POINTS) == pytest.approx((210.0, 297.0), abs=0.01)
    bounds = [
        [value / POINTS for value in each.get_bounds()]
        for each in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_PATH])
    ]
    upright = [(left + right) / 2 for left, low, right, high in bounds if right - left < 1 and 13.5 < high - low < 15]
    level = [(low + high) / 2 for left, low, right, high in bounds if high - low < 1 and 13.5 < right - left < 15]
    assert len(upright) == len(level) == 2
    assert np.ptp(upright) == pytest.approx(100.0, abs=0.005)
    assert np.ptp(level) == pytest.approx(100.0, abs=0.005)
    px = 1200 / 25.4
    drawn = page.render(scale=1200 / 72, grayscale=True).to_numpy()
    dark = drawn.reshape(drawn.shape[:2]) < 128
    document.close()
    # End lines reach 7 mm to both sides of a rule, ticks only away from the other rule: look there, between ticks.
    row = dark[round((50 + 5.5) * px), round(30 * px) : round(160 * px)]
    column = dark[round(40 * px) : round(160 * px), round((40 + 5.5) * px)]
    for line in (row, column):
        places = np.flatnonzero(line)
        groups = [group.mean() for group in np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)]
        assert (groups[-1] - groups[0]) / px == pytest.approx(100.0, abs=0.05)


def test_mirror_date_and_profile() -> None:
    design = pedal()
    data = made(design=design, mirror=True, date="today")
    page = pypdf.PdfReader(io.BytesIO(data)).pages[0]
    (image,) = page["/Resources"]["/XObject"].values()
    got = np.frombuffer(image.get_object().get_data(), np.uint8).reshape(472, 236, 3)
    assert (got == ink.flatten(design.decals[0].art.pixels)[:, ::-1]).all()
    assert "today." in page.extract_text()
    assert "MIRRORED" in page.extract_text()


def test_lengths_are_kept_by_printer_and_reach_the_design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path))
    calibrate.measured("99.6, 100.3", "den")
    (tmp_path / "layout.toml").write_text('[box]\nsize = "112x60x31"\n[finish]\npaint = "red"\n')
    design = api.load(tmp_path / "layout.toml", printer="den")
    assert design.rule == Rule(printer="den", across_mm=99.6, down_mm=100.3)
    assert design.finish.printer is None  # its ink was never measured
    for text, said in (("99.6", "not a pair"), ("90,100", "5 % off"), ("a,b", "not a length")):
        with pytest.raises(InputError, match=said):
            calibrate.measured(text, "den")


def test_copies_are_advised_as_the_fullest_film_takes_them() -> None:
    """A copy is a large piece on clear film and a small one on white: the small ones alone do not make a copy."""
    pixels = Image.new("RGB", (236, 472), "#204060")
    out = io.BytesIO()
    pixels.save(out, "PNG", dpi=(600, 600))
    strip = '[[decal]]\nart = "art.png"\nfilm = "white"\nwidth = 4\n'
    both = api.loads(LAYOUT + strip, {"art.png": out.getvalue()})
    said = [each for each in sheet.make(both, sheet.Options(page="100x100")).notes if " fit" in each]
    found = {film: int(note.split()[0]) for film in ("clear", "white") for note in said if f"{film} film" in note}
    assert 0 < found["clear"] < found["white"]
    advised = [int(note.rpartition(" ")[2]) for note in said if "--copies" in note]
    assert advised == [1 + found["clear"]]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"page": "a9"}, "--page: 'a9' is no page"),
        ({"page": "60x60", "trim": 20.0}, "--page: a decal of layout"),
        ({"copies": 0}, "--copies: 0 is out of range"),
        ({"dpi": 10.0}, "--dpi: 10 is out of range"),
        ({"output": "a.jpg"}, "--output: 'a.jpg' has an unknown ending; end the name in .pdf, .png: a JPEG smears"),
        ({"icc": ("x.icc", b"no")}, "x.icc: is not an ICC profile"),
        ({"output": "a.png", "dpi": 1200.0}, "--dpi: a page at 1200 dpi"),
    ],
)
def test_bad_options_are_one_line(options: dict[str, object], said: str) -> None:
    with pytest.raises(InputError) as caught:
        sheet.make(pedal(), sheet.Options(**options))  # type: ignore[arg-type]
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)
