"""The command ``mockup compare``."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from mockup.cli import sweep
from mockup.cli.terminal import progress_bar, report, tell
from mockup.model.errors import Fault, InputError


@click.command()
@click.argument("layouts", nargs=-1, metavar="LAYOUT[@VARIANT]...")
@click.option("--view", multiple=True, help="where the camera stands; repeat for several, one under the other")
@click.option("--size", help="width x height of each picture in pixels; by default the crop follows the pedals")
@click.option("--look", type=click.Choice(("photo", "proof")), default="photo", show_default=True, help="as for still")
@click.option(
    "--quality",
    type=click.Choice(("draft", "normal", "final")),
    default="normal",
    show_default=True,
    help="how much work goes into each picture",
)
@click.option("--light", default="bench", show_default=True, help="light and ground")
@click.option("--background", default="own", show_default=True, help="colour of the ground, or the light's own")
@click.option("--engine", help="render engine; the best one here by default")
@click.option("--printer", help="a calibrated printer, in place of what the layouts say of ink")
@click.option("--marks/--no-marks", default=True, show_default=True, help="point at the differences in the pictures")
@click.option("--page", default="a4", show_default=True, help="paper of a PDF: a4, letter or width x height in mm")
@click.option("--turntable", metavar="FILE", help="also turn them together: .webp, .gif, .apng or .mp4")
@click.option("--frames", default=36, show_default=True, help="pictures in one turn")
@click.option("--turn-seconds", default=4.0, show_default=True, help="how long one turn lasts when played")
@sweep.options
@click.option(
    "-o", "--output", multiple=True, help="file to write: .png, .pdf, .html, of a sweep .json; repeat for several"
)
@click.option("--json", "is_json", is_flag=True, help="print everything found as JSON")
def compare(layouts: tuple[str, ...], is_json: bool, **given: Any) -> None:
    """Put 2 to 12 pedals side by side: pictures, what differs, figures.

    Name layout files, variants of one (layout.toml@night), or all its variants (layout.toml@*). One file
    alone is shown beside all its variants. The first one is what the others are compared with.

    With --paint, --sheen, --knob, --film or --set, one layout is pictured with every combination of the
    values listed, up to 1000, and it is said which of them keep every label readable. With --wander, it is
    shown as drawn and as hands may drill it.
    """
    from mockup import files
    from mockup.comparison import columns, making

    if given["wander"] is not None:
        usual = {"view": given["view"] or ("above",)}
        if not sweep.is_said("marks"):  # they would lie over what there is to see
            usual["marks"] = False
        sweep.wander(layouts, given, _options({**given, **usual}), is_json=is_json)
        return
    if sweep.is_asked(given):
        sweep.run(layouts, given, is_json=is_json)
        return
    pedals = columns.wanted(layouts)
    options = _options(given)
    making.checked(options)
    shown = columns.columns(pedals, given["printer"])
    with progress_bar() as progress:
        result = making.make(shown, options, progress)
    files.write_all({Path(name): data for name, data in result.files.items()})
    tell(result.notes)
    report(list(result.files), result.facts, is_json)


def _options(given: dict[str, Any]) -> Any:
    from mockup.comparison.request import VIEWS_SHOWN, Options
    from mockup.options import parse_size
    from mockup.picture.shots import Setting

    try:
        size = parse_size(given["size"]) if given["size"] else None
    except ValueError as error:
        raise InputError(Fault(file="--size", what=str(error))) from None
    return Options(
        view=given["view"] or VIEWS_SHOWN,
        size=size,
        setting=Setting(
            light=given["light"],
            background=given["background"],
            look=given["look"],
            quality=given["quality"],
            engine=given["engine"],
        ),
        page=given["page"],
        has_marks=given["marks"],
        output=given["output"],
        turntable=given["turntable"],
        frames=given["frames"],
        turn_seconds=given["turn_seconds"],
    )
