"""The pictures that README shows: all there, all as the manifest says, none forgotten."""

import hashlib
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "assets_generated"
MANIFEST = json.loads((FOLDER / "manifest.json").read_text())
LARGEST = 700_000  # bytes of a picture of the window: our choice


def test_every_picture_is_in_the_manifest_and_as_it_says():
    assert {path.name for path in FOLDER.glob("*.png")} == set(MANIFEST)
    for name, digest in MANIFEST.items():
        assert hashlib.sha256((FOLDER / name).read_bytes()).hexdigest() == digest, name


def test_readme_shows_only_pictures_that_are_made():
    shown = re.findall(r"\]\(assets_generated/([^)]+)\)", (ROOT / "README.md").read_text())
    assert {"window.png", "window-variants.png"} <= set(shown) <= set(MANIFEST)


@pytest.mark.parametrize("name", ["window.png", "window-variants.png"])
def test_a_picture_of_the_window_is_whole_and_light_enough(name):
    path = FOLDER / name
    assert path.stat().st_size < LARGEST
    with Image.open(path) as picture:
        assert picture.mode == "RGB"  # no palette
        assert picture.width == 1280
        assert picture.getpixel((picture.width - 3, picture.height - 3)) == (36, 36, 36)  # the foot's grey, #242424


def test_without_a_virtual_screen_there_is_one_clear_line(tmp_path):
    (tmp_path / "python").symlink_to(sys.executable)
    done = subprocess.run(
        [sys.executable, str(FOLDER / "make.py"), "window"],
        env={**os.environ, "PATH": str(tmp_path)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1
    assert "Xvfb" in done.stderr
