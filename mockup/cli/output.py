"""The command of an output plug-in, made from its options."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from mockup.cli.command import AS_JSON, Lazy, flags, json_flag, path_argument, said
from mockup.cli.origins import save
from mockup.cli.terminal import progress_bar, report, tell
from mockup.options import DesignRequest
from mockup.outputs import OUTPUTS


def output_command(name: str) -> click.Command:
    """Return the command of one output plug-in: a flag per field of its Options; it is loaded when it runs."""

    def parameters() -> list[click.Parameter]:
        module = OUTPUTS.load(name)
        return [
            path_argument("layout", required=not hasattr(module, "alone")),
            *flags(DesignRequest, module.Options),
            json_flag("what was made"),
        ]

    def run(layout: Path | None, **given: Any) -> None:
        from mockup import api
        from mockup.layout_source import in_folder

        layout = in_folder(layout) if layout is not None else None
        asked = said(DesignRequest) | said(OUTPUTS.load(name).Options)
        with progress_bar() as progress:
            result = api.output(name, layout, progress=progress, **asked)
        tell((*result.notes, *save(result, layout)))
        report(list(result.files), result.facts, given[AS_JSON])

    return Lazy(name, OUTPUTS.summary(name), run, parameters)
