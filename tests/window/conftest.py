"""A desk to work at: settings of its own, an example copied into a folder of its own."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image

from mockup.files import CACHE_FOLDER, SETTINGS_FOLDER

sys.path.insert(0, str(Path(__file__).parent))  # the driver of real windows lies beside the tests
import driver

SIZE = "940x800"


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of finished work, found by its content: all windows share it, so that art is read once."""
    return tmp_path_factory.mktemp("kept")


@pytest.fixture(autouse=True)
def desk_settings(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch, kept: Path) -> Path:
    """A folder of its own for what is kept between runs."""
    folder = tmp_path_factory.mktemp("settings")
    monkeypatch.setenv(SETTINGS_FOLDER, str(folder))
    monkeypatch.setenv("XDG_DOCUMENTS_DIR", str(folder / "Documents"))  # basedir: xdg-user-dirs
    monkeypatch.setenv(CACHE_FOLDER, str(kept))
    return folder


@pytest.fixture
def pond(tmp_path: Path, examples: Path) -> Path:
    """The layout of a small example, copied to where it may be changed."""
    folder = tmp_path / "copper_kettle"
    shutil.copytree(examples / "copper_kettle", folder)
    return folder / "layout.toml"


@pytest.fixture
def folder_of(tmp_path: Path) -> Callable[[str], Path]:
    """Make the folder of a pedal from the text of its layout."""

    def make(layout: str) -> Path:
        folder = tmp_path / "chalk_river"
        folder.mkdir()
        (folder / "layout.toml").write_text(layout)
        return folder

    return make


@pytest.fixture(scope="session")
def screen() -> Iterator[str]:
    """A virtual screen; without one these tests are left out, except where GL is required."""
    absent = driver.missing()
    if absent is not None:
        if os.environ.get("MOCKUP_REQUIRE_GL") == "1":
            pytest.fail(absent)
        pytest.skip(absent)
    with driver.virtual_screen((960, 820)) as name:
        yield name


@pytest.fixture(scope="session")
def shell(small_moth: Path) -> Iterator[driver.Shell]:
    """What windows are forked from; the story's are started as a builder starts them."""
    shell = driver.Shell(small_moth)
    yield shell
    shell.close()


@pytest.fixture(scope="session")
def small_moth(tmp_path_factory: pytest.TempPathFactory, examples: Path) -> Path:
    """A copy of an example; its art is made small, so that saves are quick."""
    folder = tmp_path_factory.mktemp("example") / "lantern_moth"
    shutil.copytree(examples / "lantern_moth", folder, ignore=shutil.ignore_patterns("__pycache__"))
    with Image.open(folder / "art.png") as art:
        art.resize((art.width // 4, art.height // 4)).save(folder / "art.png", dpi=(150, 150))
    return folder


@pytest.fixture
def project(tmp_path: Path, small_moth: Path) -> Path:
    """A copy of the small example to change."""
    return shutil.copytree(small_moth, tmp_path / "lantern_moth")


@pytest.fixture
def start(screen: str, shell: driver.Shell, tmp_path: Path) -> Iterator[Callable[..., driver.Window]]:
    """Open a window that rests at quick pictures; it is ended with the test, which fails where anything slipped in it.

    To draw a fine one without a graphics card takes ten seconds of the processor, after every change. One that
    `is_rough` does not even draw the quick one again at rest: for tests that look at no picture.
    """
    windows = []

    def begin(*arguments: object, is_rough: bool = False) -> driver.Window:
        words = ("--size", SIZE, "--quality", "draft", *map(str, arguments))
        window = driver.Window(screen, tmp_path, *words, is_rough=is_rough, begin=shell.begin)
        windows.append(window)
        return window

    yield begin
    for window in windows:
        now = window.now
        window.end()
        assert now.get("failures", 0) == 0, window.said()
