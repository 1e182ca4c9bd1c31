"""mockup calibrate as a builder types it: strip, readings, fit, list, forget; and the printer in a layout."""

from __future__ import annotations

import datetime
import io
import json
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdf
import pytest
from command import typed
from PIL import Image

from mockup import api, calibrate, files
from mockup.calibration import kept
from mockup.calibration.strip import field_mm, marks_mm, patches, strip_marks
from mockup.cli import cli
from mockup.colour import rgb
from mockup.colour.difference import ciede2000
from mockup.decal import ink_over_paint as ink
from mockup.decal.bands import to_lab
from mockup.encode.pixels import pixels
from mockup.films import films
from mockup.model.errors import InputError, OutputError
from mockup.model.finish import InkProfile
from mockup.model.printer import Printer
from mockup.model.sheet import Page, Rectangle

pytestmark = pytest.mark.slow

LAYOUT = '[box]\nsize = "112x60x31"\n[finish]\npaint = "#c8a23a"\n'
INKJET = Printer(name="inkjet", film=films()["white"].measured(0.6, 0.1))
STRENGTH = 1.4


@pytest.fixture(autouse=True)
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep printers in a folder of the test's own."""
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    return tmp_path / "settings" / files.PRINTERS_FILE


def readings_text() -> str:
    """Return the readings of a strip that a printer of strong ink has printed on clear film over ochre."""
    art = np.array([patch.printed for patch in patches().values()])
    seen = ink.predict(art, ink.Ground(paint=rgb.parse("#c8a23a"), ink_strength=STRENGTH))
    return "".join(f'{name} = "{rgb.to_hex(colour)}"\n' for name, colour in zip(patches(), seen, strict=True))


def photograph() -> bytes:
    """Return the strip over ochre as a scanner sees it: its marks drawn, printed by that printer, in warm light."""
    width, height = field_mm(22)
    marks = [mark for mark in strip_marks(22.0, 20.0, 22) if not (isinstance(mark, Rectangle) and mark.stroke)]
    page = pixels(Page(width_mm=width + 44, height_mm=height + 40, marks=tuple(marks)), 12)
    linear = rgb.decode(ink.predict(page, ink.Ground(paint=rgb.parse("#c8a23a"), ink_strength=STRENGTH)))
    linear[72:192, 216 : 216 + 588] = 1.0  # the white card, 6 to 16 mm down
    out = io.BytesIO()
    Image.fromarray(rgb.to_8bit(rgb.encode(linear * [0.8, 0.7, 0.6]))).save(out, "PNG")
    return out.getvalue()


def test_from_strip_to_list_and_back(tmp_path: Path, settings: Path) -> None:
    done = typed("calibrate", "strip", "-o", "strip.pdf", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "strip.pdf\n")
    assert (tmp_path / "strip.pdf").read_bytes().startswith(b"%PDF-")
    (tmp_path / "readings.toml").write_text(readings_text())
    words = ("--date", "2026-11-28", "--settings", "best, matte")
    done = typed("calibrate", "fit", "readings.toml", "--name", "my printer", *words, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("my printer: clear film, haze 0.0%, profile of 21 patches on #c8a23a: expect ")
    assert "2026-11-28; best, matte" in done.stdout
    printer = kept.parse(settings.read_text(), "x")["my printer"]
    assert printer.film.profile == printer.strip is not None
    listed = json.loads(typed("calibrate", "list", "--json", cwd=tmp_path).stdout)
    assert [(each["name"], each["has_profile"], each["date"]) for each in listed] == [
        ("my printer", True, "2026-11-28")
    ]
    assert typed("calibrate", "forget", "my printer", cwd=tmp_path).stdout == "forgot my printer\n"
    assert typed("calibrate", "list", cwd=tmp_path).stdout == ""


def test_a_picture_reads_as_typed_readings_do(tmp_path: Path) -> None:
    (tmp_path / "readings.toml").write_text(readings_text())
    (tmp_path / "strip.png").write_bytes(photograph())
    by_hand_read = calibrate.fit(tmp_path / "readings.toml", name="typed").printer
    seen = calibrate.fit(name="seen", photo=tmp_path / "strip.png")
    assert any("contrast" in note for note in seen.notes)
    assert by_hand_read.strip is not None
    assert seen.printer.strip is not None
    apart = ciede2000(np.array(by_hand_read.strip.read), np.array(seen.printer.strip.read))
    assert apart.mean() < 0.5
    assert apart.max() < 1.5
    corners = " ".join(f"{(x + 22) * 12:.1f},{(y + 20) * 12:.1f}" for x, y in marks_mm(22))
    by_hand = calibrate.fit(name="seen", photo=tmp_path / "strip.png", corners=corners).printer
    assert by_hand.strip is not None
    assert ciede2000(np.array(by_hand.strip.read), np.array(seen.printer.strip.read)).max() < 0.5
    assert calibrate.printers()["seen"] == by_hand


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
        (["fit", "bad.toml", "--name", "x"], "mockup: bad.toml: b9: unknown key; "),
        (["fit", "--photo", "no.jpg", "--name", "x"], "mockup: --photo: 'no.jpg' is not in the other files's folder"),
        (["fit", "bad.toml", "--name", ""], "mockup: --name: expected 1 to 80 characters"),
        (["strip", "--patches", "24"], "mockup: --patches: 24 is not a size of the strip; give 22 or 30"),
        (
            ["forget", "x"],
            'mockup: printers: there is no calibrated printer "x"; calibrate one: mockup',
        ),
        (
            ["fit", "bad.toml", "--photo", "a.jpg", "--name", "x"],
            "mockup: bad.toml: goes with no photograph; leave one of them out",
        ),
        (["strip", "--printer", "x"], 'mockup: printers: there is no calibrated printer "x"; calibrate one: mockup'),
        (["frob"], "mockup: No such command 'frob'"),
    ],
)
def test_mistakes_are_one_line_and_status_2(tmp_path: Path, args: list[str], said: str) -> None:
    (tmp_path / "bad.toml").write_text('b9 = "red"\n')
    done = typed("calibrate", *args, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith(said)
    assert len(done.stderr.splitlines()) == 1


def test_a_paint_is_read_off_a_photograph_and_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In this process: a colour in warm light beside a card of twice the light, and the layout's one line changed."""
    linear = np.full((200, 400, 3), 0.2)
    linear[:, :150], linear[:, 200:] = 1.0, rgb.decode(rgb.parse("#2f7f86"))
    Image.fromarray(rgb.to_8bit(rgb.encode(linear * [0.8, 0.7, 0.5]))).save(tmp_path / "box.png")
    (tmp_path / "layout.toml").write_text(LAYOUT + "# mine\n[variants.night]\n")
    args = [str(tmp_path / "box.png"), "--card", "70,100", "--paint", "260,100", "--paint", "340,60"]

    def told(*more: str) -> str:
        cli.main(["calibrate", "paint", *args, *more], prog_name="mockup", standalone_mode=False)
        return capsys.readouterr().out

    code = re.match(r"(#\w{6}) \(\w+\), seen to differ by 0\.\d CIEDE2000 at most", told())
    assert code is not None
    assert ciede2000(to_lab(rgb.parse(code[1])), to_lab(rgb.parse("#2f7f86"))) < 1.0
    assert json.loads(told("--json"))["card"] == pytest.approx(0.5, abs=0.01)
    told("--write", str(tmp_path))
    assert (tmp_path / "layout.toml").read_text() == LAYOUT.replace("#c8a23a", code[1]) + "# mine\n[variants.night]\n"
    told("--write", str(tmp_path / "layout.toml"), "--variant", "night")
    assert api.load(tmp_path, "night").finish.paint == rgb.parse(code[1])
    before = (tmp_path / "layout.toml").read_bytes()
    with pytest.raises(InputError, match='has no variant "nihgt"'):
        told("--write", str(tmp_path), "--variant", "nihgt")
    for words, said in (
        (["--paint", "9"], "--paint: '9' is no place in pixels; write X,Y"),
        (["--card", "9000,1"], "box.png: the white card at 9000, 1 lies outside the photograph"),
        (["--variant", "night"], "--variant: goes with --write; add"),
    ):
        with pytest.raises(InputError, match=re.escape(said)):
            told(*words)
    with pytest.raises(InputError, match="--card: is missing; say where"):
        calibrate.paint(tmp_path / "box.png", ["260,100"], [])
    assert (tmp_path / "layout.toml").read_bytes() == before


def test_a_photograph_is_made_the_paint_its_card_white(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In this process: two tones in warm light beside a card, and the corners of the face."""
    tones = [rgb.parse("#2f7f86"), rgb.parse("#e0c890")]
    linear = np.full((200, 400, 3), 1.0)
    linear[:, 200:300], linear[:, 300:] = rgb.decode(tones)
    Image.fromarray(rgb.to_8bit(rgb.encode(linear * [0.8, 0.7, 0.5]))).save(tmp_path / "box.png")
    (tmp_path / "layout.toml").write_text(LAYOUT)

    def told(*more: str) -> str:
        args = [str(tmp_path / "box.png"), "--card", "70,100", *more]
        cli.main(["calibrate", "paint", *args], prog_name="mockup", standalone_mode=False)
        return capsys.readouterr().out

    written, corners = str(tmp_path / "tones.png"), "202,2 398,2 398,198 202,198"
    for words, said in (
        (["--picture", written, "--corners", "1,2"], "--corners: '1,2' is not four points"),
        (["--picture", written, "--paint", "260,100"], "--paint: goes with no --picture"),
        (["--picture", str(tmp_path / "x" / "tones.png"), "--write", str(tmp_path)], "lies in another folder"),
        (["--picture", str(tmp_path / "tones.gif")], "--picture: 'tones.gif' has an unknown ending"),
        (["--corners", corners, "--paint", "260,100"], "--corners: goes with --picture"),
    ):
        with pytest.raises(InputError, match=re.escape(said)):
            told(*words)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["box.png", "layout.toml"]
    assert "paint_corners" in told("--picture", written, "--corners", corners, "--write", str(tmp_path))
    with pytest.raises(OutputError, match="is already there"):
        told("--picture", written)
    seen = np.asarray(Image.open(written))
    assert seen[100, 70].tolist() == [255, 255, 255]
    picture = api.load(tmp_path).finish.picture
    assert picture is not None
    for tone, u in zip(tones, (10.0, 45.0), strict=True):
        assert picture.at("top", np.array([[u, 50.0]]))[0] == pytest.approx(255 * np.array(tone), abs=2)


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


def test_bad_corners_are_told(tmp_path: Path) -> None:
    (tmp_path / "strip.png").write_bytes(photograph())
    for corners in ("1,2 3,4", "1,2 3,4 5,6 x,8", "1 2 3 4"):
        with pytest.raises(InputError, match=r"--corners: '.*' is not four points; count pixels from the top left"):
            calibrate.fit(name="x", photo=tmp_path / "strip.png", corners=corners)


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


def test_a_layouts_printer_prints_its_decals() -> None:
    strip = InkProfile(ground=(1.0, 1.0, 1.0), printed=((0.0, 1.0, 1.0),), read=((55.0, -20.0, -45.0),))
    mine = Printer(name="inkjet", film=replace(films()["clear"].measured(0.0, 1.0, 0.01), profile=strip), strip=strip)
    text = LAYOUT + 'printer = "inkjet"\n[lettering]\n[[border]]\n'
    design = api.loads(text, printers={"inkjet": mine})
    assert design.finish.printer == "inkjet"
    assert [decal.film for decal in design.decals] == [mine.film]
    assert ink.ground(design.finish, mine.film).profile == strip
    assert api.loads(LAYOUT).finish.printer is None
    # cyan on white card comes out as it was read, with the haze: 0.01 + 0.9801 R (noise of 1.4 against 22 of kernel)
    seen = ink.ink_on_white(np.array([0.0, 1.0, 1.0]), ink.ground(design.finish, mine.film))
    assert ciede2000(to_lab(seen), np.array(strip.read[0])) < 0.3


def test_a_variant_may_print_on_another_printer() -> None:
    text = LAYOUT + 'ink_strength = 0.9\n[variants.other]\nfinish = { printer = "inkjet" }'
    assert api.loads(text, printers={"inkjet": INKJET}).finish.ink_strength == 0.9
    other = api.loads(text, variant="other", printers={"inkjet": INKJET}).finish
    assert (other.printer, other.ink_strength) == ("inkjet", 1.0)


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
    assert api.load(tmp_path / "layout.toml", printer="inkjet").finish.printer == "inkjet"
    with pytest.raises(InputError, match=r"did you mean 'inkjet'\?"):
        api.load(tmp_path / "layout.toml", printer="inkjets")
