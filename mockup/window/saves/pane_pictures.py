"""The pictures that are saved: the very shots that the window shows, drawn off screen, larger if wanted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mockup.encode.png import png
from mockup.model.design import Design
from mockup.model.mesh import Floats
from mockup.model.scene import QUALITIES, Camera, Quality, Shot
from mockup.options import Progress, option
from mockup.outputs import turntable
from mockup.picture.options import PictureRequest
from mockup.picture.studio import studio
from mockup.scene.cameras import frame
from mockup.scene.views import View
from mockup.window.pane_content import PaneContent

GAP_PX = 2  # between pictures side by side: by eye
BETWEEN = 0.17  # encoded grey of that gap: by eye
TURN_SIZE = (960, 720)  # of a turntable, pixels: our choice
TURN_S = 4.0  # seconds that one turn lasts: our choice


@dataclass(frozen=True, kw_only=True)
class PicturedPanes:
    """What is pictured: a variant of the layout as each pane dresses it, and the shot that all panes share.

    `view` is the named view last taken. With `wipe` (0 left to 1 right) two pictures become one, parted there.
    """

    contents: tuple[PaneContent, ...]
    shot: Shot
    view: str
    wipe: float | None = None


@dataclass(frozen=True, kw_only=True)
class StillOptions:
    """What is chosen of a still of the panes; all else is as the window shows it."""

    larger: str = option("2", "pixels drawn for each one on the screen, along each side", choices=("1", "2", "3"))
    quality: Quality = option(PictureRequest.quality, "how much work goes into it", choices=QUALITIES)


@dataclass(frozen=True, kw_only=True)
class TurnOptions:
    """What is chosen of a turntable of the first pane; all else is as the window shows it."""

    frames: int = option(36, "pictures in one turn")


def still(
    panes: PicturedPanes, designs: Sequence[Design], options: StillOptions, _suffix: str, progress: Progress
) -> bytes:
    """Return what the window shows, without marks and outlines, as PNG; one design per pane."""
    taken = []
    times = int(options.larger)
    width, height = panes.shot.width_px * times, panes.shot.height_px * times
    shot = replace(panes.shot, width_px=width, height_px=height, quality=options.quality)
    for index, (content, design) in enumerate(zip(panes.contents, designs, strict=True)):
        progress(2 * index, 2 * len(designs), "building")
        with studio(content.dressed(design), content, is_flipped=content.is_flipped, is_still=False) as room:
            progress(2 * index + 1, 2 * len(designs), "drawing")
            taken.append(room.take(shot, panes.view))
    progress(1, 1, "writing")
    facts = dict(taken[0].facts.items() & set.intersection(*(set(each.facts.items()) for each in taken)))
    pixels = together([each.pixels for each in taken], GAP_PX * times, panes.wipe)
    return png(pixels, dpi=taken[0].dpi, text={key: facts[key] for key in taken[0].facts if key in facts})


def together(pictures: Sequence[NDArray[np.uint8]], gap_px: int, wipe: float | None = None) -> NDArray[np.uint8]:
    """Return pictures of one size as the window lays them: side by side, four in a square, or two parted by a wipe."""
    if len({each.shape[2] for each in pictures}) > 1:
        pictures = [_with_alpha(each) for each in pictures]
    if wipe is not None:
        left, right = pictures
        line = round(left.shape[1] * wipe)
        return np.concatenate([left[:, :line], right[:, line:]], axis=1)
    across = columns(len(pictures))
    rows = [_spaced(pictures[start : start + across], gap_px, 1) for start in range(0, len(pictures), across)]
    return _spaced(rows, gap_px, 0)


def columns(count: int) -> int:
    """Return how many of so many pictures lie side by side: all, but four in two rows."""
    return 2 if count == 4 else count


def saved_size(pane: tuple[int, int], count: int) -> tuple[int, int]:
    """Return the width and height in pixels of so many panes laid together."""
    across = columns(count)
    rows = -(-count // across)
    return across * pane[0] + (across - 1) * GAP_PX, rows * pane[1] + (rows - 1) * GAP_PX


def turn(
    panes: PicturedPanes, designs: Sequence[Design], options: TurnOptions, suffix: str, progress: Progress
) -> bytes:
    """Return the first pane's pedal turning once round, as a file of a kind of `turntable.SUFFIXES`.

    The eye stays on its line of sight, at the distance that keeps the whole pedal in the picture.
    """
    content, (width, height) = panes.contents[0], TURN_SIZE
    with studio(content.dressed(designs[0]), content, is_flipped=content.is_flipped, is_still=False) as room:
        camera = turn_camera(panes.shot.camera, room.points(panes.shot.hidden))
        shot = replace(panes.shot, camera=camera, width_px=width, height_px=height, quality="draft")
        drawn = (each.pixels for each in room.turn(shot, panes.view, options.frames, progress))
        return turntable.animated(drawn, suffix, 1000.0 * TURN_S / options.frames)


def turn_camera(seen: Camera, points: Floats) -> Camera:
    """Return a camera that looks along the line of another and holds points (n, 3), mm, at every angle of a turn."""
    x, y, z = (a - b for a, b in zip(seen.eye, seen.target, strict=True))
    line = View(name="", about="", direction=(x, y, z), up=seen.up, is_true_size=seen.ortho_mm is not None)
    aspect = TURN_SIZE[0] / TURN_SIZE[1]
    return frame(replace(line, fov_deg=seen.fov_deg), points, aspect, turns_deg=turntable.TURNS_DEG)


OPTIONS: dict[str, type] = {"still": StillOptions, "turntable": TurnOptions}
"""The outputs that picture the panes as they are, and what is chosen of each."""
MAKERS: dict[str, Callable[..., bytes]] = {"still": still, "turntable": turn}


def _spaced(pictures: Sequence[NDArray[np.uint8]], gap_px: int, axis: int) -> NDArray[np.uint8]:
    if len(pictures) == 1:
        return pictures[0]
    shape = list(pictures[0].shape)
    shape[axis] = gap_px
    between = np.full(shape, round(255 * BETWEEN), np.uint8)
    between[..., 3:] = 255
    rows = [each for picture in pictures for each in (picture, between)]
    return np.concatenate(rows[:-1], axis=axis)


def _with_alpha(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    if pixels.shape[2] == 4:
        return pixels
    return np.concatenate([pixels, np.full((*pixels.shape[:2], 1), 255, np.uint8)], axis=2)
