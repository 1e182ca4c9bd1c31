"""Letters: words, labels of parts, scales round knobs, borders."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import imgui

from mockup.model.enclosure import DECAL_FACES, FACE_WORDS
from mockup.model.label import Label
from mockup.window import letter_flow
from mockup.window.desk import Desk
from mockup.window.own_edit import own_edit
from mockup.window.pointer.face_things import FaceThing
from mockup.window.shell import theme
from mockup.window.station import RailState, Station
from mockup.window.stations.lying.lettering_sketches import BorderSheet, ScaleSheet
from mockup.window.stations.lying.lying_marks import LyingMarks
from mockup.window.stations.lying.thing_row import thing_row
from mockup.window.stations.lying.word_caret import WordCaret
from mockup.window.stations.lying.word_sheet import WordSheet

WORD, ICON = "Letters", "stamp"


class Page(Station):
    """All words on the pedal, its scales and its borders."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._marks, self._caret = LyingMarks(desk), WordCaret(desk)
        self._word, self._scale, self._border = WordSheet(desk), ScaleSheet(desk), BorderSheet(desk)

    def rail_state(self) -> RailState:
        """Return how many words there are."""
        count = len(self._labels())
        return RailState(text=str(count) if count else "")

    def title(self) -> tuple[str, str]:
        """Return the picked word and where it lies, else the station's name and how many words there are."""
        thing, picked = self._picked(), self._desk.view.state.picked
        if self._desk.tools.writing.is_on:
            return self._desk.tools.writing.text or "…", "Typing"
        if thing is not None:
            return thing.name, f"The label of {thing.part}" if thing.part is not None else "A word on the face"
        if len(picked) == 1 and picked[0][0] == "scale":
            return "Scale", f"round {self._desk.tools.lying.changes.table(picked[0]).get('part', 'every other knob')}"
        if len(picked) == 1 and picked[0][0] == "border":
            face = self._desk.tools.lying.changes.table(picked[0]).get("face", "top")
            return "Border", f"of the {face} face"
        count = len(self._labels())
        return "Letters", f"{count} on this pedal" if count else "none yet"

    def draw_head(self) -> None:
        """Draw the title; while a word is typed, with the keys that end it."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        title, line = self.title()
        left, wide = imgui.get_cursor_pos_x(), widgets.wide
        is_typing = self._desk.tools.writing.is_on
        room = wide if is_typing or self._picked() is None else wide - 36 * scale
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(widgets.shortened(title, room, widgets.faces.title))
        if room < wide:
            imgui.same_line(left + wide - 28 * scale)
            if widgets.icon_button("pencil", "word.write", tip="Write it anew, in its place", key="f2"):
                letter_flow.rewrite(self._desk)
        imgui.set_cursor_pos_y(imgui.get_cursor_pos_y() - 4 * scale)
        widgets.text(line, colour=widgets.palette.second)
        if is_typing:
            with widgets.small():
                said = "Enter  done     Esc  put back"
                imgui.same_line(left + wide - imgui.calc_text_size(said).x)
                widgets.text(said, is_dim=True)

    def draw_sheet(self) -> None:
        """Draw what is picked, else all words, scales and borders."""
        design, picked = self._desk.work.design, self._desk.view.state.picked
        if design is None or self._desk.work.document is None:
            return
        own_edit(self._desk)
        thing = self._picked()
        label = self._label(thing)
        if thing is not None and label is not None:
            self._word.draw(thing, label)
        elif len(picked) == 1 and picked[0][0] == "scale":
            self._scale.draw(picked[0])
        elif len(picked) == 1 and picked[0][0] == "border":
            self._border.draw(picked[0])
        else:
            self._listed()

    def actions(self) -> Sequence[str]:
        """Return what can be done with what is picked."""
        thing, picked = self._picked(), self._desk.view.state.picked
        if thing is not None:
            return ("remove",) if thing.part is not None else (
                "lying-centre", "twin", "turn-part", "remove",
            )  # fmt: skip
        return ("remove",) if len(picked) == 1 and picked[0][0] in ("scale", "border") else ()

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw round the picked word, with the caret where it is written."""
        thing, picked = self._picked(), self._desk.view.state.picked
        if thing is not None:
            self._marks.draw(canvas, thing)
        if len(picked) == 1 and picked[0][0] in ("scale", "border"):
            self._marks.outline(canvas, picked[0])
        if self._desk.tools.writing.is_on:
            self._caret.draw(canvas, thing, self._label(thing))

    def _listed(self) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        if widgets.button(
            "Write on the face", "letters.write", wide=widgets.wide, tall=theme.CHALK_BUTTON * scale, look="chalk",
            tip="A word of its own, in the middle of the top, or of the lid while you see it",
        ):  # fmt: skip
            letter_flow.write(desk)
        widgets.space(8)
        half = (widgets.wide - 8 * scale) / 2
        if widgets.button("Border", "letters.border", wide=half, tip="A line round the top"):
            letter_flow.border(desk)
        imgui.same_line(0, 8 * scale)
        if widgets.button("Scales", "letters.scales", wide=half, tip="Marks round every knob that has none"):
            letter_flow.scale(desk, None)
        labels = self._labels()
        if not labels:
            widgets.space(12)
            widgets.text("Pick a part and press Label, or write on the face.")
        for face in DECAL_FACES:
            found = [label for label in labels if label.face == face]
            if found:
                widgets.title(FACE_WORDS[face].capitalize())
            for label in found:
                if label.number is not None:
                    said = f"of {label.part}" if label.part is not None else "on the face"
                    thing_row(desk, ("label", label.number), label.text, said)
        for array, word in (("scale", "Scales"), ("border", "Borders")):
            tables = desk.tools.lying.changes.tables(array)
            if tables:
                widgets.title(word)
            for number, table in enumerate(tables):
                if array == "scale":
                    thing_row(desk, (array, number), str(table.get("part", "Every other knob")), "marks round it")
                else:
                    thing_row(desk, (array, number), FACE_WORDS[table.get("face", "top")].capitalize(), "line round it")

    def _picked(self) -> FaceThing | None:
        thing = self._desk.tools.lying.picked
        return thing if thing is not None and thing.is_word else None

    def _label(self, thing: FaceThing | None) -> Label | None:
        return next((each for each in self._labels() if thing is not None and each.number == thing.way[1]), None)

    def _labels(self) -> tuple[Label, ...]:
        design = self._desk.work.design
        return tuple(each for each in design.labels if each.number is not None) if design is not None else ()
