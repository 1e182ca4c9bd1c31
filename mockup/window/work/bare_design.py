"""A layout as a design without art and lettering: where parts stand, for what cannot wait for the picture."""

from __future__ import annotations

from typing import Any

from mockup import files
from mockup.layout import resolve
from mockup.layout.paint import without_picture
from mockup.layout.parse import Layout, checked, parse_parts
from mockup.layout.toml import read_toml
from mockup.memo import memoize
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.part import Kind
from mockup.window.work.project import Project
from mockup.window.work.workbench import Workbench

_DRAWN = ("decal", "label", "scale", "border", "lettering")


def bare_design(text: str, project: Project, variant: str | None) -> Design:
    """Return the pedal of a layout's text, without art, lettering and printer; `InputError` with every mistake."""
    return _resolved(text, project.layout.name, own_kinds(project), variant)


def kinds(text: str, project: Project) -> dict[str, Kind]:
    """Return every kind of part that a layout may name, those of its own included; `InputError` as above."""
    return dict(_bare(text, project.layout.name, own_kinds(project)).kinds)


def own_kinds(project: Project) -> tuple[Kind, ...]:
    """Return the kinds of the file beside a layout."""
    text = files.read_beside(project.layout, files.PARTS_FILE)
    return _parts(text, files.PARTS_FILE) if text is not None else ()


_parts = memoize(parse_parts)


@memoize
def _resolved(text: str, source: str, own: tuple[Kind, ...], variant: str | None) -> Design:
    return resolve.resolve(_bare(text, source, own), {}, variant)


@memoize
def _bare(text: str, source: str, own: tuple[Kind, ...]) -> Layout:
    raw = _without(read_toml(text, source))
    raw["variants"] = {name: _without(table) for name, table in raw.get("variants", {}).items()}
    return checked(raw, source, {}, own)


def _without(table: dict[str, Any]) -> dict[str, Any]:
    left = {key: value for key, value in table.items() if key not in _DRAWN}
    left |= {"finish": without_picture(table["finish"])} if "finish" in table else {}
    finish = left.get("finish")
    if isinstance(finish, dict) and "printer" in finish:
        left["finish"] = {key: value for key, value in finish.items() if key != "printer"}
    return left


def pedal(work: Workbench) -> Design | None:
    """Return the pedal as it is edited now, parts without art; where it is not sound, as it was shown last."""
    if work.project is None or work.document is None:
        return work.design
    try:
        return bare_design(work.document.text, work.project, work.content.variant)
    except InputError:
        return work.design
