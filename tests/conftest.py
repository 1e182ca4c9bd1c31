"""What every test may use: GL when there is one, golden pictures with a readable difference."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import settings
from numpy.typing import NDArray
from PIL import Image

sys.path.append(str(Path(__file__).parent))  # for command and shell, which are no tests

GOLDEN = Path(__file__).parent / "golden"
FAILURES = Path(__file__).parent / "failures"
ROOT = Path(__file__).parent.parent
settings.register_profile("patient", settings(), deadline=None)  # of whatever profile is the usual one here
settings.load_profile("patient")  # a busy machine takes its time
IS_GL_REQUIRED = os.environ.get("MOCKUP_REQUIRE_GL") == "1"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--renew-golden", action="store_true", help="write the golden pictures again")


def pytest_configure() -> None:
    """Take GL off screen before a test module loads the window's libraries, which would take it on screen.

    What it says of threads and compiled files counts for the processes that are begun from here, workers too. Mesa's
    software GL compiles its shaders for the processor: for small pictures that takes longer than to draw them, so it
    does not optimise them (half the time on an empty store, the same pixels and speed: measured), and keeps them in
    one place, whatever folders a test says are the user's.
    """
    os.environ.setdefault("GALLIVM_PERF", "nopt")
    os.environ.setdefault("MESA_SHADER_CACHE_DIR", os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache"))
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # tests run side by side, where threads that wait only spin
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # each of many processes would compile the program anew
    sys.dont_write_bytecode = False
    from mockup.engines import raster

    if raster.unavailable() is None and sys.platform.startswith("linux") and "PYOPENGL_PLATFORM" not in os.environ:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("PYOPENGL_PLATFORM", "egl")
            importlib.import_module("OpenGL.platform")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the files with slow tests first, so that quick ones are left to share out at the end.

    GL tests are skipped where there is no GL, unless it is required: then they fail, and say so.
    """
    slow = {item.path for item in items if item.get_closest_marker("slow")}
    items.sort(key=lambda item: item.path not in slow)
    marked = [item for item in items if item.get_closest_marker("gl")]
    if not marked or IS_GL_REQUIRED:
        return
    from mockup.engines import raster

    reason = raster.unavailable()
    if reason is not None:
        for item in marked:
            item.add_marker(pytest.mark.skip(reason=reason))


@pytest.fixture(autouse=True)
def checks_fail_loudly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a check that fails inside fail the test, instead of being told as a finding."""
    from mockup.checks.report import run

    monkeypatch.setattr(run, "failure", _raised)


def _raised(name: str, error: Exception) -> None:
    raise error


@pytest.fixture(scope="session")
def examples() -> Path:
    """The folder of example projects."""
    return ROOT / "examples"


@pytest.fixture
def matches_golden(request: pytest.FixtureRequest) -> Callable[..., None]:
    """Compare a picture with the golden one of a name.

    Golden pictures guard against change only; they are no proof of rightness. `mean` and `worst`
    are limits on the difference in code values, over all pixels and for the 99.9th percentile.
    On failure the picture, the golden one and their difference lie side by side in tests/failures.
    """

    def compare(name: str, pixels: NDArray[np.uint8], *, mean: float = 1.0, worst: float = 40.0) -> None:
        path = GOLDEN / f"{name}.png"
        if request.config.getoption("--renew-golden"):
            GOLDEN.mkdir(exist_ok=True)
            Image.fromarray(pixels).save(path, optimize=True)
            return
        assert path.exists(), f"no golden picture {path.name}; run: python -m pytest --renew-golden"
        with Image.open(path) as image:
            wanted = np.asarray(image)
        assert wanted.shape == pixels.shape, f"{name}: {pixels.shape} against {wanted.shape}"
        gap = np.abs(wanted.astype(int) - pixels.astype(int))
        if gap.mean() > mean or np.percentile(gap, 99.9) > worst:
            FAILURES.mkdir(exist_ok=True)
            shown = np.clip(gap * 4, 0, 255).astype(np.uint8)
            if shown.shape[2] == 4:
                shown[..., 3] = 255
            Image.fromarray(np.concatenate([pixels, wanted, shown], axis=1)).save(FAILURES / f"{name}.png")
            pytest.fail(
                f"{name}: differs from its golden picture by {gap.mean():.2f} on average, "
                f"{np.percentile(gap, 99.9):.0f} at worst; look at tests/failures/{name}.png"
            )

    return compare
