"""The options of an output as the panel shows them: one control a field, read back as values."""

from __future__ import annotations

import dataclasses
import datetime
import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mockup import api, files
from mockup.model.errors import Fault, InputError
from mockup.options import bad_option
from mockup.outputs import OUTPUTS
from mockup.window.work import pane_pictures

OTHERS = "others"  # a field of this name takes the designs of the layout's other variants
TARGET = "output"  # a field of this name takes the file to write, which the window names itself
Given = str | bool
"""What a control holds: a text, or whether it is ticked."""


@dataclass(frozen=True, kw_only=True)
class OptionControl:
    """One control: a box to tick where `default` is a truth value, a list where there are choices, else a text."""

    name: str
    about: str
    default: Given
    choices: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What stands beside the control."""
        words = self.name.rstrip("_").replace("_", " ")
        return words[0].upper() + words[1:]


def options_class(output: str) -> Any:
    """Return the dataclass of an output's options; pictures of panes have fewer, for the window is their studio."""
    return pane_pictures.OPTIONS.get(output) or OUTPUTS.load(output).Options


def controls(output: str) -> tuple[OptionControl, ...]:
    """Return the controls of an output, in the order of its options."""
    return tuple(_control(field) for field in dataclasses.fields(options_class(output)) if field.name in _shown(output))


def suffixes(output: str) -> tuple[str, ...]:
    """Return the kinds of file that an output writes, such as ".pdf", the usual one first."""
    fields = {field.name: field for field in dataclasses.fields(OUTPUTS.load(output).Options)}
    return tuple(fields[TARGET].metadata["suffixes"])


def values(output: str, given: Mapping[str, Given]) -> dict[str, Any]:
    """Return the options' values of what the controls hold, files read; `InputError` where one makes no sense."""
    kind = options_class(output)
    hints = typing.get_type_hints(kind)
    shown = _shown(output)
    found = {}
    for field in dataclasses.fields(kind):
        if field.name in shown:
            found[field.name] = _value(field, hints[field.name], given.get(field.name, _control(field).default))
    return found


def _shown(output: str) -> set[str]:
    return {field.name for field in dataclasses.fields(options_class(output))} - {OTHERS, TARGET}


def _control(field: dataclasses.Field[Any]) -> OptionControl:
    meta, default = field.metadata, field.default
    choices = meta.get("choices")
    listed = tuple(choices() if callable(choices) else choices or ())
    if not isinstance(default, bool):
        join = "x" if meta.get("parse") else ", "
        default = (
            "" if default is None else join.join(map(str, default)) if isinstance(default, tuple) else f"{default}"
        )
    if listed and not default:
        listed = ("", *listed)
    return OptionControl(name=field.name, about=meta["help"], default=default, choices=listed)


def _value(field: dataclasses.Field[Any], hint: Any, given: Given) -> Any:
    meta = field.metadata
    if isinstance(given, bool):
        return given
    text = given.strip()
    is_many = typing.get_origin(hint) is tuple and meta.get("parse") is None
    if meta.get("reads") == "day":
        return text or datetime.date.today().isoformat()
    if not text:
        return field.default
    if meta.get("reads") is not None:
        names = [each.strip() for each in text.split(",")] if is_many else [text]
        read = [_read(meta["reads"], name) for name in names]
        return tuple(read) if is_many else read[0]
    if is_many:
        return tuple(each.strip() for each in text.split(","))
    plain = [each for each in typing.get_args(hint) if each is not types.NoneType] or [hint]
    parse = meta.get("parse") or {int: int, float: float}.get(plain[0], str)
    try:
        return parse(text)
    except ValueError as error:
        if meta.get("parse"):
            raise InputError(Fault(file=f"--{field.name}", what=str(error))) from None
        word = "a whole number" if plain[0] is int else "a number"
        raise bad_option(field.name, f"{text!r} is not {word}", f"for example {field.default}") from None


def _read(what: str, name: str) -> Any:
    """Return the design of a layout file, or a file's name and bytes."""
    path = Path(name).expanduser()
    return api.load(path) if what == "layout" else (path.name, files.read_bytes(path))
