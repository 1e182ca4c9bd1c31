"""What is saved is what the window shows: every toggle, one picture after the other, and the turntable's too."""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

import mockup
from mockup.encode.png import png
from mockup.engines.gl.context import make_current
from mockup.model.scene import Camera
from mockup.options import silent
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS
from mockup.window.saves import pane_pictures
from mockup.window.saves.pane_pictures import PicturedPanes, StillOptions, TurnOptions
from mockup.window.state import State

pytestmark = [pytest.mark.gl, pytest.mark.slow]

SIZE = (160, 120)
TURN_SIZE = (120, 90)
SAME = 2  # codes: colour and alpha are each rounded in the file, the screen's shader rounds their sum
OTHER = 15  # codes: what a toggle changes somewhere in the picture, at the least
LAYOUT = """
box = {size = "112x60x31"}
finish = {paint = "#c9a24f", sheen = "gloss", clear_coat = true}
decal = [{art = "art.png", width = 40}]

[[part]]
name = "TONE"
kind = "pot-16"
top = 25
knob = {style = "dome", diameter = 16}

[[part]]
name = "PILOT"
kind = "lamp-5"
top = 55
colour = "#ff2a1a"
lit = true
"""
PLAIN = State(quality="draft")
TOGGLES = {
    "decal off": PLAIN.switched("decal", False),
    "hardware off": PLAIN.switched("hardware", False),
    "lid off": PLAIN.seen("inside"),
    "see-through": replace(PLAIN, is_see_through=True, quality="normal"),
    "lamp dark": PLAIN.switched("lamp", False),
    "clear coat off": PLAIN.switched("clear-coat", False),
    "flat colours": replace(PLAIN, look="proof"),
    "stage": PLAIN.lit("stage"),
    "background": replace(PLAIN, background="#2b7a3d"),
    "see-through, decal and hardware off, on nothing": replace(
        PLAIN, is_see_through=True, has_decal=False, has_hardware=False, background="none"
    ),
}
AGAINST = {"lid off": PLAIN.seen("underside"), "see-through": replace(PLAIN, quality="normal")}  # the same without it


@pytest.fixture(scope="module")
def design():
    """A small pedal with decal, lamp and inner parts."""
    art = np.zeros((60, 40, 4), np.uint8)
    art[10:50, 5:35] = (20, 60, 160, 255)
    return mockup.loads(LAYOUT, {"art.png": png(art, dpi=25.4)})


class Shown:
    """The window's own drawing."""

    def __init__(self):
        make_current()
        from mockup.engines.gl import progressive as live
        from mockup.engines.gl.screen import Screen
        from mockup.engines.gl.session import RasterSession

        self.screen, self.live, self.session, self.programs = Screen, live, RasterSession, live.Programs()
        self.seen = {}

    def scene(self, content, design):
        """The scene that a pane holds."""
        return assemble(content.dressed(design), content.lighting, look=content.look, is_flipped=content.is_flipped)

    def points(self, sitting, design):
        """What the camera must hold."""
        bodies = self.scene(sitting.contents[0], design).bodies
        return np.concatenate([body.mesh.vertices for body in bodies if body.group not in sitting.shot.hidden])

    def sitting(self, state, design):
        """What the window hands over when something is saved: its content and its shot, here of the named view."""
        (content,) = state.contents
        there = PicturedPanes(
            contents=(content,),
            shot=state.shot(Camera(eye=(0, 0, 1), target=(0, 0, 0)), SIZE),
            view=state.view,
        )
        camera = frame(VIEWS[state.view], self.points(there, design), SIZE[0] / SIZE[1])
        return replace(there, shot=replace(there.shot, camera=camera))

    def codes(self, content, design, shot):
        """The codes (h, w, 3) that a pane shows of a shot, over middle grey."""
        key = (content, shot)
        if key in self.seen:
            return self.seen[key]
        size = {"width": shot.width_px, "height": shot.height_px}
        with self.session(self.scene(content, design), self.programs) as session:
            pane, screen = self.live.Pane(self.programs), self.screen(**size)
            for _ in pane.refine(session, shot):
                pass
            pane.present(screen.fb, self.live.Rect(x=0, y=0, **size), (0.5, 0.5, 0.5))
            self.seen[key] = screen.read()[..., :3].astype(int)
            pane.delete()
            screen.delete()
        return self.seen[key]


@pytest.fixture(scope="module")
def window():
    """The window's own drawing, off screen."""
    return Shown()


def codes(data):
    """The codes (h, w, 3) of a picture file's first frame, over middle grey as in the window."""
    with Image.open(io.BytesIO(data)) as picture:
        seen = np.asarray(picture.convert("RGBA")).astype(float)
    alpha = seen[..., 3:] / 255
    return np.rint(seen[..., :3] * alpha + 127.5 * (1 - alpha)).astype(int)


@pytest.mark.parametrize("name", TOGGLES)
def test_a_saved_picture_is_the_windows_own_with_each_toggle(design, window, name):
    there = window.sitting(TOGGLES[name], design)
    plain = window.sitting(AGAINST.get(name, PLAIN), design)
    saved = codes(
        pane_pictures.still(there, [design], StillOptions(larger="1", quality=there.shot.quality), ".png", silent)
    )
    assert np.abs(saved - window.codes(there.contents[0], design, there.shot)).max() <= SAME
    without = replace(plain.shot, camera=there.shot.camera)
    assert np.abs(saved - window.codes(plain.contents[0], design, without)).max() > OTHER


@pytest.mark.parametrize("name", ["decal off", "see-through", "flat colours", "background"])
def test_a_saved_turn_begins_as_the_window_shows_it(design, window, monkeypatch, name):
    monkeypatch.setattr(pane_pictures, "TURN_SIZE", TURN_SIZE)
    there, plain = window.sitting(TOGGLES[name], design), window.sitting(PLAIN, design)
    saved = codes(pane_pictures.turn(there, [design], TurnOptions(frames=2), ".apng", silent))
    camera = pane_pictures.turn_camera(there.shot.camera, window.points(there, design))
    kind = {"camera": camera, "width_px": TURN_SIZE[0], "height_px": TURN_SIZE[1], "quality": "draft"}
    assert np.abs(saved - window.codes(there.contents[0], design, replace(there.shot, **kind))).max() <= SAME
    assert np.abs(saved - window.codes(plain.contents[0], design, replace(plain.shot, **kind))).max() > OTHER


def test_a_turn_goes_round_on_the_line_that_the_window_looks_along(design, window, monkeypatch):
    """From the near side without perspective: the far side is as wide, and the quarters show the box's length."""
    monkeypatch.setattr(pane_pictures, "TURN_SIZE", (400, 300))
    flat = window.sitting(replace(PLAIN.seen("near"), look="proof", has_hardware=False), design)
    with Image.open(io.BytesIO(pane_pictures.turn(flat, [design], TurnOptions(frames=4), ".apng", silent))) as turn:
        assert turn.n_frames == 4
        alphas = []
        for index in range(4):
            turn.seek(index)
            alphas.append(np.asarray(turn.convert("RGBA"))[..., 3])
    for alpha in alphas:
        assert max(alpha[0].max(), alpha[-1].max(), alpha[:, 0].max(), alpha[:, -1].max()) == 0 < alpha.max()
    wide = [int((alpha > 127).any(axis=0).sum()) for alpha in alphas]
    assert wide[0] == pytest.approx(wide[2], abs=1)
    assert wide[1] == pytest.approx(wide[3], abs=1)
    assert wide[1] / wide[0] == pytest.approx(112 / 60, rel=0.02)  # the box's outside, length over width


def test_pictures_lie_together_as_in_the_window():
    one, two, three, four = (np.full((4, 6, 3), value, np.uint8) for value in (10, 20, 30, 40))
    pair = pane_pictures.together([one, two], 2)
    assert pair.shape == (4, 14, 3)
    assert pair[0, [0, 5, 8, 13], 0].tolist() == [10, 10, 20, 20]
    assert pair[0, 6, 0] == pair[0, 7, 0] == round(0.17 * 255)
    square = pane_pictures.together([one, two, three, four], 2)
    assert square.shape[:2] == pane_pictures.saved_size((6, 4), 4)[::-1] == (10, 14)
    assert square[[0, 0, 9, 9], [0, 13, 0, 13], 0].tolist() == [10, 20, 30, 40]
    wiped = pane_pictures.together([one, two], 2, wipe=0.5)
    assert wiped.shape == (4, 6, 3)
    assert wiped[0, :, 0].tolist() == [10, 10, 10, 20, 20, 20]
    clear = np.dstack([one, np.zeros((4, 6), np.uint8)])
    mixed = pane_pictures.together([clear, two], 2)
    assert mixed[0, [0, 6, 8], 3].tolist() == [0, 255, 255]
