"""A project in one zip and back: nothing left behind, nothing changed, nothing outside the folder."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest
from command import typed
from PIL import Image

from mockup import api, archive, calibrate, films
from mockup.calibration import kept
from mockup.model import printer
from mockup.model.errors import InputError, OutputError

pytestmark = pytest.mark.slow

LAYOUT = """
[box]
size = "112x60x31"
[[decal]]
art = "art.png"
[lettering]
font = "face.ttf"
size = 3
[[label]]
text = "SEA"
[variants.night]
finish = { paint = "wood.png" }
[[variants.night.decal]]
art = "night.png"
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project whose art, font and a variant's own art lie beside the layout, and notes that no picture needs."""
    folder = tmp_path / "sea"
    folder.mkdir()
    (folder / "layout.toml").write_text(LAYOUT)
    for name in ("art.png", "night.png", "wood.png"):
        Image.new("RGB", (80, 80), "white").save(folder / name, dpi=(100, 100))
    font = resources.files("font_manrope") / "files" / "Manrope-Bold.ttf"
    (folder / "face.ttf").write_bytes(font.read_bytes())
    (folder / "notes.txt").write_text("mine")
    return folder


def test_every_example_comes_back_byte_for_byte(examples: Path, tmp_path: Path) -> None:
    for folder in sorted(each.parent for each in examples.glob("*/layout.toml")):
        made = archive.pack(folder / "layout.toml", tmp_path / f"{folder.name}.zip")
        back = archive.unpack(made.facts["pack"], tmp_path / folder.name)
        names = made.facts["files"]
        assert "layout.toml" in names and len(names) >= 2
        for name in names:
            assert (
                back.files[str(tmp_path / folder.name / name)]
                == (tmp_path / folder.name / name).read_bytes()
                == (folder / name).read_bytes()
            )


def test_holds_what_the_layout_and_its_variants_need(project: Path, tmp_path: Path) -> None:
    made = archive.pack(project / "layout.toml", tmp_path / "a.zip")
    assert sorted(made.facts["files"]) == ["art.png", "face.ttf", "layout.toml", "night.png", "notes.txt", "wood.png"]
    again = archive.pack(project / "layout.toml", tmp_path / "b.zip")
    assert list(made.files.values()) == list(again.files.values())
    assert Path(made.facts["pack"]).read_bytes() == made.files[made.facts["pack"]]
    assert zipfile.ZipFile(made.facts["pack"]).testzip() is None


@pytest.mark.parametrize("names", [("art.png",), ("face.ttf",), ("night.png",), ("art.png", "face.ttf", "night.png")])
def test_leaves_nothing_behind(project: Path, tmp_path: Path, names: tuple[str, ...]) -> None:
    for name in names:
        (project / name).unlink()
    with pytest.raises(InputError) as refused:
        archive.pack(project / "layout.toml", tmp_path / "a.zip")
    assert len(refused.value.faults) == len(names)
    assert all(name in str(refused.value) for name in names)
    assert not (tmp_path / "a.zip").exists()


def test_nothing_that_is_there_is_overwritten(project: Path, tmp_path: Path) -> None:
    made = archive.pack(project / "layout.toml", tmp_path / "a.zip")
    target = tmp_path / "there"
    target.mkdir()
    (target / "art.png").write_text("mine")
    with pytest.raises(OutputError, match=r"art\.png: is already there"):
        archive.unpack(made.facts["pack"], target)
    assert [each.name for each in target.iterdir()] == ["art.png"]
    assert (target / "art.png").read_text() == "mine"


@pytest.mark.parametrize(
    "name", ["../out.txt", "a/../../out.txt", "/out.txt", "C:/out.txt", "..\\out.txt", "a//b", "out.", "a\nb", "./a"]
)
def test_refuses_names_that_could_leave_the_folder(tmp_path: Path, name: str) -> None:
    path = tmp_path / "evil.zip"
    path.write_bytes(archive.archive({name: b"x"}, name))
    with pytest.raises(InputError, match="not a file name that is safe on every system"):
        archive.unpack(path, tmp_path / "in" / "deep")
    assert [each.name for each in tmp_path.rglob("*")] == ["evil.zip"]


def test_refuses_to_follow_a_link_out_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (tmp_path / "in").mkdir()
    try:
        (tmp_path / "in" / "sub").symlink_to(tmp_path / "outside")
    except OSError:
        pytest.skip("this system makes no links")
    path = tmp_path / "a.zip"
    path.write_bytes(archive.archive({"sub/x": b"x"}, "sub/x"))
    with pytest.raises(InputError, match="outside"):
        archive.unpack(path, tmp_path / "in")
    assert not list((tmp_path / "outside").iterdir())


def rezipped(raw: bytes, changes: dict[str, bytes | None], mode: int = 0o100644) -> bytes:
    """Return a zip with entries replaced, added or (None) left out."""
    with zipfile.ZipFile(io.BytesIO(raw)) as zipped:
        held: dict[str, bytes | None] = {name: zipped.read(name) for name in zipped.namelist()}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as zipped:
        for name, data in (held | changes).items():
            if data is not None:
                entry = zipfile.ZipInfo(name)
                entry.external_attr = (mode if name in changes else 0o100644) << 16
                zipped.writestr(entry, data)
    return out.getvalue()


def test_says_what_is_not_as_it_was_packed() -> None:
    raw = archive.archive({"layout.toml": b"one", "art.png": b"two"}, "layout.toml")
    assert archive.contents(raw, "a.zip") == {"layout.toml": b"one", "art.png": b"two"}
    cases: list[tuple[dict[str, bytes | None], str]] = [
        ({"art.png": b"twp"}, r"'art\.png' is not what was packed"),
        ({"art.png": None}, r"'art\.png' is missing"),
        ({"more.txt": b""}, r"'more\.txt' is not in the manifest"),
        ({"ART.png": b"two"}, "twice"),
        ({"manifest.json": None}, r"has no manifest\.json"),
        ({"manifest.json": b"{"}, "cannot be read"),
        ({"manifest.json": json.dumps({"format": 2, "sha256": {}}).encode()}, "format 2"),
    ]
    for changes, said in cases:
        with pytest.raises(InputError, match=said):
            archive.contents(rezipped(raw, changes), "a.zip")
    with pytest.raises(InputError, match="not a plain file"):  # a symbolic link, as Unix zips hold one
        archive.contents(rezipped(raw, {"art.png": b"two"}, mode=0o120777), "a.zip")


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("layout.toml", "caf\u00e9.png", "cafe\u0301.png"), "is the same name on many systems"),
        (("layout.toml", "\u03a3.png", "\u03c2.png"), "is the same name on many systems"),
        (("layout.toml", "art", "art/a.png"), "one is a file where the other needs a folder"),
        (("layout.toml", "art/a.png", "ART"), "one is a file where the other needs a folder"),
        (("layout.toml", "nul.png"), "not a file name that is safe on every system"),
        (("layout.toml", "art/COM1"), "not a file name that is safe on every system"),
        (("layout.toml", "Lpt\u00b3.txt"), "not a file name that is safe on every system"),
        (("layout.toml", "x" * 250), "not a file name that is safe on every system"),
        (("art.png",), "holds no layout"),
    ],
)
def test_a_pack_that_some_system_could_not_take_is_refused_whole(
    tmp_path: Path, names: tuple[str, ...], said: str
) -> None:
    """Reserved names: Microsoft's naming rules for files; equal forms: Unicode annex 15."""
    path = tmp_path / "a.zip"
    path.write_bytes(archive.archive(dict.fromkeys(names, b"x"), "layout.toml"))
    with pytest.raises(InputError, match=said) as refused:
        archive.unpack(path, tmp_path / "in")
    assert len(refused.value.faults) == 1
    assert not (tmp_path / "in").exists()


def test_a_size_is_counted_while_it_is_inflated(monkeypatch: pytest.MonkeyPatch) -> None:
    """The directory says of a large entry that it is small; the most that may be held is made small for this test."""
    monkeypatch.setattr(archive.whole_file, "MAX_ASSET_BYTES", 10_000)
    raw = archive.archive({"layout.toml": b"0" * 20_000}, "layout.toml")
    with pytest.raises(InputError, match="holds more than 1000 files and"):
        archive.contents(raw, "a.zip")
    lying = raw.replace((20_000).to_bytes(4, "little"), (9_000).to_bytes(4, "little"))
    assert lying != raw
    with pytest.raises(InputError):
        archive.contents(lying, "a.zip")


def test_what_belongs_to_the_project_comes_along_and_the_rest_is_named(project: Path, tmp_path: Path) -> None:
    for name in ("art.kra", "paper/supplier.pdf", "sea-above.png", "old.zip", "nul.txt", ".secret", "manifest.json"):
        (project / name).parent.mkdir(exist_ok=True)
        (project / name).write_bytes(b"x")
    (project / "way").symlink_to(tmp_path)
    (project / "link.txt").symlink_to("notes.txt")
    (project / "other").mkdir()
    (project / "other" / "layout.toml").write_text("")
    made = archive.pack(project / "layout.toml", tmp_path / "a.zip")
    assert set(made.facts["files"]) == {
        *("art.png", "face.ttf", "layout.toml", "night.png", "wood.png"),
        *("notes.txt", "art.kra", "paper/supplier.pdf"),
    }
    assert made.notes == (
        "came along from the folder: art.kra, notes.txt, paper/supplier.pdf",
        "left out (hidden): .secret",
        "left out (a link or a device): link.txt, way",
        "left out (another file in the pack has this name, or nearly; rename it to pack it): manifest.json",
        "left out (a name that not every system takes; rename it to pack it): nul.txt",
        "left out (made by mockup, and can be made again): old.zip, sea-above.png",
        "left out (a project of its own): other",
    )


def test_a_file_named_for_the_next_one_is_packed_whatever_it_is_called(project: Path, tmp_path: Path) -> None:
    names = (".secret", "sea-above.png")  # neither would come along by itself
    layout = project / "layout.toml"
    layout.write_text(f"{LAYOUT}[making]\nfiles = {json.dumps(names)}\n")
    with pytest.raises(InputError, match=r"\.secret"):
        archive.pack(layout, tmp_path / "a.zip")
    assert not (tmp_path / "a.zip").exists()
    for name in names:
        (project / name).write_bytes(b"x")
    assert {*names} <= {*archive.pack(layout, tmp_path / "a.zip").facts["files"]}


def test_a_broken_list_of_printers_is_no_matter_where_none_is_named(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MOCKUP_SETTINGS", str(tmp_path / "mine"))
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "printers.json").touch()
    made = archive.pack(project / "layout.toml", tmp_path / "a.zip")
    assert "printers.json" not in made.facts["files"]


def test_the_figures_of_a_named_printer_come_along(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MOCKUP_SETTINGS", str(tmp_path / "mine"))
    (tmp_path / "mine").mkdir()
    mine = printer.Printer(name="attic", film=films.films()["white"].measured(0.61, 0.1))
    other = replace(mine, name="office", film=films.films()["white"].measured(0.7, 0.1))
    settings = tmp_path / "mine" / "printers.json"
    settings.write_text(kept.text({"attic": mine, "office": other}))
    text = (project / "layout.toml").read_text()
    finish = '[finish]\npaint = "teal"\nprinter = "attic"\n'
    (project / "layout.toml").write_text(text.replace("[lettering]", finish + "[lettering]"))
    archive.pack(project / "layout.toml", tmp_path / "a.zip")
    archive.unpack(tmp_path / "a.zip", tmp_path / "back")
    settings.unlink()
    assert set(kept.parse((tmp_path / "back" / "printers.json").read_text(), "")) == {"attic"}
    assert kept.parse((tmp_path / "back" / "printers.json").read_text(), "")["attic"] == mine
    assert api.load(tmp_path / "back" / "layout.toml").finish.printer == "attic"
    settings.write_text(kept.text({"attic": replace(mine, date="today")}))
    assert calibrate.printers(tmp_path / "back")["attic"].date == "today", "one's own goes before"


def test_a_damaged_pack_is_refused_or_still_whole() -> None:
    """Every byte in turn is turned over: never another error, never other contents."""
    raw = archive.archive({"layout.toml": b"name = 'sea'\n" * 5}, "layout.toml")
    whole, refused = archive.contents(raw, "a.zip"), 0
    for place in range(len(raw)):
        bad = raw[:place] + bytes([raw[place] ^ 0xFF]) + raw[place + 1 :]
        try:
            assert archive.contents(bad, "a.zip") == whole
        except InputError:
            refused += 1
    assert refused > len(raw) / 2


def test_a_pack_that_is_none_is_one_line(tmp_path: Path, project: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        archive.unpack(tmp_path / "none.zip")
    shutil.copy(project / "art.png", tmp_path / "art.zip")
    with pytest.raises(InputError, match="not a zip file that can be read"):
        archive.unpack(tmp_path / "art.zip")
    with pytest.raises(InputError, match="not the name of a zip file"):
        archive.pack(project / "layout.toml", tmp_path / "a.tar")


@pytest.mark.gl
def test_a_project_goes_to_another_place_and_looks_the_same(project: Path, tmp_path: Path) -> None:
    """As typed: picture it, pack, move the zip alone, remove the original, unpack, picture it again."""
    shot = ["--variant", "night", "--size", "160x120", "--quality", "draft", "--view", "above"]
    done = typed("still", "sea/layout.toml", *shot, "-o", "a.png", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    done = typed("pack", "sea/layout.toml", cwd=tmp_path)
    assert (done.returncode, done.stdout.split()) == (0, ["sea.zip"])
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (tmp_path / "sea.zip").rename(elsewhere / "sea.zip")
    shutil.rmtree(project)
    done = typed("unpack", "sea.zip", "--json", cwd=elsewhere)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["folder"] == "sea"
    there = sorted(each.name for each in (elsewhere / "sea").iterdir())
    assert there == ["art.png", "face.ttf", "layout.toml", "night.png", "notes.txt", "wood.png"]
    assert sorted(Path(each).name for each in told["files"]) == there
    done = typed("still", "sea/layout.toml", *shot, "-o", "b.png", cwd=elsewhere)
    assert done.returncode == 0, done.stderr
    assert (elsewhere / "b.png").read_bytes() == (tmp_path / "a.png").read_bytes()


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ("font gone", "'face.ttf' is not in the layout's folder"),
        ("damaged", "sea.zip: is not a zip file that can be read"),
        ("tampered", "'art.png' is not what was packed (its SHA-256 differs)"),
        ("slipped", "not a file name that is safe on every system"),
        ("taken", "is already there"),
    ],
)
def test_what_is_wrong_is_one_line_status_2_and_leaves_nothing(
    project: Path, tmp_path: Path, case: str, said: str
) -> None:
    """As typed; afterwards the place looks as it did."""
    packed = tmp_path / "sea.zip"
    if case != "font gone":
        archive.pack(project / "layout.toml", packed)
    raw = packed.read_bytes() if packed.exists() else b""
    if case == "font gone":
        (project / "face.ttf").unlink()
    elif case == "damaged":
        packed.write_bytes(raw[: len(raw) // 2])
    elif case == "tampered":
        packed.write_bytes(rezipped(raw, {"art.png": b"another"}))
    elif case == "slipped":
        packed.write_bytes(archive.archive({"../out.txt": b"x"}, "../out.txt"))
    else:
        (tmp_path / "back").mkdir()
        (tmp_path / "back" / "night.png").write_text("mine")
    before = sorted(tmp_path.rglob("*"))
    args = ["pack", "sea/layout.toml"] if case == "font gone" else ["unpack", "sea.zip", "-o", "back"]
    done = typed(*args, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert done.stdout == ""
    assert sorted(tmp_path.rglob("*")) == before
