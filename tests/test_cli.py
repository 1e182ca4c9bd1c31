"""The installed command as a builder types it: files, exit status, one line per mistake."""

from __future__ import annotations

import io
import json
import os
import shutil
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from command import typed
from PIL import Image

pytestmark = pytest.mark.slow

SMALL = ["--size", "160x120", "--quality", "draft"]


def installed(*args: str, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    """Run the installed command; falls back to the module where the script is not on the path."""
    command = shutil.which("mockup", path=str(Path(sys.executable).parent))
    start = [command] if command else [sys.executable, "-m", "mockup"]
    return subprocess.run(
        [*start, *args],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
        env={**os.environ, **env},
    )


@pytest.fixture(scope="module")
def fresh_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What ``mockup new tidewater`` makes."""
    folder = tmp_path_factory.mktemp("fresh")
    done = installed("new", "tidewater", cwd=folder)
    assert done.returncode == 0, done.stderr
    return folder / "tidewater"


@pytest.fixture
def project(fresh_project: Path, tmp_path: Path) -> Path:
    """A fresh project that may be changed."""
    return Path(shutil.copytree(fresh_project, tmp_path / "tidewater"))


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    """Return the one line of a refusal; exit status 2, nothing on standard output, no traceback."""
    assert done.returncode == 2, done.stdout + done.stderr
    assert done.stdout == ""
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


def test_alone_it_opens_the_window_and_says_where_there_can_be_none(tmp_path: Path) -> None:
    """No display on purpose: Linux is where that happens."""
    if not sys.platform.startswith("linux"):
        pytest.skip("other systems always have a display")
    assert "there is no display here for a window" in one_line(installed(cwd=tmp_path, DISPLAY="", WAYLAND_DISPLAY=""))


def test_new_project_renders_at_once(project: Path) -> None:
    """A GL-less machine takes the path tracer here; either way a picture of the asked size comes out."""
    done = installed("still", "layout.toml", *SMALL, "--view", "above", "-o", "above.png", cwd=project)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "above.png"
    with Image.open(project / "above.png") as image:
        assert image.size == (160, 120)
        assert image.info["Title"] == "tidewater"
        assert image.info["View"] == "above"
        assert image.info["dpi"][0] > 10
        assert len(image.convert("RGB").getcolors(1 << 20) or []) > 500, "a picture, not a flat field"


def test_new_does_not_overwrite(project: Path) -> None:
    before = (project / "layout.toml").read_bytes()
    line = one_line(typed("new", "tidewater", cwd=project.parent))
    assert "is already there" in line
    assert (project / "layout.toml").read_bytes() == before


@pytest.mark.gl
def test_several_views_and_json(project: Path) -> None:
    done = typed("still", "layout.toml", *SMALL, "--view", "near", "--view", "inside", "-o", "p", "--json", cwd=project)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)["pictures"]
    assert [Path(each["file"]).name for each in told] == ["tidewater-near.png", "tidewater-inside.png"]
    assert all(each["engine"] == "raster" for each in told)
    assert all((project / each["file"]).exists() for each in told)


@pytest.mark.gl
@pytest.mark.parametrize("suffix", ["webp", "mp4"])  # each kind of file by itself: tests/encode/test_moving.py
def test_turntable_file_and_frames(project: Path, suffix: str) -> None:
    done = typed(
        "turntable",
        "layout.toml",
        "--frames",
        "4",
        "--size",
        "96x72",
        "--quality",
        "draft",
        "-o",
        f"spin.{suffix}",
        cwd=project,
    )
    assert done.returncode == 0, done.stderr
    assert (project / f"spin.{suffix}").stat().st_size > 1000
    assert sorted(path.name for path in (project / "spin-frames").iterdir()) == [f"{i:03d}.png" for i in range(4)]
    if suffix != "mp4":
        with Image.open(project / f"spin.{suffix}") as image:
            assert image.n_frames == 4


@pytest.mark.gl
def test_variant_changes_the_picture_and_unknown_variant_is_one_line(project: Path) -> None:
    for name, extra in (("day.png", []), ("night.png", ["--variant", "night"])):
        assert typed("still", "layout.toml", *SMALL, "-o", name, *extra, cwd=project).returncode == 0
    assert (project / "day.png").read_bytes() != (project / "night.png").read_bytes()
    assert "night" in one_line(typed("still", "layout.toml", "--variant", "nihgt", cwd=project))


def test_without_gl_a_picture_still_comes_out_and_one_line_says_so(project: Path) -> None:
    """Every GL library is hidden from the process by a finder that refuses to load it."""
    shim = project / "shim"
    shim.mkdir()
    (shim / "sitecustomize.py").write_text(
        "import ctypes, ctypes.util\n"
        "real, find = ctypes.CDLL.__init__, ctypes.util.find_library\n"
        "hidden = ('GL', 'EGL', 'OSMesa', 'GLU', 'GLX', 'OpenGL')\n"
        "def init(self, name=None, *a, **k):\n"
        "    if name and any(f'lib{h}.' in str(name) or str(name) == h for h in hidden):\n"
        "        raise OSError(f'{name}: cannot open shared object file')\n"
        "    real(self, name, *a, **k)\n"
        "ctypes.CDLL.__init__ = init\n"
        "ctypes.util.find_library = lambda name: None if name in hidden else find(name)\n"
    )
    done = typed("still", "layout.toml", *SMALL, "-o", "a.png", "--json", cwd=project, PYTHONPATH=str(shim))
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["pictures"][0]["engine"] == "traced"
    assert len(done.stderr.strip().splitlines()) == 1
    assert "slower" in done.stderr
    with Image.open(project / "a.png") as image:
        assert len(image.convert("RGB").getcolors(1 << 20) or []) > 500


def test_schema_is_json_and_knows_the_parts(tmp_path: Path) -> None:
    done = typed("schema", cwd=tmp_path)
    assert done.returncode == 0
    schema = json.loads(done.stdout)
    assert schema["$schema"].endswith("2020-12/schema")
    assert "pot-16" in done.stdout


def test_parts_lists_every_kind(tmp_path: Path) -> None:
    done = typed("parts", "--json", cwd=tmp_path)
    kinds = json.loads(done.stdout)["kinds of parts"]
    wanted = (
        "pot-9 pot-16 pot-24 rotary-switch toggle toggle-mini slide-switch footswitch footswitch-momentary "
        "jack-open jack-enclosed dc-socket din-5 lamp-3 lamp-5 battery-9v board"
    )
    assert set(wanted.split()) <= set(kinds)
    assert "pot-16" in typed("parts", cwd=tmp_path).stdout


# --- bad input: one line, exit status 2, nothing half-written ---------------------------------


def flat_png(width: int, height: int) -> bytes:
    """Return a valid PNG of any size by hand: header, one compressed run of zero rows, end."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"\0" * min((width + 1) * height, 1 << 20))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def valid_png(size: tuple[int, int] = (600, 600)) -> bytes:
    out = io.BytesIO()
    Image.effect_noise(size, 60).save(out, "PNG", dpi=(300, 300))
    return out.getvalue()


ART = {
    "missing": (None, "art.png"),
    "one pixel": (valid_png((1, 1)), "1 x 1"),
    "truncated": (valid_png()[:3000], "art.png"),
    "huge": (flat_png(40000, 40000), "1600 megapixels"),
    "empty": (b"", "art.png"),
    "no picture": (b"hello", "art.png"),
}


@pytest.mark.parametrize("case", ART)
def test_bad_art_is_one_line(project: Path, case: str) -> None:
    data, words = ART[case]
    (project / "art.png").unlink()
    if data is not None:
        (project / "art.png").write_bytes(data)
    before = sorted(project.iterdir())
    line = one_line(typed("still", "layout.toml", *SMALL, "-o", "out.png", cwd=project))
    assert words in line
    assert sorted(project.iterdir()) == before


EDITS = {
    "syntax": ('units = "mm"', 'units = "mm', "line 8, column"),
    "unknown unit": ("top = 19", 'top = "20 parsec"', "parsec"),
    "negative size": ('size = "112x60x31"', 'size = "112x60x31"\nwall = -2', "wall"),
    "zero size": ('size = "112x60x31"', 'size = "112x60x31"\nheight = 0', "height"),
    "wall thicker than the box": ('size = "112x60x31"', 'size = "112x60x31"\nwall = 40', "wall"),
    "not a number": ("top = 19", "top = nan", "top"),
    "infinity": ("top = 19", "top = inf", "top"),
    "two of one name": ('name = "DRIFT"', 'name = "SWELL"', "SWELL"),
    "unknown key": ('sheen = "gloss" ', 'shine = "gloss" ', "sheen"),
    "unknown kind": ('kind = "lamp-5"', 'kind = "lamp-55"', "lamp-5"),
    "off its face": ("left = 14.5", "left = 300", "SWELL"),
}


@pytest.mark.parametrize("case", EDITS)
def test_bad_layout_is_one_line(project: Path, case: str) -> None:
    old, new, words = EDITS[case]
    path = project / "layout.toml"
    text = path.read_text()
    assert old in text, old
    path.write_text(text.replace(old, new, 1))
    before = sorted(project.iterdir())
    line = one_line(typed("still", "layout.toml", *SMALL, "-o", "out.png", cwd=project))
    assert line.startswith("mockup: layout.toml:")
    assert words in line
    assert sorted(project.iterdir()) == before


def test_hole_larger_than_the_face_is_one_line(project: Path) -> None:
    path = project / "layout.toml"
    own = '\n[[kind]]\nname = "porthole"\nhole = 80\n\n[[part]]\nname = "WINDOW"\nkind = "porthole"\n'
    path.write_text(path.read_text() + own)
    line = one_line(typed("still", "layout.toml", *SMALL, "-o", "out.png", cwd=project))
    assert "WINDOW" in line
    assert "80 mm" in line


def test_layout_that_is_not_there_or_not_text_or_a_folder_without_one(project: Path) -> None:
    (project / "empty").mkdir()
    assert "holds no layout file" in one_line(typed("still", "empty", cwd=project))
    assert "there is no such file" in one_line(typed("still", "nothing.toml", cwd=project))
    (project / "latin.toml").write_bytes("name = 'Caf\xe9'".encode("latin-1"))
    assert "not UTF-8" in one_line(typed("still", "latin.toml", cwd=project))


def test_output_that_cannot_be_written_leaves_nothing(project: Path) -> None:
    (project / "shut").write_text("a file, not a folder")
    before = sorted(project.rglob("*"))
    done = typed("still", "layout.toml", *SMALL, "-o", "shut/out.png", cwd=project)
    assert done.returncode == 2
    assert "cannot be written" in done.stderr.strip().splitlines()[-1]
    assert sorted(project.rglob("*")) == before


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["stil"], "did you mean 'still'?"),
        (["still", "layout.toml", "--size", "1600"], "--size"),
        (["still", "layout.toml", "--size", "99999x10"], "16 to 8192"),
        (["still", "layout.toml", "--view", "abvoe"], "above"),
        (["still", "layout.toml", "--light", "sun"], "bench"),
        (["still", "layout.toml", "--background", "blurple"], "--background"),
        (["still", "layout.toml", "-o", "out.docx"], ".png"),
        (["still", "layout.toml", "--engine", "steam"], "raster"),
        (["turntable", "layout.toml", "--frames", "1"], "2 to 720"),
        (["turntable", "layout.toml", "--frames", "700", "--size", "4000x4000"], "the limit is 500"),
        (["still", "layout.toml", "--seconds", "nan"], "0.1 to 3600"),
        (["turntable", "layout.toml", "-o", "spin.avi"], ".mp4"),
        (["still"], "layout"),
    ],
)
def test_bad_arguments_are_one_line(project: Path, args: list[str], words: str) -> None:
    assert words.casefold() in one_line(typed(*args, cwd=project)).casefold()
