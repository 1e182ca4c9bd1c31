"""The finished pedal beside its picture: a photograph is brought, its camera found, and both are compared."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from mockup import files
from mockup.colour import rgb
from mockup.model.errors import MockupError
from mockup.model.material import Colour
from mockup.options import Result
from mockup.window import save_flow
from mockup.window.desk import Desk
from mockup.window.photograph.side_lines import SideLines
from mockup.window.saves import outside
from mockup.window.shell.messages import Remedy
from mockup.window.shell.native_dialogs import PHOTOGRAPHS
from mockup.window.work.picture_reader import PictureJob

if TYPE_CHECKING:
    from mockup.comparison.beside.photograph import Beside, OpenedPhotograph


def show(desk: Desk) -> None:
    """Show the photograph that is held beside this pedal; without one, ask for it."""
    project, photo = desk.work.project, desk.photo
    if project is None:
        return
    if photo.layout == project.layout and photo.pixels is not None:
        _open_page(desk)
    else:
        choose(desk)


def choose(desk: Desk) -> None:
    """Ask for a photograph."""
    project = desk.work.project
    if project is not None:
        title = "A photograph of the finished pedal"
        desk.chooser.file(title, project.folder, [PHOTOGRAPHS], lambda path: take(desk, path))


def take(desk: Desk, path: Path) -> None:
    """Have a photograph read; its marks tell the camera, or lines are laid over it."""
    project, design, photo = desk.work.project, desk.work.design, desk.photo
    if project is None or design is None:
        desk.messages.say("The pedal is still being read; bring the photograph again when it is there.")
        return
    photo.clear()
    photo.path, photo.layout, photo.said = path, project.layout, "The photograph is being read"

    def question() -> Callable[..., Any]:
        from mockup.comparison.api import open_photograph

        return open_photograph

    def deliver(opened: OpenedPhotograph | None, why: str) -> None:
        if photo.path != path or desk.work.project is not project:
            return
        if opened is None:
            photo.clear()
            leave(desk)
            desk.messages.say(why)
            return
        photo.read(opened, design.enclosure)
        desk.view.change(
            desk.view.state.photo_as("wipe" if photo.found is not None and photo.found.is_marked else "lines")
        )

    desk.pictures.read(PictureJob(question=question, given=(design, path), deliver=deliver))
    _open_page(desk)


def change(desk: Desk, lines: SideLines, *, is_quick: bool = False) -> None:
    """Take other lines, and the camera that follows from them; `is_quick` while one is dragged."""
    if desk.work.design is not None:
        desk.photo.change(lines, desk.work.design.enclosure, is_quick=is_quick)
        desk.window.touch()


def compare(desk: Desk) -> None:
    """Have the photograph held beside its picture: parts, colours, what they teach."""
    lines = desk.photo.lines

    def question() -> Callable[..., Any]:
        from mockup.comparison.api import hold_photograph

        return hold_photograph

    def take_told(told: Beside) -> None:
        if desk.photo.lines.lines == lines.lines:  # else it was moved meanwhile
            desk.photo.hold(told)

    _ask(desk, "Being compared", question, take_told)


def save_page(desk: Desk) -> None:
    """Write the page that shows photograph and picture, with what they tell, to the folder of pages."""
    folder = save_flow.folder(desk)

    def question() -> Callable[..., Any]:
        from mockup.comparison.api import photograph_page

        return photograph_page

    def write(made: Result) -> None:
        try:
            files.write_all({folder / name: data for name, data in made.files.items()})
        except MockupError as error:
            desk.messages.say_error(error)
            return
        name = next(iter(made.files))
        shown = Remedy(label="Show in folder", does=lambda: outside.show_in_folder(folder / name))
        desk.messages.say(f"{name} is saved in {folder.name}.", remedy=shown)

    _ask(desk, "The page is being made", question, write)


def _ask(desk: Desk, said: str, question: Callable[[], Callable[..., Any]], take_answer: Callable[[Any], None]) -> None:
    """Ask a question of the photograph, its lines and its card; what is wrong is said in one line."""
    from mockup.comparison.beside.options import BesideOptions
    from mockup.comparison.beside.photograph import bent

    design, photo = desk.work.design, desk.photo
    path, near, lines = photo.path, photo.found, photo.lines
    if design is None or path is None or near is None:
        return

    def deliver(answer: object, why: str) -> None:
        if photo.path != path:
            return
        photo.said = ""
        if answer is None:
            desk.messages.say(why)
        else:
            take_answer(answer)
        desk.window.touch()

    card = None
    if lines.card is not None:
        x, y = bent(near.fit, np.array(lines.card)).tolist()
        card = f"{x:.2f},{y:.2f}"
    options = BesideOptions(line=lines.options(), card=card, quality="draft", light=desk.view.state.light)
    photo.said = said
    desk.pictures.read(PictureJob(question=question, given=(design, path, options, near), deliver=deliver))
    desk.window.touch()


def leave(desk: Desk) -> None:
    """Go back to the station; the photograph stays at hand."""
    state = desk.view.state
    desk.view.change(state.at_station(state.station))


def take_paint(desk: Desk, paint: Colour) -> None:
    """Give the pedal the paint that the photograph shows."""
    code = rgb.to_hex(paint)
    desk.work.edit(lambda document, scope: document.put(("finish", "paint"), code, "change the paint", **scope))


def _open_page(desk: Desk) -> None:
    if desk.view.state.is_flipped:
        desk.camera.take_view("three-quarter")
    desk.view.change(desk.view.state.with_page("photograph"))
