"""Flags made from Options dataclasses, and what a user said with them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from mockup.options import UNASKED, OptionField, option_fields, require_choices

_TYPES: dict[str, Any] = {"whole number": int, "number": float}
AS_JSON = "as_json"


def flags(*options: Any) -> list[click.Parameter]:
    """Return a flag for each field of some Options dataclasses; of two with one name the first."""
    found: dict[str, click.Parameter] = {}
    for each in options:
        for field in option_fields(each):
            if field.reads not in UNASKED:
                found.setdefault(field.name, _Flag(field))
    return list(found.values())


def json_flag(about: str) -> click.Option:
    """Return the flag that asks for JSON."""
    return click.Option(["--json", AS_JSON], is_flag=True, help=f"print {about} as JSON")


def said(options: Any) -> dict[str, Any]:
    """Return the values of an Options dataclass that the user gave on the command line, the rest left to its defaults.

    Raises `InputError` for text that is no value of its field.
    """
    context = click.get_current_context()
    found = {}
    for field in option_fields(options):
        source = context.get_parameter_source(field.name)
        if source is not None and source.name != "DEFAULT":
            value = context.params[field.name]
            found[field.name] = field.from_text(value) if field.parse is not None else value
    return found


def command(
    name: str,
    about: str,
    run: Callable[..., Any],
    options: Callable[[], Any],
    *arguments: click.Argument,
    json: str | None = None,
) -> click.Command:
    """Return a command whose flags come from the Options dataclass that `options` returns.

    `run` is called with a value of it, then with the arguments by name, and `as_json` where `json` says what
    is printed so.
    """

    def call(**given: Any) -> None:
        kind = options()
        names = {each.name for each in option_fields(kind)}
        value = kind(**said(kind))
        require_choices(value)
        run(value, **{name: each for name, each in given.items() if name not in names})

    return Lazy(name, about, call, lambda: [*arguments, *flags(options()), *([json_flag(json)] if json else [])])


def path_argument(name: str, **more: Any) -> click.Argument:
    """Return an argument that names a file or a folder."""
    return click.Argument([name], type=click.Path(path_type=Path), **more)


class Lazy(click.Command):
    """A command whose parameters are made when they are first asked for, so that the list of commands costs nothing."""

    def __init__(self, name: str, about: str, run: Callable[..., Any], parameters: Callable[[], list[Any]]) -> None:
        super().__init__(name, callback=run, help=about)
        self._parameters = parameters

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """Return the command's parameters."""
        self.params = self.params or self._parameters()
        return super().get_params(ctx)


class _Flag(click.Option):
    """The flag of one field. Help asks which values there are; whoever takes a value refuses others."""

    def __init__(self, field: OptionField) -> None:
        self._field = field
        default = field.default_text if field.parse is not None and field.default is not None else field.default
        names = [field.flag, field.name]
        names += [f"-{field.short}"] if field.short else []
        names += [f"--{field.alias}"] if field.alias else []
        if field.kind == "truth":
            names = [f"{field.flag}/--no-{field.flag[2:]}", field.name]
        super().__init__(
            names,
            type=None if field.kind == "truth" else _TYPES.get(field.kind, str),
            multiple=field.is_many,
            default=default,
            show_default=default not in (None, (), ""),
            metavar=field.metavar,
            help=field.help,
        )

    def make_metavar(self, *args: Any, **context: Any) -> str:
        """Return the choices as help shows them, or what kind of value is expected."""
        choices = self._field.choices
        return f"[{'|'.join(choices)}]" if choices else super().make_metavar(*args, **context)
