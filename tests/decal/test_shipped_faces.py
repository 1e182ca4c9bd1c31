"""The faces that come along: their licences, their characters, and what is copied of any font."""

from __future__ import annotations

import struct
import tomllib
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from mockup import files
from mockup.decal import typeface
from mockup.decal.font_names import font_names
from mockup.decal.shipped_faces import (
    SHIPPED,
    ShippedFace,
    adopted,
    adopted_file,
    data,
    face_of,
    licence,
    licence_file,
    shipped,
)

PROJECT = Path(__file__).parent.parent.parent / "pyproject.toml"


def test_five_characters() -> None:
    assert [each.name for each in SHIPPED] == ["Hand", "Plain", "Condensed", "Typewriter", "Poster"]
    assert shipped("Hand").file.endswith("AmaticSC-Bold.ttf")
    assert face_of("fonts/AmaticSC-Bold.ttf") == shipped("Hand")
    assert face_of("mine.ttf") is None


@pytest.mark.parametrize("face", SHIPPED, ids=lambda face: face.name)
class TestEveryFace:
    def test_is_open_and_says_so(self, face: ShippedFace) -> None:
        said = font_names(data(face))
        assert said is not None
        assert said.licence_word == "SIL Open Font License"
        assert said.is_open
        assert not said.is_restricted
        assert "SIL OPEN FONT LICENSE Version 1.1" in licence(face)

    def test_its_names_are_those_that_another_library_reads(self, face: ShippedFace, tmp_path) -> None:
        path = tmp_path / "face.ttf"
        path.write_bytes(data(face))
        names = TTFont(path)["name"]
        said = font_names(data(face))
        assert said is not None
        assert said.family == (names.getDebugName(16) or names.getDebugName(1))
        assert said.style == (names.getDebugName(17) or names.getDebugName(2))
        assert said.copyright == " ".join(names.getDebugName(0).split())

    def test_letters_a_panel(self, face: ShippedFace) -> None:
        font = typeface.read(data(face), face.file)
        assert not typeface.missing(font, "VOLUME Tone 0123456789 +-/.'&é")

    def test_comes_with_its_licence(self, face: ShippedFace) -> None:
        copied = adopted(face)
        assert len(copied) == 2
        font, note = copied
        assert note == licence_file(font)
        assert b"SIL OPEN FONT LICENSE" in copied[note]

    def test_is_in_a_package_that_is_asked_for(self, face: ShippedFace) -> None:
        asked = [each.partition(">")[0] for each in tomllib.loads(PROJECT.read_text())["project"]["dependencies"]]
        assert face.package.replace("_", "-") in asked


def test_a_font_from_elsewhere_is_copied_with_what_it_says() -> None:
    copied = adopted_file("/usr/share/fonts/Somewhere.ttf", data(shipped("Poster")))
    assert set(copied) == {"Somewhere.ttf", "Somewhere.licence.txt"}
    note = copied["Somewhere.licence.txt"].decode()
    assert note.startswith("Somewhere.ttf: Alfa Slab One")
    assert "Copyright" in note
    assert "SIL Open Font License" in note


def test_one_that_may_not_be_embedded_says_so() -> None:
    content = bytearray(data(shipped("Poster")))
    count = struct.unpack_from(">H", content, 4)[0]
    for index in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", content, 12 + 16 * index)
        if tag == b"OS/2":
            struct.pack_into(">H", content, offset + 8, 0x0002)  # ISO/IEC 14496-22 5.1, fsType
    said = font_names(bytes(content))
    assert said is not None
    assert said.is_restricted
    assert b"embedded" in adopted_file("a.ttf", bytes(content))["a.licence.txt"]


@pytest.mark.parametrize("content", [b"", b"no font", data(SHIPPED[0])[:200], b"\x00\x01\x00\x00" + b"\xff" * 60])
def test_what_is_no_font_has_no_names(content: bytes) -> None:
    assert font_names(content) is None


def test_fonts_of_the_system_are_found_where_it_keeps_them(tmp_path, monkeypatch) -> None:
    folder = tmp_path / "fonts" / "open"
    folder.mkdir(parents=True)
    (folder / "b.TTF").write_bytes(b"x")
    (folder / "A.otf").write_bytes(b"x")
    (folder / "read me.txt").write_bytes(b"x")
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_DIRS", str(tmp_path / "none"))
    monkeypatch.setattr("pathlib.Path.home", lambda: tmp_path / "nobody")
    assert [path.name for path in files.system_fonts()] == ["A.otf", "b.TTF"]
