"""The drill template, read back by readers that know nothing of it. Expected places are worked out by hand."""

from __future__ import annotations

import io
import itertools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import ezdxf
import numpy as np
import pypdf
import pypdfium2
import pytest
from numpy.typing import NDArray

import mockup
from mockup.api import load, loads
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.printer import Rule
from mockup.options import Result
from mockup.outputs import drill, template

pytestmark = pytest.mark.slow

POINT_MM = 25.4 / 72
A4, LETTER = (595.2756, 841.8898), (612.0, 792.0)  # ISO 216: 210 x 297 mm; 8.5 x 11 in; in points
# Lantern Moth: a box of 66 x 121 x 39 with a lid of 1.8, draft 1 degree, top edge rounded by 1.5.
INSET = 37.2 * math.tan(math.radians(1))  # of the top's sharp edge
SLANT = 37.2 / math.cos(math.radians(1))  # height along a side
WRAP = 2 * 1.5 * math.tan(math.radians(44.5)) - 1.5 * math.radians(89)  # paper round the edge is that much shorter
TOP = (66 - 2 * INSET, 121 - 2 * INSET)
ONE_HOLE = """
name = "One"
[box]
size = "121x66x39"
[finish]
paint = "#ffffff"
[[part]]
name = "LAMP"
kind = "lamp-5"
left = 20
top = 30
"""


def _made(design: Design, **options: object) -> Result:
    return template.make(design, template.Options(**options))


def _data(design: Design, **options: object) -> bytes:
    (data,) = _made(design, **options).files.values()
    return data


@pytest.fixture
def moth(examples: Path) -> Design:
    return load(examples / "lantern_moth" / "layout.toml")


@pytest.fixture
def ferry(examples: Path) -> Design:
    return load(examples / "night_ferry" / "layout.toml")


def _circles_mm(data: bytes, page: int, diameter_mm: float, stretched_mm: float = 0.0) -> NDArray[np.float64]:
    """Return the centres (x, y down) of the round path objects of one size on a page, as PDFium measures them.

    `stretched_mm` allows for circles that are drawn a little oval.
    """
    document = pypdfium2.PdfDocument(data)
    sheet = document[page]
    found = []
    for each in sheet.get_objects(filter=(pypdfium2.raw.FPDF_PAGEOBJ_PATH,)):
        left, bottom, right, top = (value * POINT_MM for value in each.get_bounds())
        # Bounds take in the pen, some hundredths to tenths of a millimetre all round: the centre does not mind.
        gap = right - left - diameter_mm
        if abs((right - left) - (top - bottom)) < 0.02 + stretched_mm and -0.02 - stretched_mm < gap < 0.8:
            found.append(((left + right) / 2, sheet.get_height() * POINT_MM - (top + bottom) / 2))
    document.close()
    return np.array(found)


class TestPdf:
    @pytest.mark.parametrize(
        ("page", "points"), [("a4", A4), ("letter", LETTER), ("210x297", A4), ("Letter", LETTER), ("8.5x11 in", LETTER)]
    )
    def test_page_boxes(self, moth: Design, page: str, points: tuple[float, float]) -> None:
        reader = pypdf.PdfReader(io.BytesIO(_data(moth, page=page)))
        for sheet in reader.pages:
            for box in (sheet.mediabox, sheet.cropbox):
                assert sorted((float(box.width), float(box.height))) == pytest.approx(sorted(points), abs=1e-3)

    def test_paper_that_is_given_across_lies_across(self, moth: Design) -> None:
        """What was typed is what the printer holds: 420 mm wide and 297 high, for the template and the plan."""
        made = drill.make(moth, drill.Options(page="420x297"))
        for data in (_data(moth, page="420x297"), *made.files.values()):
            for sheet in pypdf.PdfReader(io.BytesIO(data)).pages:
                sides = float(sheet.mediabox.width), float(sheet.mediabox.height)
                assert sides == pytest.approx((420 / POINT_MM, 297 / POINT_MM), abs=1e-3)

    def test_letters_are_embedded_and_nothing_is_a_picture(self, moth: Design) -> None:
        reader = pypdf.PdfReader(io.BytesIO(_data(moth)))
        assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
        for sheet in reader.pages:
            fonts = [each.get_object() for each in sheet["/Resources"]["/Font"].values()]
            used = [font for font in fonts if "Manrope" in str(font["/BaseFont"])]
            assert used
            assert all("/FontFile2" in font["/FontDescriptor"] for font in used)
            assert not list(sheet.images)

    def test_says_what_must_be_said(self, moth: Design) -> None:
        reader = pypdf.PdfReader(io.BytesIO(_data(moth)))
        drawing, table = (page.extract_text().replace("\n", " ") for page in reader.pages)
        for words in ("Lantern Moth", "100 %", "50 mm", "2 in", "eye protection", "Clamp", "deburr", "Local codes"):
            assert words in drawing
        assert "safety sheets" in table
        for part in moth.parts:
            assert part.name in table
            assert part.name in drawing
        assert re.search(r"12\.5\s+32\.35\s+106\.85\s+3\s+3 > 6 > 9 > 12 > 12\.5", table)

    def test_holes_lie_as_the_layout_says(self, moth: Design) -> None:
        """Widths and distances from the layout's own figures; the far side lies beyond the bend."""
        data = _data(moth)
        pots = _circles_mm(data, 0, 7.5)
        left, right = pots[np.argsort(pots[:, 0])][[0, -1]]
        assert right - left == pytest.approx((TOP[0] - 2 * 14.85, 0.0), abs=0.05)
        big = _circles_mm(data, 0, 12.5)
        power, bypass = big[np.argsort(big[:, 1])]
        # POWER: 12.5 above the rim, SLANT - 12.5 from the sharp edge, drawn in by the wrap; BYPASS: 12.85 from near.
        assert bypass[1] - power[1] == pytest.approx((SLANT - 12.5 - WRAP) + (TOP[1] - 12.85), abs=0.05)
        assert bypass[0] == pytest.approx(power[0], abs=0.05)
        jacks = _circles_mm(data, 0, 9.5)
        out, into = jacks[np.argsort(jacks[:, 0])]
        assert into[0] - out[0] == pytest.approx(TOP[0] + 2 * (SLANT - 17.3 - WRAP), abs=0.05)

    def test_raster_puts_a_hole_at_its_millimetre(self) -> None:
        """Draw the sheet at 1200 dpi and measure as a builder would: from the face's edge to the middle of the ring."""
        picture = _raster(_data(loads(ONE_HOLE), faces="each"), 1200)
        px = 1200 / 25.4
        is_dark = picture < 110
        # The face's outline: columns and rows that are dark over most of the face's length.
        columns = np.flatnonzero(is_dark.sum(axis=0) > 0.9 * TOP[1] * px)
        rows = np.flatnonzero(is_dark[:, columns[0] : columns[-1]].sum(axis=1) > 0.9 * TOP[0] * px)
        left, right = _middle(columns[columns < columns.mean()]), _middle(columns[columns > columns.mean()])
        top, bottom = _middle(rows[rows < rows.mean()]), _middle(rows[rows > rows.mean()])
        assert ((right - left) / px, (bottom - top) / px) == pytest.approx(TOP, abs=0.05)
        # The ring of the 8 mm hole: dark pixels 4 mm from the expected centre, up to a line's width; arms are even.
        x, y = left + 20 * px, top + 30 * px
        half = int(5 * px)
        window = is_dark[int(y) - half : int(y) + half, int(x) - half : int(x) + half]
        at_y, at_x = np.nonzero(window)
        places = np.stack([at_x + 0.5 + int(x) - half, at_y + 0.5 + int(y) - half], axis=1)
        ring = places[np.abs(np.linalg.norm(places - (x, y), axis=1) / px - 4.0) < 0.3]
        off_axis = np.abs(ring - (x, y)).min(axis=1) / px > 0.4  # the centre lines' arms left out
        ring = (ring[off_axis] - (x, y)) / px
        assert len(ring) > 0.8 * math.pi * 8 * 0.25 * px * px  # the ring is there: circumference times pen
        # Least squares circle (Kasa): x^2 + y^2 = 2 a x + 2 b y + c.
        system = np.column_stack([2 * ring, np.ones(len(ring))])
        a, b, c = np.linalg.lstsq(system, (ring**2).sum(axis=1), rcond=None)[0]
        assert (a, b) == pytest.approx((0.0, 0.0), abs=0.05)
        assert 2 * math.sqrt(c + a * a + b * b) == pytest.approx(8.0, abs=0.05)

    def test_check_rules_are_true(self, moth: Design) -> None:
        """From the middle of a rule's first tick to that of its last, as PDFium measures them."""
        document = pypdfium2.PdfDocument(_data(moth))
        objects = document[0].get_objects(filter=(pypdfium2.raw.FPDF_PAGEOBJ_PATH,))
        bounds = [tuple(value * POINT_MM for value in each.get_bounds()) for each in objects]
        document.close()
        ticks = [
            ((left + right) / 2, bottom)
            for left, bottom, right, top in bounds
            if right - left < 0.6 and 3.9 < top - bottom < 4.6
        ]
        spans = [abs(a[0] - b[0]) for a in ticks for b in ticks if abs(a[1] - b[1]) < 0.01]
        for length in (50.0, 50.8):
            assert min(abs(span - length) for span in spans) < 0.005

    def test_a_page_per_face(self, ferry: Design) -> None:
        reader = pypdf.PdfReader(io.BytesIO(_data(ferry, faces="each")))
        texts = [page.extract_text() for page in reader.pages]
        assert [text.count("1:1") for text in texts] == [1, 1, 1, 1, 0]
        for text, face in zip(texts, ("Top", "Far", "Left", "Right"), strict=False):
            assert f"{face} face" in text

    def test_inches(self, ferry: Design) -> None:
        text = pypdf.PdfReader(io.BytesIO(_data(ferry, units="in"))).pages[0].extract_text()
        assert "0.588" in text  # 14.94 mm
        assert "14.94" not in text

    def test_tiles_share_their_register_marks(self, ferry: Design) -> None:
        """Every hole is on some sheet, and sheets laid mark on mark put one hole in one place."""
        data = _data(ferry, page="150x170")
        reader = pypdf.PdfReader(io.BytesIO(data))
        letters = [_letters(page) for page in reader.pages[:-1]]
        assert len(letters) == 4
        for first, second, count in ((0, 1, 2), (2, 3, 2), (0, 2, 2), (1, 3, 2)):
            both = sorted(set(letters[first]) & set(letters[second]))
            assert len(both) >= count
            shifts = [np.subtract(letters[first][each], letters[second][each]) for each in both]
            assert np.ptp(np.array(shifts), axis=0) == pytest.approx((0.0, 0.0), abs=1e-3)
            holes = [_circles_mm(data, page, 12.5) for page in (first, second)]
            moved = holes[1] + shifts[0] * POINT_MM * (1, -1)
            nearest = np.linalg.norm(holes[0][:, None] - moved[None], axis=-1).min(axis=1)
            assert nearest.max() < 0.01

    @pytest.mark.parametrize("page", ["150x200", "letter", "a4"])
    def test_cautions_stand_on_the_first_sheet(self, ferry: Design, page: str) -> None:
        words = " ".join(pypdf.PdfReader(io.BytesIO(_data(ferry, page=page))).pages[0].extract_text().split())
        for each in ("Wear eye protection", "Clamp the box", "Local codes", "safety sheets come before"):
            assert each in words

    def test_says_the_drills_at_each_round_hole(self, moth: Design) -> None:
        """Beside the hole as in the table: a template is taped to the box, away from its table."""
        text = pypdf.PdfReader(io.BytesIO(_data(moth))).pages[0].extract_text()
        assert text.count("3 > 6 > 9 > 12 > 12.5") == 2
        assert text.count("3 > 6 > 7.5") == 3

    def test_a_printers_error_is_corrected_and_said(self, moth: Design) -> None:
        """A printer that makes 99.6 x 100.3 of 100 mm must be given 1 / 0.996 and 1 / 1.003 of every length."""
        design = replace(moth, rule=Rule(printer="den", across_mm=99.6, down_mm=100.3))
        data = _data(design)
        printed = np.array([0.996, 1.003])
        pots = _circles_mm(data, 0, 7.5, 0.15) * printed
        left, right = pots[np.argsort(pots[:, 0])][[0, -1]]
        assert right - left == pytest.approx((TOP[0] - 2 * 14.85, 0.0), abs=0.01)
        big = _circles_mm(data, 0, 12.5, 0.15) * printed
        power, bypass = big[np.argsort(big[:, 1])]
        assert bypass[1] - power[1] == pytest.approx((SLANT - 12.5 - WRAP) + (TOP[1] - 12.85), abs=0.02)
        for page in pypdf.PdfReader(io.BytesIO(data)).pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=1e-3)
            assert 'Corrected for printer "den"' in page.extract_text()

    def test_a_page_that_lies_is_fed_by_its_short_side(self, ferry: Design) -> None:
        """Its width runs down the feed: there 100 mm come out as 100.3, across them as 99.6."""
        design = replace(ferry, rule=Rule(printer="den", across_mm=99.6, down_mm=100.3))
        plain, fed = (_circles_mm(_data(each), 0, 7.5, 0.15) for each in (ferry, design))
        assert float(pypdf.PdfReader(io.BytesIO(_data(design))).pages[0].mediabox.width) == pytest.approx(A4[1])
        for column, factor in ((0, 1.003), (1, 0.996)):
            place = [each[np.argsort(each[:, column])][:, column] for each in (plain, fed)]
            assert np.diff(place[1]) * factor == pytest.approx(np.diff(place[0]), abs=0.01)

    def test_repeats_byte_for_byte(self, moth: Design) -> None:
        assert _data(moth) == _data(moth)

    def test_a_box_without_holes_is_still_drawn(self) -> None:
        bare = loads('name = "Bare"\n[box]\nsize = "112x60x31"\n[finish]\npaint = "#ffffff"\n')
        made = _made(bare)
        assert made.notes == ("Bare has no holes to drill",)
        assert len(pypdf.PdfReader(io.BytesIO(next(iter(made.files.values())))).pages) == 2
        for output in ("bare.svg", "bare.dxf"):
            assert _data(bare, output=output)


class TestForCutters:
    def test_svg_is_true_to_size(self, moth: Design) -> None:
        root = ET.fromstring(_data(moth, output="cut.svg"))
        width, height = (float(root.attrib[key].removesuffix("mm")) for key in ("width", "height"))
        assert root.attrib["viewBox"] == f"0 0 {width:g} {height:g}"
        # The rims left and right are SLANT - WRAP away from the top's edges; 5 mm of air all round.
        assert width == pytest.approx(TOP[0] + 2 * (SLANT - WRAP) + 10, abs=0.01)
        circles = [each.attrib for each in root.iter("{http://www.w3.org/2000/svg}circle")]
        assert sorted(2 * float(each["r"]) for each in circles) == pytest.approx(
            [6.6, 7.5, 7.5, 7.5, 8.0, 9.5, 9.5, 12.5, 12.5]
        )
        cut = [each for each in root if not each.attrib.get("id", "").endswith(("-numbers", "notes"))]
        assert not [text for group in cut for text in group.iter("{http://www.w3.org/2000/svg}text")]

    def test_svg_has_a_group_per_face_with_a_title(self, moth: Design) -> None:
        space = "{http://www.w3.org/2000/svg}"
        root = ET.fromstring(_data(moth, output="cut.svg"))
        groups = {each.attrib["id"]: each for each in root.findall(f"{space}g")}
        faces = ("top", "far", "left", "right")
        assert set(groups) == {
            *faces, *(f"{face}-{more}" for face in faces for more in ("centres", "numbers")),
            "notes", "outline", "fold", "edge",
        }  # fmt: skip
        assert {face: len(groups[face].findall(f"{space}circle")) for face in faces} == {
            "top": 6,
            "far": 1,
            "left": 1,
            "right": 1,
        }
        titles = [each.findtext(f"{space}title") for each in groups.values()]
        assert len(set(titles)) == len(groups) and all(titles)
        assert not [each for each in root if each.tag not in (f"{space}g", f"{space}title")]  # nothing lies loose
        strokes = {name: {line.get("stroke") for line in each if line.get("stroke")} for name, each in groups.items()}
        assert (
            strokes["top"] == {"#000000"} and strokes["top-centres"] == {"#cc0000"} and strokes["fold"] == {"#0033cc"}
        )

    def test_dxf_has_a_layer_per_face_with_true_circles(self, moth: Design) -> None:
        read = ezdxf.read(io.StringIO(_data(moth, output="cut.DXF").decode()))
        assert read.header["$INSUNITS"] == 4
        assert not read.audit().errors
        space = read.modelspace()
        count = {face: len(space.query(f'CIRCLE[layer=="{face}"]')) for face in ("top", "far", "left", "right", "near")}
        assert count == {"top": 6, "far": 1, "left": 1, "right": 1, "near": 0}
        found = {
            (round(each.dxf.center.x, 3), round(each.dxf.center.y, 3), round(2 * each.dxf.radius, 3))
            for each in space.query("CIRCLE")
        }
        middle = round(TOP[0] / 2, 3)
        assert (14.85, -17.85, 7.5) in found
        assert (round(TOP[0] - 14.85, 3), -17.85, 7.5) in found
        assert (middle, -60.75, 8.0) in found
        assert (middle, round(12.85 - TOP[1], 3), 12.5) in found
        assert (middle, round(SLANT - 12.5 - WRAP, 3), 12.5) in found  # y runs up: the far side lies above

    def test_what_is_cut_holds_together(self, moth: Design) -> None:
        """Along the bends, between the top and its three drilled sides, nothing is cut: only along the near edge."""
        read = ezdxf.read(io.StringIO(_data(moth, output="cut.dxf").decode()))
        lines = {
            name: [(each.dxf.start, each.dxf.end) for each in read.modelspace().query(f'LINE[layer=="{name}"]')]
            for name in ("outline", "edge", "fold")
        }
        assert len(lines["outline"]) == 1
        assert [round(point.y, 3) for point in lines["outline"][0]] == [round(-TOP[1], 3)] * 2
        assert len(lines["edge"]) == 3
        assert len(lines["fold"]) == 6  # where each bend begins and ends

    def test_dxf_slot_is_two_lines_and_two_half_circles(self, ferry: Design) -> None:
        read = ezdxf.read(io.StringIO(_data(ferry, output="cut.dxf", faces="each").decode()))
        (slot,) = read.modelspace().query('LWPOLYLINE[layer=="top"]')
        assert slot.closed
        assert sorted(abs(bulge) for *_, bulge in slot.get_points()) == [0, 0, 1, 1]

    def test_dxf_of_faces_one_by_one_keeps_them_apart(self, ferry: Design) -> None:
        read = ezdxf.read(io.StringIO(_data(ferry, output="cut.dxf", faces="each").decode()))
        outlines = read.modelspace().query('LWPOLYLINE[layer=="outline"]')
        spans = sorted((min(y), max(y)) for y in ([point[1] for point in each.get_points()] for each in outlines))
        assert len(spans) == 4
        assert all(later[0] - earlier[1] > 5.0 for earlier, later in itertools.pairwise(spans))


class TestBadInput:
    @pytest.mark.parametrize(
        ("options", "words"),
        [
            ({"page": "a77"}, "--page: 'a77' is no page"),
            ({"page": "60x60"}, "--page: a page of 60 x 60 mm is out of range"),
            ({"page": "0x0"}, "out of range"),
            ({"page": "99999x200"}, "out of range"),
            ({"output": "template.png"}, "--output: 'template.png' has an unknown ending"),
            ({"output": "template"}, "--output"),
        ],
    )
    def test_one_line(self, moth: Design, options: dict[str, str], words: str) -> None:
        with pytest.raises(InputError) as caught:
            _made(moth, **options)
        assert words in str(caught.value)
        assert "\n" not in str(caught.value)


def test_facts_match_the_layout(moth: Design) -> None:
    facts = _made(moth).facts
    glow = next(hole for hole in facts["holes"] if hole["name"] == "GLOW/bushing")
    assert (glow["face"], glow["v_mm"], glow["size"], glow["drills"]) == ("top", 35.85, "Ø 7.5", "3 > 6 > 7.5")
    assert len(facts["holes"]) == sum(len(part.kind.cutouts) for part in moth.parts)


def test_is_a_command_of_the_package() -> None:
    from mockup.outputs import OUTPUTS

    assert {"template", "jig"} <= set(OUTPUTS.names())
    assert mockup.__version__


def _raster(data: bytes, dpi: int) -> NDArray[np.uint8]:
    document = pypdfium2.PdfDocument(data)
    picture = document[0].render(scale=dpi / 72, grayscale=True).to_numpy()
    document.close()
    return np.asarray(picture).reshape(picture.shape[0], picture.shape[1])


def _middle(places: NDArray[np.int64]) -> float:
    """Return the middle of a line's pixels, of which the nearest to the outside belong to the line."""
    groups = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    widest = max(groups, key=len)
    return float(widest.mean()) + 0.5


def _letters(page: pypdf.PageObject) -> dict[str, tuple[float, float]]:
    """Return where the register marks' letters stand on a page, in points (y up)."""
    found: dict[str, tuple[float, float]] = {}

    def visit(text: str, matrix: list[float], text_matrix: list[float], *_rest: object) -> None:
        word = text.strip()
        if re.fullmatch(r"[A-Z]", word):
            x, y = text_matrix[4], text_matrix[5]
            found[word] = (
                matrix[0] * x + matrix[2] * y + matrix[4],
                matrix[1] * x + matrix[3] * y + matrix[5],
            )

    page.extract_text(visitor_text=visit)
    return found
