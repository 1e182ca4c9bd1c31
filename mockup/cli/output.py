"""The command of an output plug-in, made from its options."""

from __future__ import annotations

import dataclasses
import datetime
import types
import typing
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from mockup.cli.terminal import progress_bar, report, tell
from mockup.model.errors import Fault, InputError
from mockup.outputs import OUTPUTS

OTHERS = "others"
"""A field of this name in an output's Options is no flag: it takes the designs of the layout's other variants."""


class OutputCommand(click.Command):
    """The command of one output plug-in: a flag per field of its Options.

    The plug-in is loaded for its own flags only, so that the list of all commands loads none.
    """

    def __init__(self, name: str) -> None:
        about = OUTPUTS.summary(name)
        super().__init__(name, help=about, short_help=about)
        self._plugin = name

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """Return the command's parameters, made when they are first asked for."""
        if not self.params:
            self.params, self.callback = _parts(self._plugin)
        return super().get_params(ctx)


def _parts(name: str) -> tuple[list[click.Parameter], Callable[..., None]]:
    """Return the parameters of an output plug-in's command, and what runs it."""
    module = OUTPUTS.load(name)
    hints = typing.get_type_hints(module.Options)
    fields = [field for field in dataclasses.fields(module.Options) if field.name != OTHERS]
    takes_others = len(fields) < len(dataclasses.fields(module.Options))
    alone: Callable[[Any], Any] | None = getattr(module, "alone", None)
    parameters: list[click.Parameter] = [
        click.Argument(["layout"], type=click.Path(path_type=Path), required=alone is None),
        click.Option(["--variant"], help="a variant that the layout file names"),
        click.Option(["--printer"], help="a calibrated printer, in place of what the layout says of ink"),
        *(_flag(field, hints[field.name]) for field in fields),
        click.Option(["--json", "is_json"], is_flag=True, help="print what was made as JSON"),
    ]

    def run(layout: Path | None, variant: str | None, printer: str | None, is_json: bool, **given: Any) -> None:
        from mockup import api

        parsed = {field.name: _value(field, given[field.name], printer) for field in fields}
        loose = alone(module.Options(**parsed)) if alone is not None else None
        if loose is not None:
            if layout is not None:
                raise click.UsageError(f"this page belongs to no pedal: leave out {layout}")
            api.write(loose)
            tell(loose.notes)
            report(list(loose.files), loose.facts, is_json)
            return
        if layout is None:
            raise click.UsageError("Missing argument 'LAYOUT'.")
        design = api.load(layout, variant, printer)
        if takes_others:
            parsed[OTHERS] = api.others(layout, variant, printer)
        with progress_bar() as progress:
            result = api.make(module, design, module.Options(**parsed), progress)
        tell(result.notes)
        report(list(result.files), result.facts, is_json)

    return parameters, run


def _flag(field: dataclasses.Field[Any], hint: Any) -> click.Option:
    """Return the command-line option of one field of an Options dataclass."""
    meta = field.metadata
    long = _long(field)
    names = [long, field.name, *([f"-{meta['short']}"] if meta.get("short") else [])]
    choices = meta.get("choices")
    listed = choices() if callable(choices) else choices
    is_many = typing.get_origin(hint) is tuple and meta.get("parse") is None
    plain = [each for each in typing.get_args(hint) if each is not types.NoneType] or [hint]
    default = field.default
    if hint is bool:
        return click.Option(
            [f"{long}/--no-{long[2:]}", field.name], default=default, show_default=True, help=meta["help"]
        )
    if meta.get("parse"):
        shown = "x".join(str(each) for each in default) if isinstance(default, tuple) else default
        return click.Option(names, default=shown, show_default=True, help=meta["help"])
    kind: Any = click.Choice(listed) if listed else {int: int, float: float}.get(plain[0], str)
    return click.Option(
        names, type=kind, default=default, multiple=is_many, show_default=default is not None, help=meta["help"]
    )


def _long(field: dataclasses.Field[Any]) -> str:
    return "--" + field.name.rstrip("_").replace("_", "-")


def _value(field: dataclasses.Field[Any], given: Any, printer: str | None) -> Any:
    reads = field.metadata.get("reads")
    if reads == "day":
        return datetime.date.today().isoformat() if given is None else given or None
    if reads is not None and given is not None:
        return (
            tuple(_read(reads, each, printer) for each in given)
            if isinstance(given, tuple)
            else _read(reads, given, printer)
        )
    parse: Callable[[str], Any] | None = field.metadata.get("parse")
    if parse is None or given is None:
        return tuple(given) if isinstance(given, list) else given
    try:
        return parse(given)
    except ValueError as error:
        raise InputError(Fault(file=_long(field), what=str(error))) from None


def _read(what: str, name: str, printer: str | None) -> Any:
    """Return the design of a layout file, or a file's name and bytes."""
    from mockup import api, files

    path = Path(name)
    return api.load(path, None, printer) if what == "layout" else (path.name, files.read_bytes(path))
