"""The map of a match: art as drawn, printed as it is, printed matched, and where no ink gets there."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
from PIL import Image

from mockup.colour import rgb
from mockup.decal import ink_over_paint
from mockup.decal.composite import printed
from mockup.decal.match import SEEN_DE, Match
from mockup.model.picture import Picture
from mockup.picture.doubt import side_by_side

PANEL_PX = 620  # the longer side of a panel
_BANDS = (
    (SEEN_DE, "#f2c94c"),
    (5.0, "#f2803c"),
    (10.0, "#c81e1e"),
)  # CIEDE2000 from which a colour is used: our choice
_SAME, _NOTHING, _KEPT = "#a9b8ae", "#ffffff", "#4a78b8"


def tally(found: Match) -> dict[str, Any]:
    """Return the figures of a match: CIEDE2000 to the art as drawn, before and after, and what stays beyond reach."""
    wished = found.is_wished
    if not wished.any():
        nothing = {"mean": 0.0, "p95": 0.0, "worst": 0.0}
        return {"before": nothing, "after": nothing, "beyond_share": 0.0, "beyond_from": SEEN_DE}
    return {
        "before": _figures(found.before[wished]),
        "after": _figures(found.after[wished]),
        "beyond_share": round(float((found.is_beyond & ~found.is_kept).sum() / wished.sum()), 4),
        "beyond_from": SEEN_DE,
    }


def match_map(
    art: ink_over_paint.Pixels, found: Match, on: ink_over_paint.Ground, paint: ink_over_paint.Pixels | None = None
) -> ink_over_paint.Pixels:
    """Return four panels side by side, each with its caption, (h, w, 3); `paint` as for `printed`.

    On the last one grey is as drawn; yellow, orange and red are off by the limits in the key (CIEDE2000), blue is
    what was kept as drawn and is off by more than the first.
    """
    levels = np.full((*found.after.shape, 3), rgb.to_8bit(rgb.parse(_SAME)), np.uint8)
    for limit, colour in _BANDS:
        levels[found.after > limit] = rgb.to_8bit(rgb.parse(colour))
    levels[found.is_kept & found.is_beyond] = rgb.to_8bit(rgb.parse(_KEPT))
    levels[~found.is_wished] = rgb.to_8bit(rgb.parse(_NOTHING))
    panels = (
        ("art as drawn", ink_over_paint.flatten(art)),
        ("printed as it is", printed(ink_over_paint.flatten(art), on, paint)),
        ("likely, matched", printed(found.pixels, on, paint)),
        ("still off", levels),
    )
    shape = found.after.shape
    step = max(1.0, max(shape) / PANEL_PX)
    size = (max(16, round(shape[1] / step)), max(16, round(shape[0] / step)))
    small = [
        (caption, Picture(pixels=np.asarray(Image.fromarray(each).resize(size, Image.Resampling.BOX))))
        for caption, each in panels
    ]
    limits = [limit for limit, _ in _BANDS]
    ranges = [*(f"{low:g} to {high:g}" for low, high in itertools.pairwise(limits)), f"over {limits[-1]:g}"]
    key = [(f"within {SEEN_DE:g} (CIEDE2000)", _SAME)]
    key += [(words, colour) for words, (_, colour) in zip(ranges, _BANDS, strict=True)]
    key.append(("black, lettering and lines: as drawn", _KEPT))
    return side_by_side(small, [(words, rgb.parse(colour)) for words, colour in key]).pixels


def _figures(differences: np.ndarray[Any, np.dtype[np.float32]]) -> dict[str, float]:
    values = {
        "mean": differences.mean(dtype=np.float64),
        "p95": np.percentile(differences, 95),
        "worst": differences.max(),
    }
    return {name: round(float(value), 2) for name, value in values.items()}
