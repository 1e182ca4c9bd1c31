"""The sheet on paper and as a page for a browser: read back by other programs; no picture is rendered here."""

from __future__ import annotations

import io
import json
import math
import os
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pypdf
import pypdfium2
import pytest
from browser import browser, executable
from pedal_bench import PLAIN, changed, finding, pedal
from PIL import Image as Opened

from mockup.checks.panel.built import Built
from mockup.comparison.differences.designs import differences
from mockup.comparison.differences.figures import figures
from mockup.comparison.differences.parts import inner
from mockup.comparison.entries import Entry
from mockup.comparison.files import described
from mockup.comparison.sheet import pages as sheet
from mockup.comparison.sheet.marks import is_blind, marks
from mockup.comparison.sheet.pages import Compared
from mockup.comparison.sheet.web_page import html_page
from mockup.comparison.sights import SCREEN
from mockup.encode.pdf import pdf
from mockup.encode.pixels import pixels as painted
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.model.sheet import PAPERS, Circle, Image, Page, Text
from mockup.model.sheet import Path as Drawn
from mockup.picture import framing
from mockup.picture.shots import Sight
from mockup.scene.assemble import assemble
from mockup.scene.projection import projected

pytestmark = pytest.mark.slow

MM_PER_POINT = 25.4 / 72.0  # ISO 32000-1 8.3.2.3
PAPER = sheet.style(text_mm=2.7, margin_mm=10.0)
GREYS = {"three-quarter": 90, "above": 160}
MOVED = changed(
    ("left = 16\ntop = 20", "left = 20\ntop = 23"), ('name = "LAMP"\nkind = "lamp-5"', 'name = "EYE"\nkind = "lamp-3"')
)


def shown(designs: list[Design], findings: list[list[Finding]] | None = None, side_px: int = 120) -> Compared:
    """Return pedals beside each other, with plain grey pictures in place of rendered ones."""
    found = findings or [[] for _ in designs]
    views = tuple(GREYS)
    points = framing.extents(designs, views)
    sights = tuple(framing.sight(name, points[name], (side_px, side_px)) for name in views)
    measured = {id(design): figures(Built(design), found[index]) for index, design in enumerate(designs)}
    entries = tuple(
        Entry(
            label=f"number {index + 1}",
            design=design,
            findings=tuple(found[index]),
            figures=measured[id(design)],
            pictures={
                view: Picture(pixels=np.full((side_px, side_px, 3), grey, np.uint8)) for view, grey in GREYS.items()
            },
        )
        for index, design in enumerate(designs)
    )
    first = entries[0]
    changes = tuple(differences(first.design, each.design, first.findings, each.findings) for each in entries)
    return Compared(entries=entries, changes=changes, sights=sights)


@pytest.fixture(scope="module")
def two() -> Compared:
    gained = finding("webs", "warn", "EYE", what="EYE is 1.2 mm from TONE")
    return shown([pedal(), pedal(MOVED)], [[], [gained]])


def words(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def test_paper_holds_pictures_captions_differences_and_figures(two: Compared) -> None:
    laid = sheet.pages(two, PAPERS["a4"], PAPER)
    reader = pypdf.PdfReader(io.BytesIO(pdf(laid)))
    for page in reader.pages:
        sides = sorted(float(side) * MM_PER_POINT for side in (page.mediabox.width, page.mediabox.height))
        assert sides == pytest.approx([210.0, 297.0], abs=0.01)
        fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
        used = [font for font in fonts if font["/BaseFont"] != "/Helvetica"]  # which the writer names and never uses
        assert used
        assert all("/FontFile2" in font["/FontDescriptor"] for font in used)  # ISO 32000-1 9.9: TrueType, inside
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for said in (
        "Tidewater",
        "2 side by side: same camera, light, scale and crop",
        "number 1",
        "number 2",
        "TONE moved 4.0 mm to the right, 3.0 mm nearer the player (5.0 mm in all)",
        "EYE (lamp-3) added on the top",
        "LAMP (lamp-5) left off the top",
        "Warning gained: Made up: EYE is 1.2 mm from TONE",
        "112 × 60 × 31 mm",
    ):
        assert said in text, said
    drawn = pypdfium2.PdfDocument(pdf(laid))[0].render(scale=1.0).to_numpy()[..., 0]
    for grey in GREYS.values():  # two pictures of each view, as large as each other
        assert (np.abs(drawn.astype(int) - grey) <= 2).sum() > 2000


def test_true_views_say_their_scale_on_paper(two: Compared) -> None:
    (laid, *_) = sheet.pages(two, PAPERS["a4"], PAPER)
    said = next(text for text in words(laid) if "side by side" in text)
    scale = float(re.search(r"Above at 1 : ([\d.]+)", said)[1])  # type: ignore[index]
    pictures = [mark for mark in laid.marks if isinstance(mark, Image) and mark.pixels[0, 0, 0] == GREYS["above"]]
    sight = next(each for each in two.sights if each.view == "above")
    assert sight.camera.ortho_mm is not None
    assert scale == pytest.approx(sight.camera.ortho_mm / pictures[0].height_mm, abs=0.01)


def test_a_long_list_goes_on_over_pages_and_nothing_leaves_them() -> None:
    many = [finding("webs", "warn", f"PART {n}", what=f"finding number {n} " + "of many " * 9) for n in range(90)]
    laid = sheet.pages(shown([pedal(), pedal(MOVED)], [[], many]), PAPERS["letter"], PAPER)
    assert len(laid) >= 3
    seen = " ".join(text for page in laid for text in words(page))
    assert all(f"finding number {n} " in seen for n in range(90))
    for number, page in enumerate(laid, 1):
        assert f"Sheet {number} of {len(laid)}" in words(page)
        for mark in page.marks:
            if isinstance(mark, Text):
                assert 0.0 <= mark.y_mm <= page.height_mm - 9.0
            if isinstance(mark, Image):
                assert mark.x_mm >= 10.0 - 1e-6 and mark.x_mm + mark.width_mm <= page.width_mm - 10.0 + 1e-6


def test_twelve_fit_on_paper_and_their_captions_are_letters_from_a_to_l() -> None:
    one = pedal()
    laid = sheet.pages(shown([one] * 12, side_px=20), PAPERS["a4"], PAPER)
    letters = [text for page in laid for text in words(page) if len(text) == 1 and text in "ABCDEFGHIJKL"]
    assert letters == list("ABCDEFGHIJKL")
    assert any("B, number 2; C, number 3" in text and text.startswith("B") for page in laid for text in words(page))


def test_pictures_keep_their_pixels_on_the_sheet_for_the_screen(two: Compared) -> None:
    page = sheet.one_page(two, 2, 120 / 4.0, SCREEN, has_marks=False)
    pixels = painted(page, 4.0)
    assert pixels.shape[:2] == (round(page.height_mm * 4), round(page.width_mm * 4))
    for mark in page.marks:
        if isinstance(mark, Image):
            x, y = round(mark.x_mm * 4), round(mark.y_mm * 4)
            inner = pixels[y + 3 : y + 117, x + 3 : x + 117]
            assert (inner == mark.pixels[0, 0, 0]).all()


def rings(two: Compared, view: str, side: float = 100.0) -> list[Drawn]:
    sight = next(each for each in two.sights if each.view == view)
    found = marks(two.numbered(1), two.entries[1].design, sight, (0.0, 0.0, side, side))
    return [mark for mark in found if isinstance(mark, Drawn) and len(mark.points) > 40]


def test_a_ring_lies_where_the_camera_sees_the_part(two: Compared) -> None:
    sight = next(each for each in two.sights if each.view == "above")
    per_mm = 100.0 / sight.camera.ortho_mm  # type: ignore[operator]  # straight down, true to size
    middles = [np.mean(ring.points, axis=0) for ring in rings(two, "above")]
    # The top face is 60 - 2 * 29.2 tan 1 degree = 58.98 mm wide; the camera looks at the middle of all that shows.
    aim = np.array([sight.camera.target[0], -sight.camera.target[1]])
    for u, v in ((16.0, 20.0), (20.0, 23.0)):  # where TONE was and is
        wanted = 50.0 + (np.array([u - 58.981 / 2, v - 110.981 / 2]) - aim) * per_mm
        assert min(np.linalg.norm(middle - wanted) for middle in middles) < 0.02


def test_marks_are_told_by_number_and_shape_not_by_colour_alone(two: Compared) -> None:
    sight = next(each for each in two.sights if each.view == "above")
    found = list(marks(two.numbered(1), two.entries[1].design, sight, (0.0, 0.0, 100.0, 100.0)))
    numbers = sorted(mark.text for mark in found if isinstance(mark, Text))
    assert numbers == sorted(str(item.number) for item in two.numbered(1) if not item.is_finding)
    assert len([mark for mark in found if isinstance(mark, Circle)]) == len(numbers)
    dashed = [ring for ring in rings(two, "above") if ring.dash_mm]
    assert len(dashed) == 2  # where TONE was, and LAMP
    for mark in found:
        if isinstance(mark, Circle):
            assert mark.x_mm - mark.radius_mm >= 0.0 and mark.x_mm + mark.radius_mm <= 100.0


def test_faces_turned_away_get_no_marks_and_the_caption_says_so(two: Compared) -> None:
    sight = next(each for each in two.sights if each.view == "above")
    plain, side = pedal(), pedal(changed(("bottom = 14", "bottom = 12")))
    seen = shown([plain, side])
    lines = seen.numbered(1)
    assert list(marks(lines, side, sight, (0.0, 0.0, 100.0, 100.0))) == []
    assert is_blind(lines, side, sight)
    assert not is_blind(lines, side, looking("right", plain, side))
    assert not is_blind((), plain, sight)  # nothing differs: there is nothing to say
    (page,) = sheet.pages(replace(seen, sights=(sight,)), PAPERS["a4"], PAPER)[:1]
    assert "1 part moved; nothing to mark in above" in words(page)
    assert "what the others are compared with" in words(page)
    html = html_page(replace(seen, sights=(sight,)), presets()["bench"], has_marks=True).decode()
    assert html.count("<figcaption>B, number 2: 1 part moved; nothing to mark in this view</figcaption>") == 1


def looking(view: str, *designs: Design) -> Sight:
    """Return the picture of designs in a view."""
    return framing.sight(view, framing.extents(designs, [view])[view], (200, 200))


def seen_of(design: Design, sight: Sight, part: str, group: str) -> np.ndarray:
    """Return where a picture of 100 by 100 mm shows a part's corners, from the scene that is rendered."""
    scene = assemble(design, presets()["bench"], is_flipped=True)
    points = [body.mesh.vertices for body in scene.bodies if body.part == part and body.group == group]
    return projected(sight.camera, (200, 200), np.concatenate(points)) / 2


def test_with_the_lid_off_a_line_goes_round_each_body_that_moved(two: Compared) -> None:
    """The rendered body lies within the line, which follows it: a few hundredths of the picture away at most."""
    new = two.entries[1].design
    sight = looking("inside", *(entry.design for entry in two.entries))
    found = [mark for mark in marks(two.numbered(1), new, sight, (0, 0, 100, 100)) if isinstance(mark, Drawn)]
    solid = [np.array(mark.points) for mark in found if len(mark.points) > 8 and mark.dash_mm is None]
    for part in ("TONE", "EYE"):
        body = seen_of(new, sight, part, "inside")
        (low, high), best = (body.min(axis=0), body.max(axis=0)), math.inf
        for line in solid:
            inside = (line.min(axis=0) <= low).all() and (line.max(axis=0) >= high).all()
            if inside:
                best = min(
                    best, float(max(np.abs(line.min(axis=0) - low).max(), np.abs(line.max(axis=0) - high).max()))
                )
        assert best < 6.0, part
    dashed = [mark for mark in found if mark.dash_mm]
    assert len(dashed) == 2  # where TONE was, and LAMP


def test_turned_over_a_side_is_pointed_at_where_it_is_seen() -> None:
    text = changed(('face = "right"\nbottom', 'face = "left"\nleft = 40\nbottom'))
    old, new = pedal(text), pedal(text.replace("left = 40", "left = 60"))
    sight, lines = looking("underside", old, new), shown([old, new]).numbered(1)
    found = [mark for mark in marks(lines, new, sight, (0, 0, 100, 100)) if isinstance(mark, Drawn)]
    (ring,) = {
        mark.points for mark in found if len(mark.points) == 48 and not mark.dash_mm and mark.stroke != (1, 1, 1)
    }
    nut = seen_of(new, sight, "IN", "hardware")
    # The ring lies on the wall, the nut stands out from it: their middles are a few millimetres apart.
    assert np.linalg.norm(np.mean(ring, axis=0) - (nut.min(axis=0) + nut.max(axis=0)) / 2) < 4.0
    assert is_blind(lines, new, looking("above", old, new))


def test_what_sits_in_the_box_is_pointed_at_with_the_lid_off_alone() -> None:
    cell = '\n[[part]]\nname = "CELL"\nkind = "battery-9v"\ntop = 80\n'
    old, new = pedal(PLAIN + cell), pedal(PLAIN + cell.replace("80", "84"))
    (change,) = differences(old, new)
    assert change.old is None and change.new is None
    assert change.new_inner is not None and change.old_inner is not None
    assert change.new_inner.v_mm - change.old_inner.v_mm == pytest.approx(4.0)
    lines = shown([old, new]).numbered(1)
    assert is_blind(lines, new, looking("above", old, new))
    assert not is_blind(lines, new, looking("inside", old, new))


def test_the_rectangle_round_a_body_turns_with_its_part() -> None:
    """A board of 50 by 40 mm, turned by a right angle, reaches 20 mm to either side and 25 mm up and down."""
    board = '\n[[part]]\nname = "BOARD"\nkind = "board"\ntop = 60\n'
    for turn, wide, tall in ((0, 25.0, 20.0), (90, 20.0, 25.0)):
        body = inner(pedal(f"{PLAIN}{board}rotation = {turn}\n").parts[-1])
        assert body is not None
        corners = np.array(body.corners)
        assert corners.max(axis=0) == pytest.approx([wide, tall]) and corners.min(axis=0) == pytest.approx(
            [-wide, -tall]
        )


def test_everything_is_there_for_programs(two: Compared) -> None:
    told = json.loads(json.dumps(described(two)))
    assert [each["letter"] for each in told["pedals"]] == ["A", "B"]
    first, second = told["pedals"]
    assert first["differences"] == []
    moved = next(item for item in second["differences"] if item["text"].startswith("TONE moved"))
    (change,) = moved["changes"]
    assert (change["topic"], change["how"]) == ("part", "moved")
    assert change["distance_mm"] == pytest.approx(5.0)
    assert second["figures"]["warnings"] == 1
    assert second["findings"][0]["check"] == "webs"
    assert set(first["figures"]) >= {"inked_mm2", "worst_contrast", "most_hidden", "labels", "holes", "drillings"}


class Names(HTMLParser):
    """What a page loads from elsewhere, its pictures' texts and its headings."""

    def __init__(self) -> None:
        super().__init__()
        self.loads: list[str] = []
        self.alts: list[str] = []
        self.stages: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        own = dict(attrs)
        self.loads += [value for key in ("src", "href") if (value := own.get(key)) and not value.startswith("data:")]
        if tag == "img":
            self.alts.append(own.get("alt") or "")
        if own.get("class") == "stage":
            self.stages.append(own.get("data-label") or "")


@pytest.fixture(scope="module")
def page_file(two: Compared, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "two.html"
    path.write_bytes(html_page(two, presets()["bench"], has_marks=True))
    return path


def test_the_page_loads_nothing_and_says_what_each_picture_shows(page_file: Path) -> None:
    text = page_file.read_text("utf-8")
    names = Names()
    names.feed(text)
    assert names.loads == []
    assert len(names.alts) == 4 and all("Tidewater" in alt for alt in names.alts)
    assert names.stages == ["3D model of A, number 1, to turn", "3D model of B, number 2, to turn"]
    assert "<title>Tidewater: side by side</title>" in text
    assert "<b><span>" in text  # what is other than the first is bold


@pytest.mark.gl
@pytest.mark.slow
def test_turning_one_turns_all_at_one_scale(page_file: Path, tmp_path: Path) -> None:
    if executable() is None and os.environ.get("MOCKUP_REQUIRE_GL") != "1":
        pytest.skip("there is no browser; install: chromium")
    with browser(tmp_path / "profile") as window:
        window.open(page_file, 700, 600, is_phone=False)
        window.until("document.getElementById('lineup').dataset.state !== 'loading'")
        assert window.run("document.getElementById('lineup').dataset.state") == "ready"
        assert window.run("document.documentElement.scrollWidth") <= 700
        window.run(
            "window.seen = () => Array.from(document.querySelectorAll('#lineup canvas')).map((c) => c.toDataURL())"
        )
        before = window.run("seen()")
        assert len(before) == 2 and len(set(before)) == 2
        window.run(
            "(() => { const c = document.querySelectorAll('#lineup canvas')[1]; c.setPointerCapture = () => {};"
            " for (const [type, x] of [['pointerdown', 50], ['pointermove', 150], ['pointerup', 150]])"
            " c.dispatchEvent(new PointerEvent(type, { pointerId: 1, clientX: x, clientY: 50 })); })()"
        )
        window.until(f"seen()[0] !== {json.dumps(before[0])}")
        after = window.run("seen()")
        assert after[0] != before[0] and after[1] != before[1]
        # Hardware goes from both, and from both it comes back: the columns are scenes of one file.
        full = window.run("Number(document.getElementById('lineup').dataset.triangles)")
        window.run("document.querySelector('[data-group=hardware]').click()")
        window.until(f"Number(document.getElementById('lineup').dataset.triangles) < 0.5 * {full}")
        assert all(one != other for one, other in zip(window.run("seen()"), after, strict=True))
        window.run("document.querySelector('[data-group=hardware]').click()")
        window.until(f"Number(document.getElementById('lineup').dataset.triangles) === {full}")
        shots = [np.asarray(Opened.open(io.BytesIO(_data(each))).convert("RGB")).astype(int) for each in after]
        assert shots[0].shape == shots[1].shape
        # The same pedal but for a knob and a lamp, through one camera: most of the picture is the same.
        assert (np.abs(shots[0] - shots[1]).max(axis=2) <= 8).mean() > 0.7


def _data(url: str) -> bytes:
    import base64

    return base64.b64decode(url.partition(",")[2])
