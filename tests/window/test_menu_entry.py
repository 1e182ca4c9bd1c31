"""The entry in the system's menu: the very line that it holds starts this program, whatever the folders are called."""

import configparser
import io
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from mockup import __version__
from mockup.model.errors import OutputError
from mockup.window import menu_entry
from mockup.window.menu_entry import make_menu_entry
from mockup.window.shell.icon import icon, icon_file

ROOT = Path(__file__).parent.parent.parent
linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks at what Linux desktops read")


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("SUDO_USER", raising=False)
    return tmp_path


@linux
def test_the_entry_starts_the_program_and_shows_its_own_icon(home, monkeypatch):
    python = home / "a folder with spaces" / "python"
    python.parent.mkdir()
    python.symlink_to(sys.executable)
    monkeypatch.setattr(sys, "executable", str(python))
    made = make_menu_entry(on_desktop=True)
    assert made == (home / ".local/share/applications/mockup.desktop", home / "Desktop/mockup.desktop")
    entry = configparser.ConfigParser(interpolation=None)
    entry.read(made[0])
    told = entry["Desktop Entry"]  # keys: freedesktop.org, Desktop Entry Specification 1.5
    assert (told["Type"], told["Name"], told["Terminal"]) == ("Application", "mockup", "false")
    with Image.open(told["Icon"]) as shown:
        assert shown.size == (256, 256)
    words = shlex.split(told["Exec"])
    assert words[0] == str(python)
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path[1:]])}
    run = subprocess.run([*words, "--version"], env=environment, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == f"mockup {__version__}"


@linux
def test_without_being_asked_nothing_goes_onto_the_desktop(home):
    assert make_menu_entry() == (home / ".local/share/applications/mockup.desktop",)
    assert not (home / "Desktop").exists()


@linux
def test_a_menu_that_takes_nothing_is_said_in_one_line(home):
    (home / ".local").mkdir()
    (home / ".local/share").write_text("a file where a folder belongs")
    with pytest.raises(OutputError, match="no entry could be made") as told:
        make_menu_entry()
    assert "\n" not in str(told.value)


def test_other_systems_get_their_own_kind_of_icon_and_no_terminal(home, monkeypatch):
    import pyshortcuts

    asked = {}

    class Made:
        target, startmenu_dir, desktop_dir = "mockup", "/menu", "/desktop"

    def make_shortcut(script, **options):
        asked.update(options, script=script)
        return Made

    monkeypatch.setattr(pyshortcuts, "make_shortcut", make_shortcut)
    monkeypatch.setattr(menu_entry, "_system", lambda: "win32")
    windowed = home / "Python 3" / "pythonw.exe"
    windowed.parent.mkdir()
    windowed.touch()
    monkeypatch.setattr(menu_entry.sys, "executable", str(windowed.with_name("python.exe")))
    make_menu_entry()
    assert asked["executable"] == str(windowed)  # the library puts the quotes round it there
    assert asked["icon"].endswith("mockup.ico")
    assert asked["terminal"] is False
    monkeypatch.setattr(menu_entry, "_system", lambda: "darwin")
    make_menu_entry()
    assert asked["icon"].endswith("mockup.icns")
    assert asked["macos_app"] is True


def test_the_icon_is_a_pedal_on_nothing_in_every_kind_of_file():
    small = icon(32)
    assert small.getpixel((0, 0))[3] == 0
    assert small.getpixel((16, 12))[3] == 255
    for kind, name in (("png", "PNG"), ("ico", "ICO"), ("icns", "ICNS")):
        with Image.open(io.BytesIO(icon_file(kind))) as read:
            assert read.format == name
