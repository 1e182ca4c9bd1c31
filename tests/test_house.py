"""The house rules that tools can check: format, lint, types, layers, what an import loads."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import mockup

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "mockup"
MODULES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize(
    "tool",
    [
        ["ruff", "format", "--check", "mockup", "tests", "examples"],
        ["ruff", "check", "mockup", "tests", "examples"],
        ["mypy"],
        ["importlinter.cli"],
    ],
    ids=lambda tool: " ".join(tool[:2]),
)
def test_tool_is_content(tool: list[str]) -> None:
    command = [sys.executable, "-m", *tool]
    if tool == ["importlinter.cli"]:
        command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_importing_the_package_loads_no_heavy_library() -> None:
    heavy = "numpy PIL trimesh manifold3d pyrender OpenGL pyglet mitsuba pydantic click av"
    code = f"import sys, mockup; print(sorted(set('{heavy}'.split()) & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_building_a_design_needs_neither_gl_nor_path_tracer() -> None:
    code = (
        "import sys, mockup; d = mockup.load('examples/lantern_moth/layout.toml'); mockup.build(d);"
        "print(sorted({'pyrender', 'OpenGL', 'pyglet', 'mitsuba', 'av'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_public_names_are_all_there() -> None:
    homes = {name for names in mockup._HOMES.values() for name in names}
    assert homes | set(mockup._OUTPUTS) | set(mockup._MODULES) == set(mockup.__all__)
    assert sorted(mockup.__all__) == mockup.__all__
    for name in mockup.__all__:
        assert getattr(mockup, name).__doc__, name
    with pytest.raises(AttributeError):
        _ = mockup.no_such_name  # type: ignore[attr-defined]


def test_there_is_no_second_memory() -> None:
    """What remembers beside `mockup.memo` is here with its reason."""
    allowed = {
        "model/digest.py",  # the digest of each living object: what the memo finds its entries by
        "clearance/figures.py",  # two fields of a frozen figure, read in the innermost loop of a search
        "clearance/placed.py",  # fields of a frozen part in its place, read in the innermost loop of a search
        "picture/open_engine.py",  # the process's one GL context
        "fonts.py",  # how far one letter moves the pen: a large sheet asks a million times
        "plugins.py",  # the names in a folder of the program's own: the disk is asked once
        "layout_source.py",  # a field of a frozen value: the design that a sweep starts from
        "cache.py",  # the store on disk, and the digest of the program's own files
        "reading/network.py",  # the networks as loaded: no plain data
    }
    words = re.compile(r"\b(lru_cache|cached_property|cache|WeakKeyDictionary|WeakValueDictionary|weakref)\b")
    found = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text())):
            names = [each.name for each in node.names] if isinstance(node, ast.Import | ast.ImportFrom) else []
            home = node.module if isinstance(node, ast.ImportFrom) else None
            is_ours = (home or "").startswith("mockup")
            attributes = (
                [node.attr] if isinstance(node, ast.Attribute) and ast.unparse(node.value) == "functools" else []
            )
            if not is_ours and any(words.fullmatch(name) for name in (*names, *attributes)):
                found.add(str(path.relative_to(PACKAGE)))
    assert found == allowed


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_module_keeps_the_house_rules(path: Path) -> None:
    text = path.read_text()
    tree = ast.parse(text)
    name = str(path.relative_to(PACKAGE))
    assert ast.get_docstring(tree), f"{name}: no docstring"
    assert len(text.splitlines()) <= 360, f"{name}: too long to read in one go"
    assert path.stem not in {"utils", "helpers", "common", "misc"}
    calls = {node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    if path.parent.name != "cli":
        assert "print" not in calls, f"{name}: prints"
    if name != "files.py":
        assert "open" not in calls, f"{name}: opens a file"
    for node in _public(tree.body):
        assert ast.get_docstring(node), f"{name}: {node.name} has no docstring"


def _public(body: list[ast.stmt]) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    """Yield public functions, classes and their public methods, overrides of a library's classes left out."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from _public(node.body)


def test_readme_and_ci_run_the_same_test_command() -> None:
    command = re.search(r"^python3 -m venv .*pytest.*$", (ROOT / "README.md").read_text(), re.MULTILINE)
    assert command is not None
    assert command[0] in (ROOT / ".ci" / "run").read_text()
