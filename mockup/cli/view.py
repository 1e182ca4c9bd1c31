"""The command that opens the window."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.argument("layout", required=False, type=click.Path(path_type=Path))
@click.option("--variant", multiple=True, help="a variant to show; repeat for up to four side by side")
@click.option("--scale", type=click.FloatRange(0.8, 2.5), help="size of text and controls; 1 on a usual screen")
@click.option("--size", "size", default="1280x800", show_default=True, help="width x height of the window in pixels")
def view(layout: Path | None, variant: tuple[str, ...], scale: float | None, size: str) -> None:
    """Open the window: the pedal follows art and layout as you save them.

    LAYOUT is a layout file or a folder with one; without it the window starts with the projects opened last.
    """
    from mockup.model.errors import Fault, InputError
    from mockup.options import parse_size
    from mockup.window.start import run

    try:
        pixels = parse_size(size)
    except ValueError as error:
        raise InputError(Fault(file="--size", what=str(error))) from None
    run(layout, variants=variant, scale=scale, size=pixels)
