"""Random edits of parts and box, and undos, over the real document, workbench and window state; no picture is drawn."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from mockup import hardware, knobs
from mockup.arrange import groups
from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import box as box_edits
from mockup.layout.edit.parts import knobbed, measured
from mockup.model.edit import Address, InsertTable
from mockup.model.enclosure import FACES, faces
from mockup.window import new_part, part_flow
from mockup.window.desk import Desk
from mockup.window.parts.own_kind import Caliper, kind_table
from mockup.window.state import State
from mockup.window.work.workbench import Workbench

BY_HAND = """\
# A pedal written by hand; none of this may be lost.
name = "Heron"            # its name
units = "mm"

[box]
size = "121x66x39"        # as bought
wall = 2.2

[finish]
paint = "#a5d2c8"   # pond

# the bright one
[[part]]
name = "TONE"
kind = "pot-16"
left = 17                 # by ruler
top = "3/4 in"
knob = { style = "barrel", pointer = 0.7 }

[[part]]
name = "EYE"
kind = "lamp-5"
colour = "#ff0000"
top = 60

[[part]]
name = "IN"
kind = "jack-enclosed"
face = "right"

[[scale]]
part = "TONE"

[variants.night]
finish = { paint = "#101018" }

[[variants.night.part]]
name = "TONE"
left = 19
"""
KINDS = sorted(hardware.kinds())
_NAMES = st.sampled_from(["FLOW", "BANK", "TONE", "EYE", "IN", "DRIVE 2", " ", "é", 'quote "x"', "a\\b"])


class QuietWork(Workbench):
    """The workbench without what runs beside it."""

    def request_scenes(self, *, is_fresh: bool = False) -> None:
        """Draw nothing."""

    def request_findings(self) -> None:
        """Check nothing."""


class QuietView:
    """What the window shows, as a value; a change of variant goes to the workbench as in the window."""

    def __init__(self, work: Workbench) -> None:
        self._work = work
        self.state = State()

    def change(self, state: State) -> None:
        """Show another state."""
        self.state = state
        self._work.show(state.contents, state.active)


def quiet_desk(layout: Path) -> Desk:
    """A desk with a layout open, its own parts behind it and no window."""
    said: list[str] = []
    note = lambda *words, **_: said.append(str(words))  # noqa: E731
    messages = SimpleNamespace(say=note, say_error=note, clear=lambda: None, clear_fault=lambda *_: None, said=said)
    nothing = lambda *_, **__: None  # noqa: E731
    window = SimpleNamespace(touch=nothing, retitle=nothing, settle=nothing)
    work = QuietWork(cast(Any, window), cast(Any, SimpleNamespace(post=nothing)), cast(Any, messages))
    assert work.open(layout)
    focus = SimpleNamespace(ask=nothing, leave_panel=nothing)
    return cast(
        Desk,
        SimpleNamespace(
            work=work, view=QuietView(work), messages=messages, widgets=SimpleNamespace(focus=focus),
            camera=SimpleNamespace(see_face=nothing), window=window,
        ),
    )  # fmt: skip


class PartMachine(RuleBasedStateMachine):
    """Does what a builder does with parts and box, in any order."""

    folder: Path
    """Where the layout lies; set by whoever runs the machine."""

    @initialize()
    def begin(self) -> None:
        """Open the pedal."""
        layout = self.folder / "layout.toml"
        layout.write_bytes(BY_HAND.encode())
        self.desk = quiet_desk(layout)

    @property
    def names(self) -> list[str]:
        """The names of all parts."""
        design = part_flow.pedal(self.desk)
        return [part.name for part in design.parts] if design is not None else []

    @rule(kind=st.sampled_from(KINDS), face=st.sampled_from(FACES), at=st.tuples(st.floats(0, 1), st.floats(0, 1)))
    def set_down(self, kind: str, face: str, at: tuple[float, float]) -> None:
        """Carry a part out of the drawer onto a face."""
        design = part_flow.pedal(self.desk)
        if design is None:  # the box is not sound: nothing stands anywhere
            return
        side = faces(design.enclosure)["top" if hardware.kinds()[kind].mount == "inside" else face]  # type: ignore[index]
        left, top, right, bottom = side.flat
        new = part_flow.fresh(design, hardware.kinds()[kind])
        place = replace(
            new, face=side.name, u_mm=left + at[0] * (right - left), v_mm=top + at[1] * (bottom - top)
        )  # fmt: skip
        new_part.add(self.desk, new.kind, place)

    @precondition(lambda self: part_flow.pedal(self.desk) is None)
    @rule()
    def mend(self) -> None:
        """Take back what made the box unsound."""
        self.desk.work.undo()

    @rule(key=st.sampled_from(box_edits.MEASURES), value=st.floats(0.0, 300.0))
    @precondition(lambda self: len(self.names) > 5)
    def mistype(self, key: str, value: float) -> None:
        """Type a measure that makes no box."""
        scope = self.desk.work.scope
        part_flow.change(self.desk, "box", lambda raw: box_edits.measured(raw, key, value, **scope))

    @precondition(lambda self: self.desk.view.state.naming is not None)
    @rule(name=_NAMES)
    def name_it(self, name: str) -> None:
        """Type the name that is open, and Enter."""
        part_flow.end_naming(self.desk, name)

    @rule(data=st.data(), many=st.booleans())
    def pick(self, data: st.DataObject, many: bool) -> None:
        """Pick one part or several."""
        names = self.names
        some = st.lists(st.sampled_from(names), min_size=1, max_size=4 if many else 1, unique=True) if names else None
        chosen = data.draw(some) if some is not None else []
        self.desk.view.change(self.desk.view.state.picking(*(("part", name) for name in chosen)))

    @rule(data=st.data())
    def pick_another(self, data: st.DataObject) -> None:
        """Pick one part, which most of what follows needs."""
        names = self.names
        if names:
            self.desk.view.change(self.desk.view.state.picking(("part", data.draw(st.sampled_from(names)))))

    @rule()
    def pick_all(self) -> None:
        """Pick all of a face."""
        part_flow.pick_all(self.desk)

    @rule()
    def open_name(self) -> None:
        """Open the picked part's name."""
        part_flow.open_naming(self.desk)

    @rule(deed=st.sampled_from([part_flow.remove, part_flow.turn, part_flow.letter_picked, part_flow.scale_picked]))
    def do(self, deed: Any) -> None:
        """Do something with what is picked."""
        deed(self.desk)

    @rule(way=st.sampled_from(["spread", "mirror", "centre"]))
    def set_out(self, way: str) -> None:
        """Set the picked parts out."""
        part_flow.set_out(self.desk, way)

    @rule(line=st.sampled_from(["left", "middle", "right", "far", "centre", "near"]))
    def line_up(self, line: Any) -> None:
        """Line the picked parts up."""
        part_flow.order(self.desk, "line up", lambda parts, _face: groups.lined_up(parts, line))

    @rule(across=st.floats(-8, 8), down=st.floats(-8, 8))
    def nudge(self, across: float, down: float) -> None:
        """Move the picked parts."""
        part_flow.shift(self.desk, across, down)

    @rule(kind=st.sampled_from(KINDS))
    def rekind(self, kind: str) -> None:
        """Give the picked parts another kind."""
        part_flow.rekind(self.desk, hardware.kinds()[kind])

    @rule(style=st.sampled_from([*knobs.styles(), "none"]), size=st.floats(10, 30))
    def knob(self, style: str, size: float) -> None:
        """Choose a knob and its size for the picked parts that take one."""
        names = [part.name for part in part_flow.picked(self.desk) if part.kind.shaft is not None]
        scope = self.desk.work.scope
        part_flow.change(self.desk, "knob", lambda raw: knobbed(raw, names, "style", style, **scope))
        part_flow.change(self.desk, "knob", lambda raw: knobbed(raw, names, "diameter", size, **scope))

    @rule(size=st.sampled_from(sorted(SIZES)))
    def buy(self, size: str) -> None:
        """Take another box."""
        scope = self.desk.work.scope
        part_flow.change(self.desk, "box", lambda raw: box_edits.bought(raw, size, **scope))

    @rule(key=st.sampled_from(box_edits.MEASURES), share=st.floats(0.95, 1.1))
    def measure_box(self, key: str, share: float) -> None:
        """Type another measure of the box, near to what it is."""
        design, scope = part_flow.pedal(self.desk), self.desk.work.scope
        if design is None:
            return
        fields = {"wall": "wall_mm", "top": "top_mm", "draft": "draft_deg"}
        value = share * getattr(design.enclosure, fields.get(key, f"{key}_mm"))
        part_flow.change(self.desk, "box", lambda raw: box_edits.measured(raw, key, value, **scope))

    @rule(name=st.sampled_from(["Mine", "My pot", "pot-16"]), hole=st.floats(2, 20))
    def measure_kind(self, name: str, hole: float) -> None:
        """Measure a kind of one's own."""
        insert = InsertTable(address=Address(way=("kind",)), values=kind_table(name, Caliper(hole_mm=hole)))
        part_flow.change(self.desk, "kind", lambda _raw: (insert,))

    @rule(name=st.sampled_from(["Mine", "My pot"]), like=st.sampled_from(KINDS), deep=st.floats(5, 30))
    def measure_after(self, name: str, like: str, deep: float) -> None:
        """Measure a kind that has the form of another."""
        caliper = replace(Caliper.of(hardware.kinds()[like]), depth_mm=deep)
        insert = InsertTable(address=Address(way=("kind",)), values=kind_table(name, caliper))
        part_flow.change(self.desk, "kind", lambda _raw: (insert,))

    @rule(steps=st.lists(st.floats(1, 60), min_size=1, max_size=5), is_put_back=st.booleans())
    def drag_number(self, steps: list[float], is_put_back: bool) -> None:
        """Drag over the picked part's distance from the left: one step of undo, or none where it is put back."""
        name, work, scope = self.desk.view.state.selected, self.desk.work, self.desk.work.scope
        before = work.document
        if name is None or before is None or name not in self.names:
            return
        for mm in steps:
            work.held.hold()
            part_flow.change(self.desk, "move", lambda raw, mm=mm: measured(raw, name, "left", mm, **scope))  # type: ignore[misc]
            work.held.end_frame()
        after = work.document
        assert after is not None
        assert after.done <= before.done + 1
        if is_put_back:
            work.held.put_back()
            assert work.document is not None
            assert work.document.text == before.text
        work.held.end_frame()

    @rule(variant=st.sampled_from([None, "night"]), is_own=st.booleans())
    def show(self, variant: str | None, is_own: bool) -> None:
        """Show the design or a variant, its changes kept to it or not."""
        self.desk.view.change(self.desk.view.state.with_variant(variant))
        self.desk.work.is_own_edit = is_own and variant is not None

    @rule(times=st.integers(1, 4))
    def undo(self, times: int) -> None:
        """Take steps back."""
        for _ in range(times):
            self.desk.work.undo()

    @rule()
    def redo(self) -> None:
        """Make a step again."""
        self.desk.work.redo()

    @invariant()
    def the_layout_reads(self) -> None:
        """Whatever was done, the text reads as a layout's tables, comments kept."""
        document = getattr(self, "desk", None) and self.desk.work.document
        if document is not None:
            assert "none of this may be lost" in document.text
            names = [part["name"] for part in document.raw.get("part", [])]
            assert len(set(names)) == len(names)

    def teardown(self) -> None:
        """Undo all: the file is byte for byte what it was."""
        if not hasattr(self, "desk"):
            return
        document = self.desk.work.document
        assert document is not None
        while document.undoes is not None:
            document = document.undone()
        assert document.data == BY_HAND.encode()
        while document.redoes is not None:
            document = document.redone()
        self.desk.work.close()
