"""The command ``mockup check``."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import click

from mockup.cli.command import command, path_argument
from mockup.cli.terminal import print_json, progress_bar
from mockup.options import PICTURES, DesignRequest, bad_option, option, require_ending

_ABOUT = """Say what will go wrong when it is built, with figures, and what to change.

LAYOUT is a layout file or a folder with one; layout.toml@night is its variant night.

Exit status: 0 nothing stops the build, 1 something does (--strict: or a warning), 2 bad input,
3 a check failed inside the program, so that its answer is missing.
What the layout accepts is listed apart and not counted."""


@dataclass(frozen=True, kw_only=True)
class CheckOptions(DesignRequest):
    """Which checks run, what counts as failed, and where a picture of the findings goes."""

    only: tuple[str, ...] = option((), "run this check only; repeat for several", metavar="CHECK")
    strict: bool = option(False, "exit with 1 on warnings too")
    sources: bool = option(False, "name each finding's check and subjects, and where its limit comes from")
    picture: str | None = option(None, "file to write, .png or .jpg: each finding pointed at")
    mend: bool = option(False, "say the least that must move so that nothing stops or warns, proven by the checks")
    write: bool = option(False, "with --mend: make that change in the layout file")
    concede: bool = option(False, "with --mend: give something up where moving parts is not enough")
    pin: tuple[str, ...] = option((), "with --mend: a part that stays where it is; repeat for several", metavar="PART")


def _run(options: CheckOptions, layout: Path, as_json: bool) -> None:
    from mockup import api
    from mockup.checks.report.accepted import opened
    from mockup.checks.report.run import advice
    from mockup.comparison.columns import split
    from mockup.decal.account import accounts

    place, variant = split(str(layout))
    if variant:
        if options.variant is not None:
            raise bad_option("variant", f"{layout} names a variant already", "give one of the two")
        options = replace(options, variant=variant)
    if options.mend:
        _mend(place, options, as_json)
        return
    lost = next((name for name in ("write", "concede", "pin") if getattr(options, name)), None)
    if lost is not None:
        raise bad_option(lost, "goes with --mend", "add --mend")
    if options.picture is not None:
        require_ending(options.picture, PICTURES, "picture")
    design = api.load(place, options.variant, options.printer, options.as_built)
    findings = api.check(design, options.only)
    if options.picture is not None:
        with progress_bar() as progress:
            api.save(api.marked(design, findings, progress=progress), options.picture)
    if as_json:
        from mockup.checks.report.rows import report_data

        print_json(report_data(design, accounts(design), findings, advice(design, options.only)))
    else:
        from mockup.cli.check_report import show

        told = advice(design, options.only)
        show(design, accounts(design), findings, told, has_sources=options.sources)
    if any(each.failure for each in findings):
        click.get_current_context().exit(3)
    bad = {"stop", "warn"} if options.strict else {"stop"}
    click.get_current_context().exit(1 if any(each.severity in bad for each in opened(findings)) else 0)


def _mend(layout: Path, options: CheckOptions, is_json: bool) -> None:
    """Say the least change of a layout that clears what stops or warns, and make it where that is asked for."""
    from mockup.arrange.told import mended_data, mended_lines
    from mockup.layout_mending import mend, write_mended

    with progress_bar() as progress:
        found = mend(layout, options.variant, options.printer, pinned=options.pin, progress=progress)
    if is_json:
        print_json(mended_data(found, concede=options.concede))
    else:
        for line in mended_lines(found, concede=options.concede):
            print(line)
    made = found.chosen(concede=options.concede)
    if options.write and made.edits:
        print(write_mended(found, concede=options.concede))
    click.get_current_context().exit(0 if made.is_complete else 1)


check = command(
    "check",
    _ABOUT,
    _run,
    lambda: CheckOptions,
    path_argument("layout", metavar="LAYOUT[@VARIANT]"),
    json="the findings and what was loaded",
)
