"""Saved files are told however an editor saves them; the program's own writes are not."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from mockup import files
from mockup.window.work.file_watcher import FileWatcher

pytestmark = pytest.mark.slow


class Ear:
    """A watcher and what it has told."""

    def __init__(self, *paths: Path, is_polling: bool = False) -> None:
        self._changed = threading.Condition()
        self.told: list[frozenset[Path]] = []
        self.watcher = FileWatcher(self._hear, is_polling=is_polling)
        self.watcher.watch(paths)

    def _hear(self, paths: frozenset[Path]) -> None:
        with self._changed:
            self.told.append(paths)
            self._changed.notify_all()

    def hears(self, path: Path, timeout: float = 10.0) -> bool:
        with self._changed:
            return self._changed.wait_for(lambda: any(path in paths for paths in self.told), timeout)

    def forget(self) -> None:
        time.sleep(0.3)
        with self._changed:
            self.told.clear()


@pytest.fixture
def art(tmp_path: Path) -> Path:
    folder = tmp_path.resolve() / "pedal"
    folder.mkdir()
    path = folder / "art.png"
    path.write_bytes(b"first")
    return path


@pytest.fixture
def ear(art: Path) -> Iterator[Ear]:
    ear = Ear(art, art.with_name("layout.toml"))
    yield ear
    ear.watcher.close()


def in_place(path: Path, data: bytes) -> None:
    path.write_bytes(data)


def renamed_over(path: Path, data: bytes) -> None:
    other = path.with_name(".art.png.tmp")
    other.write_bytes(data)
    other.replace(path)


def with_backup(path: Path, data: bytes) -> None:
    path.replace(path.with_name("art.png~"))
    path.write_bytes(data)


def removed_first(path: Path, data: bytes) -> None:
    path.unlink()
    time.sleep(0.1)
    path.write_bytes(data)


def slowly(path: Path, data: bytes) -> None:
    with path.open("wb") as handle:
        for start in range(0, len(data), 5):
            handle.write(data[start : start + 5])
            handle.flush()
            time.sleep(0.05)


SAVES: list[Callable[[Path, bytes], None]] = [in_place, renamed_over, with_backup, removed_first, slowly]


@pytest.mark.parametrize("save", SAVES, ids=lambda save: save.__name__)
def test_every_way_of_saving_is_heard_and_heard_again(ear: Ear, art: Path, save: Callable[[Path, bytes], None]) -> None:
    for data in (b"the second one", b"the third one, longer"):
        save(art, data)
        assert ear.hears(art)
        assert art.read_bytes() == data
        ear.forget()


@pytest.mark.parametrize("save", SAVES, ids=lambda save: save.__name__)
def test_every_way_of_saving_is_heard_where_the_folder_has_to_be_polled(
    art: Path, save: Callable[[Path, bytes], None]
) -> None:
    ear = Ear(art, is_polling=True)
    try:
        save(art, b"the second one")
        assert ear.hears(art)
    finally:
        ear.watcher.close()


def test_a_folder_that_is_made_anew_is_heard_again(ear: Ear, art: Path) -> None:
    art.parent.rename(art.parent.with_name("old"))
    art.parent.mkdir()
    ear.forget()
    art.write_bytes(b"in a new folder of the same name")
    assert ear.hears(art)


def test_a_save_right_after_the_start_is_heard(art: Path) -> None:
    for turn in range(5):
        ear = Ear(art)
        art.write_bytes(b"x" * (turn + 20))
        assert ear.hears(art)
        ear.watcher.close()


def test_a_file_that_did_not_exist_is_heard_when_it_comes(ear: Ear, art: Path) -> None:
    layout = art.with_name("layout.toml")
    layout.write_text("name = 'x'")
    assert ear.hears(layout)


def test_other_files_are_not_told(ear: Ear, art: Path) -> None:
    art.with_name("notes.txt").write_text("nothing")
    art.with_name("art.png~").write_text("nothing")
    in_place(art, b"second")
    assert ear.hears(art)
    assert {path for paths in ear.told for path in paths} == {art}


def test_what_the_program_writes_itself_is_not_told(ear: Ear, art: Path) -> None:
    ear.watcher.expect(art, b"by ourselves")
    files.write_all({art: b"by ourselves"})
    assert not ear.hears(art, 0.8)
    in_place(art, b"by somebody else")
    assert ear.hears(art)


def test_a_change_back_to_what_the_program_once_wrote_is_told(ear: Ear, art: Path) -> None:
    ear.watcher.expect(art, b"by ourselves")
    files.write_all({art: b"by ourselves"})
    time.sleep(0.3)
    in_place(art, b"by somebody else")
    assert ear.hears(art)
    ear.forget()
    in_place(art, b"by ourselves")
    assert ear.hears(art)


def test_another_folder_can_be_watched_instead(ear: Ear, art: Path, tmp_path: Path) -> None:
    other = tmp_path.resolve() / "other" / "layout.toml"
    other.parent.mkdir()
    ear.watcher.watch([other])
    in_place(art, b"nobody looks any more")
    other.write_text("x")
    assert ear.hears(other)
    assert {path for paths in ear.told for path in paths} == {other}


def test_a_folder_behind_a_link_is_watched(art: Path, tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(art.parent)
    ear = Ear(link / "art.png")
    try:
        in_place(art, b"second")
        assert ear.hears(link / "art.png")
    finally:
        ear.watcher.close()


def test_a_folder_that_is_not_there_is_no_trouble(tmp_path: Path) -> None:
    ear = Ear(tmp_path / "nowhere" / "art.png")
    ear.watcher.close()
    assert ear.told == []


def test_closing_ends_the_thread(art: Path) -> None:
    ear = Ear(art)
    ear.watcher.close()
    assert "saved files" not in {each.name for each in threading.enumerate()}
