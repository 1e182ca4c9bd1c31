"""The options of an output as the panel shows them: one control a field, read back as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from mockup import api
from mockup.options import DesignRequest, OptionField, option_fields
from mockup.outputs import OUTPUTS
from mockup.window.work import pane_pictures

TARGET = "output"  # a field of this name takes the file to write, which the window names itself
_DESIGN = {each.name for each in option_fields(DesignRequest)}  # the pane says which
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


def fields(output: str) -> tuple[OptionField, ...]:
    """Return the options that a control is shown for, in order."""
    found = option_fields(options_class(output))
    return tuple(each for each in found if each.name not in {TARGET, *_DESIGN} and each.reads != "variants")


def controls(output: str) -> tuple[OptionControl, ...]:
    """Return the controls of an output, in the order of its options."""
    return tuple(_control(field) for field in fields(output))


def variant_options(output: str) -> tuple[str, ...]:
    """Return the names of the options that take the designs of the layout's other variants."""
    return tuple(each.name for each in option_fields(options_class(output)) if each.reads == "variants")


def suffixes(output: str) -> tuple[str, ...]:
    """Return the kinds of file that an output writes, such as ".pdf", the usual one first."""
    return next(each.suffixes for each in option_fields(OUTPUTS.load(output).Options) if each.name == TARGET)


def values(output: str, given: Mapping[str, Given]) -> dict[str, Any]:
    """Return the options' values of what the controls hold, files read; `InputError` where one makes no sense."""
    found = {}
    for field in fields(output):
        value = given.get(field.name, _control(field).default)
        found[field.name] = api.option_value(field, value if isinstance(value, bool) else field.from_text(value))
    return found


def _control(field: OptionField) -> OptionControl:
    default, choices = field.default_text, field.choices
    if field.kind == "truth":
        return OptionControl(name=field.name, about=field.help, default=bool(field.default))
    return OptionControl(
        name=field.name,
        about=field.help,
        default=default,
        choices=("", *choices) if choices and not default else choices,
    )
