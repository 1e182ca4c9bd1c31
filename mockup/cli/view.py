"""The command that opens the window."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mockup.cli.command import command, path_argument
from mockup.model.scene import QUALITIES, Quality
from mockup.options import option, parse_size, require_range

_LEAST_SCALE, _MOST_SCALE = 0.8, 2.5  # text is still read and the panel still fits: by eye
_ABOUT = """Open the window: the pedal follows art and layout as you save them.

LAYOUT is a layout file or a folder with one; without it the window starts with the projects opened last."""


@dataclass(frozen=True, kw_only=True)
class ViewOptions:
    """What the window shows at first, and how large it is."""

    variant: tuple[str, ...] = option((), "a variant to show; repeat for up to four side by side")
    scale: float | None = option(
        None, f"size of text and controls, {_LEAST_SCALE} to {_MOST_SCALE}; 1 on a usual screen"
    )
    size: tuple[int, int] = option((1280, 800), "width x height of the window in pixels", parse=parse_size)
    quality: Quality = option("normal", "how much work goes into the picture at rest", choices=QUALITIES)


def _view(options: ViewOptions, layout: Path | None) -> None:
    from mockup.window.start import run

    require_range("scale", options.scale, _LEAST_SCALE, _MOST_SCALE)
    run(layout, variants=options.variant, scale=options.scale, size=options.size, quality=options.quality)


view = command(
    "view",
    _ABOUT,
    _view,
    lambda: ViewOptions,
    path_argument("layout", required=False),
)
