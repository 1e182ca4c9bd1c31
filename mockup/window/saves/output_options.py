"""The options of an output that the panel shows a control for, and the values of what the controls hold."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mockup import api
from mockup.options import UNASKED, DesignRequest, OptionField, option_fields
from mockup.outputs import OUTPUTS
from mockup.window.saves import pane_pictures

TARGET = "output"  # a field of this name takes the file to write, which the window names itself
_DESIGN = {each.name for each in option_fields(DesignRequest)}  # the pane says which
Given = str | bool
"""What a control holds: a text, or whether it is ticked."""
_SAME = {".jpeg": ".jpg", ".htm": ".html", ".tif": ".tiff"}
"""Endings that mean what a more usual one means."""


def all_fields(output: str) -> tuple[OptionField, ...]:
    """Return the options of an output; pictures of panes have fewer, for the window is their studio."""
    return option_fields(pane_pictures.OPTIONS.get(output) or OUTPUTS.load(output).Options)


def fields(output: str) -> tuple[OptionField, ...]:
    """Return the options that a control is shown for, in order."""
    hidden = {TARGET, *_DESIGN}
    return tuple(each for each in all_fields(output) if each.name not in hidden and each.reads not in UNASKED)


def at_first(field: OptionField) -> Given:
    """Return what the control of an option holds before it is touched."""
    return bool(field.default) if field.kind == "truth" else field.default_text


def choices(field: OptionField) -> tuple[str, ...]:
    """Return what the list of an option offers, "" for none chosen; nothing where any text will do."""
    return ("", *field.choices) if field.choices and not field.default_text else field.choices


def variant_options(output: str) -> tuple[str, ...]:
    """Return the names of the options that take the designs of the layout's other variants."""
    return tuple(each.name for each in all_fields(output) if each.reads == "variants")


def series_options(output: str) -> tuple[str, ...]:
    """Return the names of the options that take the designs of a series' copies after the first."""
    return tuple(each.name for each in all_fields(output) if each.reads == "copies")


def stop_options(output: str) -> tuple[str, ...]:
    """Return the names of the options that take how many findings stop the build."""
    return tuple(each.name for each in all_fields(output) if each.reads == "stops")


def suffixes(output: str) -> tuple[str, ...]:
    """Return the kinds of file that an output writes, such as ".pdf", the usual one first, each by one ending."""
    every = next(each.suffixes for each in option_fields(OUTPUTS.load(output).Options) if each.name == TARGET)
    return tuple(each for each in every if _SAME.get(each) not in every)


def values(output: str, given: Mapping[str, Given]) -> dict[str, Any]:
    """Return the options' values of what the controls hold, files read; `InputError` where one makes no sense."""
    found = {}
    for field in fields(output):
        value = given.get(field.name, at_first(field))
        found[field.name] = api.option_value(field, value if isinstance(value, bool) else field.from_text(value))
    return found
