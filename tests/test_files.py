"""Reading and writing: one line for every mishap, and nothing half-written."""

from __future__ import annotations

import errno
import os
import socket
from pathlib import Path

import pytest

from mockup import files, whole_file
from mockup.model.errors import InputError, OutputError


def test_text_may_start_with_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "layout.toml"
    path.write_bytes(b"\xef\xbb\xbfname = 'x'")
    assert files.read_text(path) == "name = 'x'"


def test_missing_file_says_how_to_start(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"there is no such file; check the path, or start with: mockup new NAME"):
        files.read_text(tmp_path / "layout.toml")


def test_folder_instead_of_file_is_said_in_one_line(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"is a folder, expected a file; give the file itself$"):
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
        handle.truncate(whole_file.MAX_ASSET_BYTES + 1)
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


# --- what is no regular file, and names that are none -------------------------------------------------


def refused(path: Path) -> str:
    """Return the one line by which every way of reading refuses a file."""
    lines = set()
    for read in (files.read_text, files.read_bytes, lambda each: files.read_asset(each.parent, each.name, "x.toml")):
        with pytest.raises(InputError) as caught:
            read(path)
        (fault,) = caught.value.faults
        lines.add(fault.what)
    assert files.read_state(path) is None
    assert files.read_kept(path) is None
    (line,) = lines
    return line


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names there")
def test_pipes_sockets_and_devices_are_refused_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A pipe nobody writes to would be waited for without end; a device has none."""
    os.mkfifo(tmp_path / "pipe")
    assert refused(tmp_path / "pipe") == "is a pipe, expected a file"
    (tmp_path / "zero").symlink_to("/dev/zero")
    for read in (files.read_text, files.read_bytes):
        with pytest.raises(InputError, match="is a device, expected a file; save what it holds as a file"):
            read(tmp_path / "zero")
    with socket.socket(socket.AF_UNIX) as server:
        monkeypatch.chdir(tmp_path)  # the names of sockets must be short
        server.bind("socket")
        assert refused(tmp_path / "socket") == "is a socket, expected a file"


def test_a_link_that_leads_nowhere_says_so(tmp_path: Path) -> None:
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "gone").symlink_to("nobody")
    for name, words in (("loop", "is a link to itself"), ("gone", "is a link to a file that is not there")):
        with pytest.raises(InputError, match=words):
            files.read_text(tmp_path / name)
    (tmp_path / files.PARTS_FILE).symlink_to(files.PARTS_FILE)
    with pytest.raises(InputError, match="is a link to itself"):
        files.read_beside(tmp_path / "layout.toml", files.PARTS_FILE)
    for name in ("loop", "gone"):
        with pytest.raises(InputError):
            files.read_asset(tmp_path, name, "layout.toml")


def test_names_that_no_file_can_have_are_one_line(tmp_path: Path) -> None:
    for name, words in (("a\0b.png", "NUL"), ("a" * 300 + ".png", "a name of 304 bytes is too long")):
        with pytest.raises(InputError, match=words):
            files.read_asset(tmp_path, name, "layout.toml")
        with pytest.raises(InputError, match=words):
            files.read_text(tmp_path / name)
        assert files.read_state(tmp_path / name) is None


def test_text_has_a_limit_of_its_own(tmp_path: Path) -> None:
    with (tmp_path / "layout.toml").open("wb") as handle:
        handle.truncate(files.MAX_TEXT_BYTES + 1)
    with pytest.raises(InputError, match="the limit is 8 MiB"):
        files.read_text(tmp_path / "layout.toml")


def test_a_project_is_called_after_its_folder_in_characters_that_show(tmp_path: Path) -> None:
    for name, shown in (("tide", "tide"), ("ti\x1b[2Jde", "ti?[2Jde"), ("\N{RIGHT-TO-LEFT OVERRIDE}x", "?x")):
        (tmp_path / name).mkdir()
        assert files.title(tmp_path / name / "layout.toml") == shown
    folder = os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9")
    Path(folder).mkdir()
    assert files.title(Path(folder) / "layout.toml") == "caf?"
