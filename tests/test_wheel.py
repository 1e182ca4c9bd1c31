"""The built wheel brings the examples along, and the program finds them there."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from mockup import files

ROOT = Path(__file__).parent.parent


@pytest.mark.slow
def test_a_built_wheel_holds_every_example_and_finds_it(tmp_path):
    source = tmp_path / "source"  # a build leaves folders behind
    subprocess.run(["git", "clone", "-q", "--depth", "1", f"file://{ROOT}", str(source)], check=True)
    build = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", str(tmp_path), "."]
    subprocess.run(build, cwd=source, check=True)
    wheel = next(tmp_path.glob("mockup-*.whl"))
    inside = tmp_path / "inside"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(inside)
    code = "from mockup import files; print(*files.example_layouts(), sep='\\n')"
    env = {"PYTHONPATH": str(inside), "PATH": ""}
    told = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, env=env, check=True, capture_output=True)
    found = [Path(line) for line in told.stdout.decode().splitlines()]
    assert all(path.is_relative_to(inside) for path in found)
    own = files.example_layouts()
    assert [path.parent.name for path in found] == [path.parent.name for path in own]
    for mine, theirs in zip(own, found, strict=True):
        assert theirs.read_bytes() == mine.read_bytes()
        beside = {path.name for path in mine.parent.iterdir() if path.suffix in (".svg", ".png", ".ttf", ".toml")}
        assert beside <= {path.name for path in theirs.parent.iterdir()}
    entries = (inside / next(inside.glob("*.dist-info")) / "entry_points.txt").read_text()
    assert "[gui_scripts]" in entries
