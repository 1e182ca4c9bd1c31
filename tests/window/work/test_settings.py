"""Settings: kept and read back as they were; a broken file counts as none."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup import files
from mockup.window.work import settings
from mockup.window.work.settings import Settings

WANTED = st.builds(
    Settings,
    theme=st.sampled_from(["dark", "light"]),
    scale=st.none() | st.floats(0.8, 2.5),  # the window's limits
    has_less_motion=st.booleans(),
    units=st.sampled_from([None, "mm", "in"]),
    has_walked=st.booleans(),
)


@given(WANTED)
def test_what_is_kept_is_read_back(wanted):
    settings.keep(wanted)
    assert settings.kept() == wanted


@pytest.mark.parametrize("text", [None, "", "{", "[]", "3", '{"scale": "x", "theme": 7, "units": "furlong"}'])
def test_a_broken_file_counts_as_none(text):
    assert settings.read(text) == Settings()


@pytest.mark.parametrize("scale", [0.1, 9, True, float("nan")])
def test_text_is_never_too_small_to_put_right(scale):
    assert settings.read(json.dumps({"scale": scale})).scale is None


def test_they_lie_in_the_settings_folder(desk_settings):
    settings.keep(Settings(theme="light"))
    assert files.window_file() == desk_settings / "window.json"
