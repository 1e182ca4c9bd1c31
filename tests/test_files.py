"""Reading and writing: one line for every mishap, and nothing half-written."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from mockup import files
from mockup.model.errors import InputError, OutputError


def test_text_may_start_with_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "layout.toml"
    path.write_bytes(b"\xef\xbb\xbfname = 'x'")
    assert files.read_text(path) == "name = 'x'"


def test_missing_file_says_how_to_start(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"there is no such file; check the path, or start with: mockup new NAME"):
        files.read_text(tmp_path / "layout.toml")


def test_folder_instead_of_file_names_the_file_in_it(tmp_path: Path) -> None:
    (tmp_path / "layout.toml").write_text("")
    with pytest.raises(InputError, match=r"is a folder, expected a file; give the file in it: .*layout\.toml"):
        files.read_text(tmp_path)


def test_text_of_another_encoding_names_byte_and_line(tmp_path: Path) -> None:
    path = tmp_path / "layout.toml"
    path.write_bytes("a = 1\nname = 'Caf\xe9'".encode("latin-1"))
    with pytest.raises(InputError, match=r"layout\.toml: is not UTF-8 text \(byte 0xe9 in line 2\)"):
        files.read_text(path)


def test_missing_asset_suggests_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "art.png").write_bytes(b"x")
    with pytest.raises(InputError, match=r"'arts\.png' is not in the layout's folder; did you mean 'art\.png'\?"):
        files.read_asset(tmp_path, "arts.png", "layout.toml")


def test_asset_outside_the_folder_is_refused(tmp_path: Path) -> None:
    inner = tmp_path / "project"
    inner.mkdir()
    (tmp_path / "secret.png").write_bytes(b"x")
    with pytest.raises(InputError, match="outside the project folder"):
        files.read_asset(inner, "../secret.png", "layout.toml")


def test_too_large_an_asset_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "art.png"
    with path.open("wb") as handle:
        handle.truncate(files.MAX_ASSET_BYTES + 1)
    with pytest.raises(InputError, match=r"the limit is 512 MiB"):
        files.read_asset(tmp_path, "art.png", "layout.toml")


def test_writes_all_and_leaves_no_temporary_file(tmp_path: Path) -> None:
    files.write_all({tmp_path / "a" / "one.txt": b"1", tmp_path / "two.txt": b"2"})
    assert sorted(str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*") if p.is_file()) == ["a/one.txt", "two.txt"]


def test_one_bad_target_leaves_all_others_untouched(tmp_path: Path) -> None:
    (tmp_path / "two").mkdir()
    (tmp_path / "one").write_bytes(b"old")
    with pytest.raises(OutputError, match="is a folder"):
        files.write_all({tmp_path / "one": b"new", tmp_path / "two": b"x"})
    assert (tmp_path / "one").read_bytes() == b"old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["one", "two"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a full disk is played by /dev/full, which only Linux has")
def test_full_disk_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The write goes to a device that is always full; the old file stays."""
    target = tmp_path / "out.png"
    target.write_bytes(b"old")
    real_open = Path.open
    monkeypatch.setattr(Path, "open", lambda self, mode="r", **k: real_open(Path("/dev/full"), "wb", buffering=0))
    with pytest.raises(OutputError, match=r"out\.png: cannot be written \(no space left on device\)$") as refused:
        files.write_all({target: b"new" * 1000})
    monkeypatch.undo()
    assert refused.value.typed == "choose another place with -o"
    assert target.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["out.png"]


def test_read_only_folder_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system's own refusal is played, since a test may run as root, whom no folder refuses."""

    def refuse(self: Path, *_args: object, **_options: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(self))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(OutputError, match=r"out\.png: cannot be written \(permission denied\)"):
        files.write_all({tmp_path / "out.png": b"x"})
    assert list(tmp_path.iterdir()) == []


def test_a_file_where_a_folder_is_needed_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "shut").write_bytes(b"")
    with pytest.raises(OutputError, match="cannot be written"):
        files.write_all({tmp_path / "shut" / "out.png": b"x"})


def test_existing_project_is_not_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "layout.toml"
    path.write_text("")
    with pytest.raises(OutputError, match="is already there"):
        files.require_free([path])
