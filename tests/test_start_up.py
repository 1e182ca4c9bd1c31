"""What the command line loads before it has anything to do: a list of commands costs no plug-in's library."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
HEAVY = (
    "numpy scipy PIL trimesh manifold3d pyrender OpenGL pyglet imgui_bundle mitsuba pydantic rich av "
    "reportlab ezdxf uharfbuzz resvg_py"
)


@pytest.mark.parametrize(
    "command",
    [
        ["--help"],
        ["--version"],
        ["stil"],
        ["cache", "--help"],
        ["still", "--help"],
        ["turntable", "--help"],
        ["compare", "--help"],
        ["check", "--help"],
    ],
    ids=" ".join,
)
def test_help_loads_no_heavy_library(command: list[str]) -> None:
    code = (
        "import sys, contextlib, io, mockup.cli\n"
        f"sys.argv = ['mockup', *{command!r}]\n"
        "with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):\n"
        "    try:\n"
        "        mockup.cli.main()\n"
        "    except SystemExit:\n"
        "        pass\n"
        f"print(sorted(set('{HEAVY}'.split()) & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
