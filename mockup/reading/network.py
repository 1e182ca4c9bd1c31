"""The trained model that finds lettering and reads it: two networks whose weights another package brings.

The weights are PP-OCRv6 small (Apache 2.0, see that package's MODEL_LICENSES.md): a detector with a differentiable
threshold (Liao et al., AAAI 2020, "Real-time scene text detection with differentiable binarization") and a reader
whose output is collapsed by connectionist temporal classification (Graves et al., ICML 2006). Only the files of
weights are taken from it, its code is not loaded, so no image library with needs of its own comes with it.
"""

from __future__ import annotations

import functools
import importlib.util
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.model.mesh import Floats

Pixels = NDArray[np.uint8]
_WEIGHTS = "rapidocr"
_FINDER, _READER = "PP-OCRv6_det_small.onnx", "PP-OCRv6_rec_small.onnx"
_STRIDE = 32  # the detector takes sides that are multiples of it
# How the detector's answer is cut into boxes: as its authors do it, by the package's own settings.
_IS_TEXT, _IS_BOX, _UNCLIP = 0.3, 0.5, 1.6
_LEAST_PX = 3.0  # shorter sides are specks
_HEIGHT = 48  # rows that the reader takes
_LEAST_WIDTH = 48  # columns, a character's worth and room beside it
_BATCH = 8  # lines read at once: more saves no time


@dataclass(frozen=True, kw_only=True, eq=False)
class Quad:
    """A rectangle round lettering in pixels: its middle (x, y), its size along its own right and down, and its turn.

    `turn_deg` is clockwise as seen; where lettering is found, from -45 to 45.
    """

    x: float
    y: float
    width: float
    height: float
    turn_deg: float = 0.0

    @property
    def axes(self) -> Floats:
        """Its own right and down as rows (2, 2) in (x, y)."""
        angle = math.radians(self.turn_deg)
        return np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])


def unavailable() -> str:
    """Return why lettering cannot be read on this machine, empty where it can."""
    try:
        _networks()
    except Exception as error:  # whatever a native library or a damaged file raises
        return f"{type(error).__name__}: {error}".splitlines()[0]
    return ""


def find(picture: Pixels) -> list[Quad]:
    """Return where lettering stands in a picture (h, w, 3)."""
    height, width = picture.shape[:2]
    rows, columns = (max(_STRIDE, -(-side // _STRIDE) * _STRIDE) for side in (height, width))
    padded = np.empty((rows, columns, 3), np.uint8)
    padded[:] = np.median(picture[[0, -1]].reshape(-1, 3), axis=0).astype(np.uint8)
    padded[:height, :width] = picture
    finder, _, _ = _networks()
    likely = finder.run(None, {"x": _scaled(padded)[None]})[0][0, 0, :height, :width]
    names, count = ndimage.label(ndimage.maximum_filter(likely > _IS_TEXT, size=2), np.ones((3, 3), bool))
    found = (
        _quad(likely, names, number, box)
        for number, box in zip(range(1, count + 1), ndimage.find_objects(names), strict=True)
    )
    return [each for each in found if each is not None]


def read(lines: Sequence[Pixels]) -> list[tuple[str, float]]:
    """Return what each line (h, w, 3) of lettering says, and how sure that is, 0 to 1."""
    _, reader, characters = _networks()
    answers: list[tuple[str, float]] = [("", 0.0)] * len(lines)
    order = sorted(range(len(lines)), key=lambda each: lines[each].shape[1] / lines[each].shape[0])
    for start in range(0, len(order), _BATCH):
        chosen = order[start : start + _BATCH]
        rows = [_row(lines[each]) for each in chosen]
        batch = np.zeros((len(rows), 3, _HEIGHT, max(row.shape[2] for row in rows)), np.float32)
        for number, row in enumerate(rows):
            batch[number, :, :, : row.shape[2]] = row
        for number, answer in zip(chosen, reader.run(None, {"x": batch})[0], strict=True):
            answers[number] = _collapsed(answer, characters)
    return answers


@functools.cache
def _networks() -> tuple[Any, Any, tuple[str, ...]]:
    """Return the detector, the reader and the reader's characters; they are loaded when first asked for."""
    import onnxruntime

    onnxruntime.set_default_logger_severity(4)
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 4
    package = importlib.util.find_spec(_WEIGHTS)
    if package is None or not package.submodule_search_locations:
        raise ModuleNotFoundError(f"no package {_WEIGHTS!r}")
    folder = Path(package.submodule_search_locations[0]) / "models"
    finder, reader = (
        onnxruntime.InferenceSession(str(folder / name), options, providers=["CPUExecutionProvider"])
        for name in (_FINDER, _READER)
    )
    characters = reader.get_modelmeta().custom_metadata_map["character"].split("\n")
    return finder, reader, ("", *characters, " ")


def _scaled(picture: Pixels) -> NDArray[np.float32]:
    """Return a picture as the networks take it: (3, h, w), blue first, -1 to 1."""
    return np.ascontiguousarray((picture[..., ::-1].astype(np.float32) / 127.5 - 1.0).transpose(2, 0, 1))


def _row(line: Pixels) -> NDArray[np.float32]:
    from PIL import Image

    width = max(_LEAST_WIDTH, math.ceil(line.shape[1] * _HEIGHT / line.shape[0]))
    return _scaled(np.asarray(Image.fromarray(line).resize((width, _HEIGHT), Image.Resampling.BILINEAR)))


def _collapsed(answer: NDArray[np.float32], characters: tuple[str, ...]) -> tuple[str, float]:
    best, sure = answer.argmax(axis=1), answer.max(axis=1)
    is_new = (best != 0) & (best != np.concatenate([[0], best[:-1]]))
    if not is_new.any():
        return "", 0.0
    text = "".join(characters[each] for each in best[is_new])
    return text.strip(), float(sure[is_new].mean())


def _quad(likely: NDArray[np.float32], names: NDArray[np.int32], number: int, box: tuple[slice, slice]) -> Quad | None:
    """Return the least rectangle round one blob, grown by what the detector's training shrank it, or None."""
    from scipy.spatial import ConvexHull, QhullError

    own = names[box] == number
    ys, xs = np.nonzero(own)
    if len(xs) < 2 * _LEAST_PX or float(likely[box][own].mean()) < _IS_BOX:
        return None
    points = np.stack([xs + box[1].start, ys + box[0].start], axis=1).astype(np.float64)
    try:
        hull = points[ConvexHull(points).vertices]
    except QhullError:
        return None  # all in one line
    edges = np.roll(hull, -1, axis=0) - hull
    turns = np.unique(np.round(np.degrees(np.arctan2(edges[:, 1], edges[:, 0])) % 90.0, 3))
    turns = np.concatenate([[0.0], turns])  # upright wins where nothing is smaller
    angle = np.radians(turns)
    right = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    down = np.stack([-np.sin(angle), np.cos(angle)], axis=1)
    along, across = hull @ right.T, hull @ down.T
    wide, tall = np.ptp(along, axis=0) + 1.0, np.ptp(across, axis=0) + 1.0
    best = int(np.argmin(wide * tall * np.where(turns == 0.0, 0.97, 1.0)))
    width, height = float(wide[best]), float(tall[best])
    if min(width, height) < _LEAST_PX:
        return None
    middle = (
        right[best] * (along[:, best].max() + along[:, best].min()) / 2
        + down[best] * (across[:, best].max() + across[:, best].min()) / 2
        + 0.5
    )
    turn = float(turns[best])
    turn -= 90.0 if turn > 45.0 else 0.0
    if turn != turns[best]:
        width, height = height, width
    grow = 2 * _UNCLIP * width * height / (2 * (width + height))
    return Quad(x=float(middle[0]), y=float(middle[1]), width=width + grow, height=height + grow, turn_deg=turn)
