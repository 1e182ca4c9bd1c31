"""mockup calibrate as a builder types it: strip, readings, fit, list, forget; and the printer in a layout."""

from __future__ import annotations

import datetime
import io
import json
import re
from pathlib import Path

import numpy as np
import pypdf
import pytest
from command import typed
from PIL import Image

from mockup import api, calibrate, files
from mockup.calibration import kept
from mockup.calibration.strip import PATCHES
from mockup.colour import rgb
from mockup.decal import ink_over_paint as ink
from mockup.encode.pixels import pixels
from mockup.films import films
from mockup.model.errors import InputError, OutputError
from mockup.model.finish import INTERNAL_REFLECTION
from mockup.model.printer import Printer

pytestmark = pytest.mark.slow

LAYOUT = '[box]\nsize = "112x60x31"\n[finish]\npaint = "#c8a23a"\n'
INKJET = Printer(
    name="inkjet",
    film=films()["white"].measured(0.6, 0.1),
    ink_strength=1.3,
    internal_reflection=0.55,
)
K, STRENGTH = 0.6, 1.2


@pytest.fixture(autouse=True)
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep printers in a folder of the test's own."""
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    return tmp_path / "settings" / files.PRINTERS_FILE


def readings_text() -> str:
    """Return the readings of a strip that a printer of known strength and k has printed on clear film."""
    art = np.array([patch.printed for patch in PATCHES.values()])

    def table(paint: str) -> str:
        seen = ink.predict(art, ink.Ground(paint=rgb.parse(paint), ink_strength=STRENGTH, k=K))
        return "\n".join(f'{name} = "{rgb.to_hex(colour)}"' for name, colour in zip(PATCHES, seen, strict=True))

    return f'[card]\n{table("white")}\n[[scrap]]\npaint = "#c8a23a"\n{table("#c8a23a")}\n'


def photograph(paint: str) -> bytes:
    """Return the strip over a paint as a camera sees it: the page drawn, printed by that printer, in warm light."""
    from mockup.calibration.strip import strip_page

    page = pixels(strip_page("a4"), 150 / 25.4)[: round(125 / 25.4 * 150)]
    linear = rgb.decode(ink.predict(page, ink.Ground(paint=rgb.parse(paint), ink_strength=STRENGTH, k=K)))
    linear[10:110, 10:110] = 1.0  # the white card
    warm = rgb.to_8bit(rgb.encode(linear * [0.7, 0.62, 0.5]))
    out = io.BytesIO()
    Image.fromarray(warm).save(out, "JPEG", quality=95, subsampling=0)
    return out.getvalue()


def test_from_strip_to_list_and_back(tmp_path: Path, settings: Path) -> None:
    done = typed("calibrate", "strip", "-o", "strip.pdf", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "strip.pdf\n")
    assert (tmp_path / "strip.pdf").read_bytes().startswith(b"%PDF-")
    (tmp_path / "readings.toml").write_text(readings_text())
    done = typed("calibrate", "fit", "readings.toml", "--name", "my printer", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert done.stdout.startswith("my printer: clear film, ink strength 1.2")
    assert "mean 0." in done.stdout  # CIEDE2000 left over: only 8-bit rounding
    printer = kept.parse(settings.read_text(), "x")["my printer"]
    assert printer.ink_strength == pytest.approx(STRENGTH, abs=0.02)
    assert printer.internal_reflection == pytest.approx(K, abs=0.03)
    listed = json.loads(typed("calibrate", "list", "--json", cwd=tmp_path).stdout)
    assert [each["name"] for each in listed] == ["my printer"]
    assert typed("calibrate", "list", cwd=tmp_path).stdout.startswith("my printer: clear film")
    assert typed("calibrate", "forget", "my printer", cwd=tmp_path).stdout == "forgot my printer\n"
    assert typed("calibrate", "list", cwd=tmp_path).stdout == ""


def test_photographs_are_read_from_the_command_line(tmp_path: Path) -> None:
    (tmp_path / "card.jpg").write_bytes(photograph("white"))
    (tmp_path / "scrap.jpg").write_bytes(photograph("#c8a23a"))
    per_mm = 150 / 25.4

    def points(strip: int) -> str:
        top = (46.5, 90.5)[strip]  # mm from the top left of the page to the middle of the first patch: 28 across
        last = PATCHES["pale-yellow"]
        places = {"first": (28.0, top), "last": (28.0 + last.x_mm, top + last.y_mm)}
        words = [f"{name}={x * per_mm:.1f},{y * per_mm:.1f}" for name, (x, y) in places.items()]
        return " ".join(["white=60,60", *words])

    found = calibrate.fit(
        name="cam",
        photo=tmp_path / "card.jpg",
        points=points(0),
        photo_paint=tmp_path / "scrap.jpg",
        points_paint=points(1) + f" paint={150 * per_mm:.0f},{60 * per_mm:.0f}",
    )
    assert found.printer.ink_strength == pytest.approx(STRENGTH, abs=0.05)
    assert abs(found.printer.internal_reflection - K) < 4 * found.printer.errors["internal_reflection"] + 0.01
    assert any("photograph" in note for note in found.notes)
    assert calibrate.printers()["cam"] == found.printer


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (
            ["strip", "-o", "strip.doc"],
            "mockup: --output: 'strip.doc' has an unknown ending; end it in .pdf",
        ),
        (["fit", "--name", "x"], "mockup: mockup calibrate fit: nothing to read; expected a readings file, or --photo"),
        (
            ["fit", "none.toml", "--name", "x"],
            "mockup: none.toml: there is no such file; check the path, or start with: mockup ca",
        ),
        (["fit", "bad.toml", "--name", "x"], "mockup: bad.toml: [card] cian: unknown patch; did you mean 'cyan'?"),
        (["fit", "photo.toml", "--name", "x"], "mockup: photo.toml: 'no.jpg' is not in the readings file's folder"),
        (["fit", "bad.toml", "--name", ""], "mockup: bad.toml: [card] cian"),
        (
            ["forget", "x"],
            'mockup: printers: there is no calibrated printer "x"; calibrate one: mockup',
        ),
        (
            ["fit", "bad.toml", "--photo", "a.jpg", "--name", "x"],
            "mockup: give a readings file or photographs, not both",
        ),
        (["strip", "--printer", "x"], 'mockup: printers: there is no calibrated printer "x"; calibrate one: mockup'),
        (["frob"], "mockup: No such command 'frob'"),
    ],
)
def test_mistakes_are_one_line_and_status_2(tmp_path: Path, args: list[str], said: str) -> None:
    (tmp_path / "bad.toml").write_text('[card]\ncian = "red"\n[[scrap]]\npaint = "red"\n')
    (tmp_path / "photo.toml").write_text('[card]\nphoto = "no.jpg"\nwhite = [1, 2]\n[[scrap]]\npaint = "red"\n')
    done = typed("calibrate", *args, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith(said)
    assert len(done.stderr.splitlines()) == 1


def test_broken_settings_are_one_line_and_stay_as_they_are(tmp_path: Path, settings: Path) -> None:
    settings.parent.mkdir()
    settings.write_text('{"printers": {')
    (tmp_path / "layout.toml").write_text(LAYOUT)
    (tmp_path / "readings.toml").write_text(readings_text())
    for args in (
        ["calibrate", "list"],
        ["calibrate", "fit", "readings.toml", "--name", "x"],
        ["still", "layout.toml", "--printer", "x"],
    ):
        done = typed(*args, cwd=tmp_path)
        assert done.returncode == 2
        assert len(done.stderr.splitlines()) == 1
        assert "printers.json: is not valid JSON (line 1); correct it or remove it" in done.stderr
    assert settings.read_text() == '{"printers": {'
    assert api.load(tmp_path / "layout.toml").finish.printer is None  # what needs no printer still works


def test_a_readings_file_is_never_written_over(tmp_path: Path) -> None:
    place = calibrate.readings(tmp_path / "readings.toml")
    place.write_text("filled in")
    with pytest.raises(OutputError, match="is already there"):
        calibrate.readings(place)
    assert place.read_text() == "filled in"


def test_bad_points_are_told() -> None:
    with pytest.raises(InputError, match=r"--points: 'white=4' lacks|--points: 'white=x,2' is not a point"):
        calibrate.fit(name="x", photo=Path("a.jpg"), points="white=x,2", photo_paint=Path("b.jpg"), points_paint="")


def test_two_lengths_from_the_measuring_page_reach_every_page(tmp_path: Path, settings: Path) -> None:
    """Print the page, measure, type two lengths once: template, decal sheet and strip are corrected and say so."""
    done = typed("sheet", "--rule", "-o", "rule.pdf", cwd=tmp_path)
    assert (done.returncode, done.stdout.split()) == (0, ["rule.pdf"])
    assert "mockup calibrate rule --measured 99.6,100.3" in done.stderr
    assert typed("calibrate", "rule", "-o", "same.pdf", cwd=tmp_path).returncode == 0
    assert (tmp_path / "rule.pdf").read_bytes() == (tmp_path / "same.pdf").read_bytes()
    assert typed("calibrate", "rule", "--measured", "99.6,100.3", "--name", "den", cwd=tmp_path).returncode == 0
    assert settings.exists()
    (tmp_path / "layout.toml").write_text(LAYOUT + "[lettering]\n[[border]]\n")
    for args in (
        ["template", "layout.toml", "--printer", "den"],
        ["sheet", "layout.toml", "--printer", "den"],
        ["calibrate", "strip", "--printer", "den"],
    ):
        assert typed(*args, "-o", "page.pdf", cwd=tmp_path).returncode == 0
        for page in pypdf.PdfReader(tmp_path / "page.pdf").pages:
            text = " ".join(page.extract_text().split())
            assert (
                'Corrected for printer "den", which prints 99.6 x 100.3 mm for 100: stretched 1.0040 x 0.9970' in text
            )
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((595.2756, 841.8898))
    sheet = " ".join(pypdf.PdfReader(tmp_path / "rule.pdf").pages[0].extract_text().split())
    assert "Corrected" not in sheet


def test_a_sheet_names_its_day(tmp_path: Path) -> None:
    (tmp_path / "layout.toml").write_text(LAYOUT + "[lettering]\n[[border]]\n")
    before = datetime.date.today().isoformat()
    assert typed("sheet", "layout.toml", "-o", "s.pdf", cwd=tmp_path).returncode == 0
    text = pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
    assert before in text or datetime.date.today().isoformat() in text
    assert typed("sheet", "layout.toml", "--date", "", "-o", "s.pdf", cwd=tmp_path).returncode == 0
    assert not re.search(r"\d{4}-\d\d", pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text())


# --- the printer in a layout ----------------------------------------------------------------------------------


def test_a_layouts_printer_gives_the_finish_its_figures() -> None:
    finish = api.loads(LAYOUT + 'printer = "inkjet"', printers={"inkjet": INKJET}).finish
    assert (finish.printer, finish.ink_strength, finish.internal_reflection) == ("inkjet", 1.3, 0.55)
    plain = api.loads(LAYOUT).finish
    assert (plain.printer, plain.internal_reflection) == (None, INTERNAL_REFLECTION)
    on = ink.ground(finish, INKJET.film)
    assert (on.k, on.ink_strength, on.film) == (0.55, 1.3, INKJET.film)
    # by hand: white art on that film over p = 0.5 is 0.6 + 0.1 * 0.5 / (1 - 0.6 * 0.5) = 0.6714
    seen = ink.overprint((1, 1, 1), np.full(3, 0.5), on.film, on.ink_strength, on.k)
    assert seen == pytest.approx(0.6 + 0.05 / 0.7, abs=1e-12)


def test_a_variant_may_print_on_another_printer() -> None:
    text = LAYOUT + 'ink_strength = 0.9\n[variants.other]\nfinish = { printer = "inkjet" }'
    assert api.loads(text, printers={"inkjet": INKJET}).finish.ink_strength == 0.9
    assert api.loads(text, variant="other", printers={"inkjet": INKJET}).finish.ink_strength == 1.3


@pytest.mark.parametrize(
    ("more", "known", "said"),
    [
        ('printer = "inkjte"', {"inkjet": INKJET}, "no calibrated printer \"inkjte\"; did you mean 'inkjet'?"),
        (
            'printer = "inkjet"',
            {},
            'no calibrated printer "inkjet"; calibrate it first: mockup calibrate strip',
        ),
        ("printer = 3", {}, "expected text, found 3; put it in quotes"),
        (
            'printer = "inkjet"\nink_strength = 1.1',
            {"inkjet": INKJET},
            "the printer says already how strong its",
        ),
    ],
)
def test_a_wrong_printer_is_one_line(more: str, known: dict[str, Printer], said: str) -> None:
    with pytest.raises(InputError) as caught:
        api.loads(LAYOUT + more, printers=known)
    assert str(caught.value).startswith("layout.toml: [finish] ")
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_command_lines_printer_goes_before_the_layouts(tmp_path: Path, settings: Path) -> None:
    settings.parent.mkdir()
    settings.write_text(kept.text({"inkjet": INKJET}))
    (tmp_path / "layout.toml").write_text(LAYOUT + 'printer = "gone"')
    with pytest.raises(InputError, match=r'\[finish\] printer: there is no calibrated printer "gone"'):
        api.load(tmp_path / "layout.toml")
    assert api.load(tmp_path / "layout.toml", printer="inkjet").finish.ink_strength == 1.3
    with pytest.raises(InputError, match=r"did you mean 'inkjet'\?"):
        api.load(tmp_path / "layout.toml", printer="inkjets")
