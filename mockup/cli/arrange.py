"""The command ``mockup arrange``: from a list of controls to project folders with good layouts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from mockup.cli.command import command
from mockup.cli.terminal import print_json, progress_bar, say
from mockup.options import option

_ABOUT = """Lay a pedal out: from a list of controls to a few good layouts.

Name each control with its kind, as in GAIN=pot-16 BYPASS=footswitch IN=jack-enclosed, with @FACE behind it
where it has to be on a certain face; or name a file with one a line, or with the faces, places and groups
that you know (mockup help arrange). Every layout is proven by the checks
and becomes a project folder of its own, the best one first; one sheet pictures them side by side."""
SHEET = "proposals.png"


@dataclass(frozen=True, kw_only=True)
class ArrangeOptions:
    """Which box, how many layouts, and where they go."""

    box: str = option("smallest", "a size of box, length x width x height in mm, ? for the least, or smallest")
    output: str = option("proposals", "folder to write to", short="o")
    name: str = option("Arranged", "what the pedal is called")
    knob: str | None = option(None, "style of all knobs")
    count: int = option(4, "how many layouts, at most")
    picture: bool = option(True, "picture them side by side")


def _run(options: ArrangeOptions, wanted: tuple[str, ...], as_json: bool) -> None:
    from mockup import files
    from mockup.arrange.told import between_knobs
    from mockup.layout_proposals import LIST, propose

    is_file = len(wanted) == 1 and "=" not in wanted[0]
    words = files.read_text(Path(wanted[0]), "mockup arrange NAME=KIND ...") if is_file else wanted
    own_kinds = files.read_beside(Path(wanted[0]), files.PARTS_FILE) if is_file else None
    with progress_bar() as progress:
        found = propose(
            words,
            options.box,
            name=options.name,
            knob=options.knob,
            count=options.count,
            own_kinds=own_kinds or "",
            source=wanted[0] if is_file else LIST,
            progress=progress,
        )
        folder = Path(options.output)
        made = {folder / name: data for name, data in found.files.items()}
        if options.picture:
            from mockup.comparison.proposal_sheet import proposal_sheet

            made[folder / SHEET] = proposal_sheet(found, progress)
    files.write_all(made)
    if as_json:
        print_json(found.facts)
        return
    print(f"box {found.box}")
    for index, each in enumerate(found.found, 1):
        room = between_knobs(each.fingers_mm)
        say(f"{folder / str(index)}: {each.about}{room and ', '}{room}")
    for name in found.undrawn:
        say(f"{name} is not drawn: the font has not all of its letters; name another in [lettering]")
    for index, each in enumerate(found.found, 1):
        if not each.is_lettered:
            say(f"{folder / str(index)} has no room for all names and scales")
    if options.picture:
        say(str(folder / SHEET))


arrange = command(
    "arrange",
    _ABOUT,
    _run,
    lambda: ArrangeOptions,
    click.Argument(["wanted"], nargs=-1, required=True, metavar="NAME=KIND[@FACE]...|FILE"),
    json="the layouts with their figures",
)
