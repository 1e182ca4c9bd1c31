"""Holes as drilled, in the window: a scan or photograph is brought, its holes are looked at, and taken over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup import as_built, files
from mockup.as_built import FaceReading, FaceRequest
from mockup.enclosure.bores import bores
from mockup.measure.pattern import LEAST_HOLES
from mockup.model.enclosure import FACES, FaceName
from mockup.model.errors import MockupError
from mockup.window.desk import Desk
from mockup.window.holes_card import HolesCard
from mockup.window.shell import theme
from mockup.window.shell.native_dialogs import PHOTOGRAPHS
from mockup.window.widgets.dialog import Answer, Question
from mockup.window.work.picture_reader import PictureJob

_RESOLUTIONS = (("", "Its own"), ("200", "200 dpi"), ("300", "300 dpi"), ("600", "600 dpi"))
_WIDE = 460.0  # units: by eye
_TALL = 380.0  # of what follows, the rest scrolls: by eye


@dataclass(kw_only=True)
class _Brought:
    """What is chosen before a picture is brought."""

    face: FaceName
    dpi: str = ""


def switch(desk: Desk) -> None:
    """Show the holes as drilled, or as designed again; where none are measured, ask for a picture."""
    project = desk.work.project
    if project is None:
        return
    if not desk.view.state.is_as_built and files.read_beside(project.layout, files.BUILT_FILE) is None:
        ask(desk)
        return
    desk.view.toggle("as-built")


def ask(desk: Desk, fault: str = "") -> None:
    """Ask for a scan or a photograph of a drilled face."""
    project, design = desk.work.project, desk.work.design
    if project is None or design is None:
        return
    if desk.work.is_changed:
        desk.messages.say("Save the pedal first: the holes are held against it as it is saved.")
        return
    every = [each.face for each in bores(design) if each.outline.kind == "circle"]
    faces = [each for each in FACES if every.count(each) >= LEAST_HOLES]
    if not faces:
        desk.messages.say(f"No face has {LEAST_HOLES} round holes, which a picture needs. Measure with calipers.")
        return
    brought = _Brought(face=faces[0])

    def choose(is_scan: bool) -> None:
        title = "A scan of the drilled face" if is_scan else "A photograph with the frame of marks on the face"
        desk.chooser.file(
            title, project.folder, [PHOTOGRAPHS], lambda path: _read(desk, brought, (path,), is_scan=is_scan)
        )

    desk.dialog.ask(
        Question(
            title="Holes as drilled",
            lines=[fault] if fault else
            ["Bring a flatbed scan of the drilled face, before the decal is on, or a photograph with the frame of "
             "marks (Take away, measure) laid on it. Pictures can also be dropped here: two scans of the top, turned "
             "by half, tell where on the box the holes lie."],
            answers=(
                Answer(label="A photograph", name="photo", does=lambda: choose(False)),
                Answer(label="A scan", name="scan", does=lambda: choose(True)),
                Answer(label="Leave", name="leave", does=lambda: None),
            ),
            body=lambda: _choices(desk, faces, brought),
            wide=_WIDE,
            takes=lambda paths: _dropped(desk, brought, tuple(paths)),
        )
    )  # fmt: skip


def _dropped(desk: Desk, brought: _Brought, paths: tuple[Path, ...]) -> None:
    """Ask which kind of picture was dropped."""
    is_one = len(paths) == 1
    desk.dialog.ask(
        Question(
            title=f"What is {paths[0].name}?" if is_one else f"What are these {len(paths)} pictures?",
            lines=[],
            answers=(
                Answer(
                    label="A photograph" if is_one else "Photographs", name="photo",
                    does=lambda: _read(desk, brought, paths, is_scan=False),
                ),
                Answer(
                    label="A scan" if is_one else "Scans", name="scan",
                    does=lambda: _read(desk, brought, paths, is_scan=True),
                ),
                Answer(label="Leave", name="leave", does=lambda: None),
            ),
        )
    )  # fmt: skip


def _choices(desk: Desk, faces: Sequence[FaceName], brought: _Brought) -> None:
    widgets = desk.widgets
    if len(faces) > 1:
        widgets.text("Face", colour=widgets.palette.second)
        pushed = widgets.choose("built.face", [(each, each.capitalize()) for each in faces], brought.face)
        brought.face = next((each for each in faces if each == pushed), brought.face)
        widgets.space(theme.SPACES[1])
    widgets.text("Resolution of a scan", colour=widgets.palette.second)
    pushed = widgets.choose("built.dpi", _RESOLUTIONS, brought.dpi)
    brought.dpi = brought.dpi if pushed is None else pushed


def _read(desk: Desk, brought: _Brought, paths: tuple[Path, ...], *, is_scan: bool) -> None:
    """Have pictures read; the holes are shown then."""
    project = desk.work.project
    if project is None:
        return
    request = FaceRequest(face=brought.face, dpi=float(brought.dpi) if brought.dpi and is_scan else None)
    request = replace(request, scans=paths) if is_scan else replace(request, photos=paths)
    asked = [True]

    def leave() -> None:
        asked.clear()

    def deliver(reading: FaceReading | None, why: str) -> None:
        if not asked or desk.work.project is not project:
            return
        desk.window.touch()
        if reading is None:
            ask(desk, why)
        else:
            _look(desk, brought, paths, reading)

    given = (project.layout, request, desk.work.content.variant)
    desk.pictures.read(PictureJob(question=lambda: as_built.read_face, given=given, deliver=deliver))
    desk.dialog.ask(
        Question(
            title="Holes as drilled", lines=[f"Reading {', '.join(path.name for path in paths)} ..."],
            answers=(Answer(label="Leave", name="leave", does=leave),), wide=_WIDE,
        )
    )  # fmt: skip


def _look(desk: Desk, brought: _Brought, paths: tuple[Path, ...], reading: FaceReading) -> None:
    """Show the holes that were read; they are taken over when the user says so, or another scan is brought."""
    card = HolesCard(desk, reading)
    can_add = reading.by == "scan" and reading.face == "top" and not reading.is_placed
    desk.pictures.replace(card.close)

    def add() -> None:
        desk.chooser.file(
            "A scan of the top, turned by half on the same place of the glass", paths[0].parent, [PHOTOGRAPHS],
            lambda path: _read(desk, brought, (*paths, path), is_scan=True),
        )  # fmt: skip

    def take() -> None:
        try:
            told, notes = as_built.accept(reading, card.answers)
        except MockupError as error:
            desk.messages.say_error(error)
            return
        _tell(desk, told, notes)

    desk.dialog.ask(
        Question(
            title=f"The holes of the {reading.face} as seen",
            lines=["Solid: found. Amber: its rival. Violet: the drill's circle where the design has it. What is "
                   "marked ? is not taken over until you say which circle is the rim."],
            answers=(
                Answer(label="Take over", name="take", does=take),
                *((Answer(label="Add a scan", name="add", does=add),) if can_add else ()),
                Answer(label="Leave", name="leave", does=lambda: None),
            ),
            body=card.draw,
            wide=_WIDE,
        )
    )  # fmt: skip


def _tell(desk: Desk, told: as_built.AsBuilt, notes: Sequence[str]) -> None:
    """Say what is known then, and show the pedal so."""
    if not desk.view.state.is_as_built:
        desk.view.toggle("as-built")
    desk.work.reload()
    desk.dialog.ask(
        Question(
            title="Holes as drilled: what follows",
            lines=[],
            answers=(Answer(label="Done", name="done", does=lambda: None),),
            body=lambda: _follows(desk, (*as_built.lines(told), *notes)),
            wide=_WIDE + 120.0,
        )
    )


def _follows(desk: Desk, lines: Sequence[str]) -> None:
    if imgui.begin_child("follows", ImVec2(0, _TALL * desk.widgets.scale)):
        for line in lines:
            desk.widgets.text(f"{line}.")
            desk.widgets.space(theme.SPACES[0])
    imgui.end_child()
