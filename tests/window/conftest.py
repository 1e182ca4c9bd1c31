"""A desk to work at: settings of its own, an example copied into a folder of its own."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from mockup.files import SETTINGS_FOLDER

sys.path.insert(0, str(Path(__file__).parent))  # the driver of real windows lies beside the tests


@pytest.fixture(autouse=True)
def desk_settings(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own for what is kept between runs."""
    folder = tmp_path_factory.mktemp("settings")
    monkeypatch.setenv(SETTINGS_FOLDER, str(folder))
    return folder


@pytest.fixture
def pond(tmp_path: Path, examples: Path) -> Path:
    """The layout of a small example, copied to where it may be changed."""
    folder = tmp_path / "copper_kettle"
    shutil.copytree(examples / "copper_kettle", folder)
    return folder / "layout.toml"
