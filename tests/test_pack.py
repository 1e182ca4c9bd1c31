"""A project in one zip and back: nothing left behind, nothing changed, nothing outside the folder."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from importlib import resources
from pathlib import Path

import pytest
from PIL import Image

from mockup import pack as packing
from mockup.model.errors import InputError, OutputError

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
[[variants.night.decal]]
art = "night.png"
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project whose art, font and a variant's own art lie beside the layout, and a file that is not needed."""
    folder = tmp_path / "sea"
    folder.mkdir()
    (folder / "layout.toml").write_text(LAYOUT)
    for name in ("art.png", "night.png"):
        Image.new("RGB", (80, 80), "white").save(folder / name, dpi=(100, 100))
    font = resources.files("font_manrope") / "files" / "Manrope-Bold.ttf"
    (folder / "face.ttf").write_bytes(font.read_bytes())
    (folder / "notes.txt").write_text("mine")
    return folder


def test_every_example_comes_back_byte_for_byte(examples: Path, tmp_path: Path) -> None:
    for folder in sorted(each.parent for each in examples.glob("*/layout.toml")):
        made = packing.pack(folder / "layout.toml", tmp_path / f"{folder.name}.zip")
        back = packing.unpack(made.path, tmp_path / folder.name)
        assert "layout.toml" in back.names and len(back.names) >= 2
        for name in back.names:
            assert (back.path / name).read_bytes() == (folder / name).read_bytes()


def test_holds_what_the_layout_and_its_variants_need(project: Path, tmp_path: Path) -> None:
    made = packing.pack(project / "layout.toml", tmp_path / "a.zip")
    assert sorted(made.names) == ["art.png", "face.ttf", "layout.toml", "night.png"]
    again = packing.pack(project / "layout.toml", tmp_path / "b.zip")
    assert made.path.read_bytes() == again.path.read_bytes()
    assert zipfile.ZipFile(made.path).testzip() is None


@pytest.mark.parametrize("names", [("art.png",), ("face.ttf",), ("night.png",), ("art.png", "face.ttf", "night.png")])
def test_leaves_nothing_behind(project: Path, tmp_path: Path, names: tuple[str, ...]) -> None:
    for name in names:
        (project / name).unlink()
    with pytest.raises(InputError) as refused:
        packing.pack(project / "layout.toml", tmp_path / "a.zip")
    assert len(refused.value.faults) == len(names)
    assert all(name in str(refused.value) for name in names)
    assert not (tmp_path / "a.zip").exists()


def test_nothing_that_is_there_is_overwritten(project: Path, tmp_path: Path) -> None:
    made = packing.pack(project / "layout.toml", tmp_path / "a.zip")
    target = tmp_path / "there"
    target.mkdir()
    (target / "art.png").write_text("mine")
    with pytest.raises(OutputError, match=r"art\.png: is already there"):
        packing.unpack(made.path, target)
    assert [each.name for each in target.iterdir()] == ["art.png"]
    assert (target / "art.png").read_text() == "mine"


@pytest.mark.parametrize(
    "name", ["../out.txt", "a/../../out.txt", "/out.txt", "C:/out.txt", "..\\out.txt", "a//b", "out.", "a\nb", "./a"]
)
def test_refuses_names_that_could_leave_the_folder(tmp_path: Path, name: str) -> None:
    path = tmp_path / "evil.zip"
    path.write_bytes(packing.archive({name: b"x"}, name))
    with pytest.raises(InputError, match="stays in the folder"):
        packing.unpack(path, tmp_path / "in" / "deep")
    assert [each.name for each in tmp_path.rglob("*")] == ["evil.zip"]


def test_refuses_to_follow_a_link_out_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (tmp_path / "in").mkdir()
    try:
        (tmp_path / "in" / "sub").symlink_to(tmp_path / "outside")
    except OSError:
        pytest.skip("this system makes no links")
    path = tmp_path / "a.zip"
    path.write_bytes(packing.archive({"sub/x": b"x"}, "sub/x"))
    with pytest.raises(InputError, match="outside"):
        packing.unpack(path, tmp_path / "in")
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
    raw = packing.archive({"layout.toml": b"one", "art.png": b"two"}, "layout.toml")
    assert packing.contents(raw, "a.zip") == {"layout.toml": b"one", "art.png": b"two"}
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
            packing.contents(rezipped(raw, changes), "a.zip")
    with pytest.raises(InputError, match="no plain file"):  # a symbolic link, as Unix zips hold one
        packing.contents(rezipped(raw, {"art.png": b"two"}, mode=0o120777), "a.zip")


def test_a_damaged_pack_is_refused_or_still_whole() -> None:
    """Every byte in turn is turned over: never another error, never other contents."""
    raw = packing.archive({"layout.toml": b"name = 'sea'\n" * 5}, "layout.toml")
    whole, refused = packing.contents(raw, "a.zip"), 0
    for place in range(len(raw)):
        bad = raw[:place] + bytes([raw[place] ^ 0xFF]) + raw[place + 1 :]
        try:
            assert packing.contents(bad, "a.zip") == whole
        except InputError:
            refused += 1
    assert refused > len(raw) / 2


def test_a_pack_that_is_none_is_one_line(tmp_path: Path, project: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        packing.unpack(tmp_path / "none.zip")
    shutil.copy(project / "art.png", tmp_path / "art.zip")
    with pytest.raises(InputError, match="no zip file that can be read"):
        packing.unpack(tmp_path / "art.zip")
    with pytest.raises(InputError, match="no zip file's name"):
        packing.pack(project / "layout.toml", tmp_path / "a.tar")
