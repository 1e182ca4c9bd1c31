"""Colours and sizes are the same however often they were put on, and whatever was worn before."""

import pytest
from imgui_bundle import ImVec2, imgui

from mockup.window.shell import theme


@pytest.fixture
def style():
    imgui.create_context()
    yield imgui.get_style()
    imgui.destroy_context()


def sizes(style):
    """All figures of a style by name."""
    return {
        name: str(getattr(style, name)) for name in dir(style) if isinstance(getattr(style, name), float | ImVec2)
    }  # fmt: skip


@pytest.mark.parametrize("scale", [0.8, 1.0, 2.0])
def test_a_theme_put_on_again_changes_no_size(style, scale):
    """The panel library scales sizes in place: forty changes at 200 % made a window's least size overflow."""
    theme.dress(scale, theme.DARK)
    once = sizes(style)
    for palette in (theme.LIGHT, theme.DARK) * 20:
        theme.dress(scale, palette)
    assert sizes(style) == once
    assert style.window_min_size.x == pytest.approx(32 * scale, abs=1)  # the library's own, in units
    assert style.input_text_cursor_size == pytest.approx(scale, abs=0.5)


def test_larger_text_and_back_is_as_before(style):
    theme.dress(1.0, theme.DARK)
    before = sizes(style)
    for scale in (1.6, 2.5, 0.8, 1.0):
        theme.dress(scale, theme.DARK)
    assert sizes(style) == before
