"""The options of an output as rows: a plain word at the left, its control at the right, the rest in the tip."""

from __future__ import annotations

from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.model.text import capitalized
from mockup.options import OptionField
from mockup.window.desk import Desk
from mockup.window.saves import output_options
from mockup.window.saves.output_options import Given
from mockup.window.saves.pane_pictures import saved_size
from mockup.window.shell.native_dialogs import FileKind
from mockup.window.stations.inputs.number_row import FIELD, begin_row

_LABELS = {
    "page": "Paper", "faces": "Faces", "units": "Measures in", "copies": "Copies", "dpi": "Dots per inch",
    "gap": "Between decals", "trim": "Film round the art", "centres": "Hole centres", "mirror": "Mirrored",
    "match": "Match the ink", "icc": "Printer profile", "date": "Date", "rule": "Measuring page",
    "with_": "Another pedal", "larger": "Times as large", "quality": "Quality", "frames": "Pictures",
    "size": "Picture size", "turn_size": "Turntable size", "light": "Light", "engine": "Drawn by",
    "texture": "Art, longest side", "sides": "Sides, too", "fit": "Room to the box", "wall": "Wall", "plate": "Plate",
    "skirt": "Skirt", "guide": "Guide hole", "bush": "Bush", "bush_height": "Bush height", "face": "Face",
    "art": "Picture", "lines": "Lines", "turn_kind": "Turn as", "turn_mb": "Turn, at most MB",
    "for_others": "For others", "detail": "Close picture of",
}  # fmt: skip
_WORDS = {"a4": "A4", "letter": "Letter", "each": "One by one", "mm": "mm", "in": "inches"}
_UNCHOSEN = {"units": "Pedal's own"}
_PAPERS = ("a4", "letter")
_OWN = "own"
_WIDE = 148.0  # units, of a control
_KINDS = {
    "file": FileKind(name="Printer profiles", suffixes=(".icc", ".icm")),
    "layout": FileKind(name="Pedals", suffixes=(".toml",)),
}


def draw(desk: Desk, output: str) -> None:
    """Lay out a row for each option of an output; what is chosen is kept for it."""
    widgets, saves = desk.widgets, desk.saves
    given = saves.given.setdefault(output, {})
    kinds = output_options.suffixes(output)
    if len(kinds) > 1:
        begin_row(desk, "As", room=_WIDE)
        imgui.begin_group()
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(2 * widgets.scale, 6 * widgets.scale))
        rows = [(kind, kind.removeprefix(".").upper()) for kind in kinds]
        picked = widgets.choose(f"{output}.suffix", rows, saves.suffix.get(output, kinds[0]))
        imgui.pop_style_var()
        imgui.end_group()
        saves.suffix[output] = picked or saves.suffix.get(output, kinds[0])
    for field in output_options.fields(output):
        found = _row(desk, output, field, given.get(field.name, output_options.at_first(field)))
        if found is not None:
            given[field.name] = found
    if output == "still":
        times = int(str(given.get("larger", "2")))
        panes = 1 if desk.view.state.is_wipe else len(desk.view.state.variants)
        width, height = saved_size(desk.view.pane_size(), panes)
        widgets.note(f"{width * times} × {height * times} pixels: what you see, without numbers and outlines")


def label(field: OptionField) -> str:
    """Return the word of an option; one of a plug-in of one's own goes by its name."""
    return _LABELS.get(field.name) or field.name.strip("_").replace("_", " ").capitalize()


def _row(desk: Desk, output: str, field: OptionField, now: Given) -> Given | None:
    """Draw the row of an option; return what was chosen."""
    widgets, place = desk.widgets, f"{output}.{field.name}"
    about = capitalized(field.help)
    wide = _WIDE * widgets.scale
    if isinstance(now, bool):
        begin_row(desk, label(field), room=_box(desk))
        return not now if widgets.check("", place, now, tip=about) else None
    if field.reads in _KINDS:
        return _chosen_file(desk, field, place, now, about)
    if field.name == "page":
        return _paper(desk, field, place, now, about)
    choices = output_options.choices(field)
    if choices:
        begin_row(desk, label(field), room=_WIDE)
        rows = [(each, _WORDS.get(each) or each.replace("-", " ").capitalize()) for each in choices]
        rows = [(each, word or _UNCHOSEN.get(field.name, "As usual")) for each, word in rows]
        return widgets.combo(place, rows, now, wide=wide, tip=about)
    is_number = field.kind in ("number", "whole number")
    hint = "mm" if is_number and field.help.endswith("mm") else "" if now or not is_number else "as usual"
    begin_row(desk, label(field), hint, room=FIELD if is_number else _WIDE)
    across = FIELD * widgets.scale if is_number else wide
    return widgets.field(place, now, wide=across, tip=about, is_taken_on_leaving=True)


def _box(desk: Desk) -> float:
    """Return how wide a box to tick is, in units."""
    return float(imgui.get_frame_height()) / desk.widgets.scale


def _paper(desk: Desk, field: OptionField, place: str, now: str, about: str) -> str | None:
    """A list of papers; one's own size is typed under it."""
    widgets = desk.widgets
    begin_row(desk, label(field), room=_WIDE)
    is_own = now.lower() not in _PAPERS
    rows = [(each, _WORDS[each]) for each in _PAPERS]
    picked = widgets.combo(
        place, [*rows, (_OWN, "Your own size")], _OWN if is_own else now.lower(), wide=_WIDE * widgets.scale, tip=about
    )
    if picked is not None:
        return "210x297" if picked == _OWN else picked
    if not is_own:
        return None
    begin_row(desk, "Width × height", room=_WIDE)
    return widgets.field(f"{place}.own", now, wide=_WIDE * widgets.scale, tip=about, is_taken_on_leaving=True)


def _chosen_file(desk: Desk, field: OptionField, place: str, now: str, about: str) -> str | None:
    """A file that is chosen, by a button that says which; the cross takes it back."""
    widgets, given = desk.widgets, desk.saves.given[place.partition(".")[0]]
    room = _WIDE - (34 if now else 0)
    begin_row(desk, label(field), room=_WIDE)
    name = Path(now).parent.name if now and field.reads == "layout" else Path(now).name
    said = widgets.shortened(name, (room - 24) * widgets.scale, widgets.faces.strong) if now else "Choose ..."
    if widgets.button(said, place, wide=room * widgets.scale, tip=about):
        start = Path(now).parent if now else Path.home()

        def take(path: Path) -> None:
            given[field.name] = str(path)

        desk.chooser.file(label(field), start, [_KINDS[str(field.reads)]], take)
    if now:
        imgui.same_line(0, 4 * widgets.scale)
        if widgets.icon_button("xmark", f"{place}.none", tip="Leave it out"):
            return ""
    return None
