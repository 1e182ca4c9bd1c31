"""Art: pictures printed on film, where they lie and what they are printed on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.decal.account import accounts
from mockup.decal.processes import PROCESSES
from mockup.films import films
from mockup.layout.edit import decals
from mockup.model.enclosure import FACE_WORDS
from mockup.model.finish import Decal
from mockup.model.text import capitalized
from mockup.window import art_flow
from mockup.window.desk import Desk
from mockup.window.dimensions.measured_drawing import MeasuredDrawing
from mockup.window.own_edit import own_edit
from mockup.window.pointer.face_things import FaceThing
from mockup.window.shelf.subjects import ArtSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.shell.native_dialogs import FileKind
from mockup.window.station import RailState, Station
from mockup.window.stations.lying import doubt_rows, film_cut
from mockup.window.stations.lying.account import draw_account
from mockup.window.stations.lying.art_sketch import art_sketch
from mockup.window.stations.lying.lying_marks import LyingMarks
from mockup.window.stations.lying.thing_row import thing_row
from mockup.window.widgets.tile import tile

WORD, ICON = "Art", "image"
_WHITES = (("drawn", "What is drawn"), ("everything", "Everything"))
_CELL = (376, 228)  # pixels of a picture in the drawer, drawn at half that size: the window's design


class Page(Station):
    """The decals of the pedal, their places and their film."""

    drawer = 212.0

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._drawing = MeasuredDrawing(desk.widgets, desk.messages.say, desk.work.held.hold)
        self._marks = LyingMarks(desk)

    def rail_state(self) -> RailState:
        """Return how many decals there are."""
        count = len(self._decals())
        return RailState(text=str(count) if count else "")

    def title(self) -> tuple[str, str]:
        """Return the picked picture and its face, else the station's name and how many decals there are."""
        thing = self._picked()
        if thing is not None:
            return thing.name, f"A decal on the {FACE_WORDS[thing.face]}"
        count = len(self._decals())
        return "Art", f"{count} on this pedal" if count else "none yet"

    def draw_head(self) -> None:
        """Draw the name; of a picked picture with what opens its file."""
        thing = self._picked()
        if thing is None:
            super().draw_head()
            return
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        title, line = self.title()
        buttons = 2 * (theme.QUIET_BUTTON + 4) * scale
        left, wide = imgui.get_cursor_pos_x(), widgets.wide
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted(widgets.shortened(title, wide - buttons, widgets.faces.title))
        imgui.same_line(left + wide - buttons + 4 * scale)
        if widgets.icon_button("folder-open", "art.show", tip="Show the file in its folder"):
            art_flow.show_art(self._desk, thing.name)
        imgui.same_line(0, 4 * scale)
        if widgets.icon_button("arrow-up-right-from-square", "art.open", tip="Open in my image editor"):
            art_flow.open_art(self._desk, thing.name)
        imgui.set_cursor_pos_y(imgui.get_cursor_pos_y() - 4 * scale)
        widgets.text(line, colour=widgets.palette.second)

    def draw_sheet(self) -> None:
        """Draw what is picked, else the list of decals."""
        thing, design = self._picked(), self._desk.work.design
        if design is None or self._desk.work.document is None:
            return
        own_edit(self._desk)
        if thing is None:
            self._listed()
            return
        decal = design.decals[int(thing.way[1])]
        self._place(thing, decal)
        self._film(thing, decal)
        self._desk.widgets.title("What was loaded")
        account = next((each for each in accounts(design) if each.decal == thing.way[1]), None)
        if account is not None:
            draw_account(self._desk, account)
        film_cut.draw_layers(self._desk, thing, decal)
        film_cut.draw_cut(self._desk, thing, decal)
        doubt_rows.draw(self._desk, int(thing.way[1]))

    def actions(self) -> Sequence[str]:
        """Return what can be done with a picked picture."""
        return ("lying-centre", "twin", "turn-part", "remove") if self._picked() is not None else ()

    def draw_marks(self, canvas: imgui.ImDrawList) -> None:
        """Draw brackets, arc and size round the picked picture."""
        thing = self._picked()
        if thing is not None:
            self._marks.draw(canvas, thing)

    def draw_drawer(self) -> None:
        """Draw the pictures of the project's folder."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        project, design = desk.work.project, desk.work.design
        if project is None or design is None:
            return
        imgui.set_cursor_pos(ImVec2(16 * scale, 14 * scale))
        imgui.begin_group()
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted("Pictures")
        widgets.note(f"in {project.folder.name}")
        imgui.end_group()
        imgui.set_cursor_pos_x(12 * scale)
        imgui.begin_child("art.pictures", ImVec2(widgets.wide - 4 * scale, 0), imgui.ChildFlags_.nav_flattened)
        used = {decal.art.name: decal for decal in self._decals().values()}
        found = [each for each in _pictures(project.folder) if each not in used]
        for name in (*used, *found):
            self._cell(name, used.get(name))
        if not used and not found:
            widgets.note("No picture in this folder yet.")
        widgets.space(4)
        if widgets.button("Choose a picture", "art.choose", glyph="folder-open", wide=min(widgets.wide, 188 * scale)):
            self._choose()
        widgets.space(4)
        widgets.note("Or drop one on any face. It lies there at its true size.")
        imgui.end_child()

    def dropped(self, x: float, y: float, paths: Sequence[Path]) -> bool:
        """Lay a picture that was let go over the pedal; False for what is none."""
        taken = [path for path in paths if path.suffix.lower() in art_flow.PICTURES]
        done = [art_flow.drop(self._desk, path, x, y) for path in taken]
        return any(done)

    def _choose(self) -> None:
        project = self._desk.work.project
        if project is not None:
            kind = FileKind(name="Pictures", suffixes=art_flow.PICTURES)
            self._desk.chooser.file(
                "A picture for the pedal", project.folder, [kind], lambda path: art_flow.lay(self._desk, path)
            )

    def _cell(self, name: str, decal: Decal | None) -> None:
        """Draw one picture of the folder; a click lays it on the top, or picks the decal that it is."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        project = desk.work.project
        assert project is not None
        wide = min(widgets.wide, 188 * scale)
        face = FACE_WORDS[desk.view.state.dressed_face]
        does = "pick it on the pedal" if decal is not None else f"lay it on the {face}"
        cell = tile(widgets, f"picture.{name}", wide, round(wide * _CELL[1] / _CELL[0]), tip=f"{name}: {does}")
        cell.fill(widgets.palette.raised)
        cell.picture(desk.shelf.texture(Thumbnail(subject=ArtSubject(project=project, name=name), size=_CELL)))
        picked = self._picked()
        if picked is not None and picked.name == name:
            cell.edge(widgets.palette.chalk, 2, away=1)
        said = f"on the {FACE_WORDS[decal.face]}" if decal is not None else "not used"
        with widgets.small():
            room = imgui.calc_text_size(said).x + 8 * scale
        left = imgui.get_cursor_pos_x()
        with widgets.font(widgets.faces.number):
            imgui.text_unformatted(widgets.shortened(name, wide - room, widgets.faces.number))
        with widgets.small():
            imgui.same_line(left + wide - room + 8 * scale)
            widgets.text(said, is_dim=True)
        widgets.space(8)
        if cell.is_pushed and decal is not None:
            number = next(number for number, each in self._decals().items() if each is decal)
            desk.view.change(desk.view.state.picking(("decal", number)))
        elif cell.is_pushed:
            art_flow.lay(desk, project.folder / name)

    def _listed(self) -> None:
        widgets = self._desk.widgets
        found = self._decals()
        if not found:
            widgets.text("Drop a picture on a face.")
            widgets.space(4)
            widgets.note("Or click one of your folder at the left. It lies there in its true size, centred.")
            return
        for number, decal in found.items():
            thing_row(self._desk, ("decal", number), decal.art.name, f"on the {FACE_WORDS[decal.face]}")

    def _place(self, thing: FaceThing, decal: Decal) -> None:
        desk, design = self._desk, self._desk.work.design
        assert design is not None
        changes, widgets = desk.tools.lying.changes, desk.widgets
        table, address = changes.table(thing.way), changes.address(thing.way)
        widgets.title("Size and place", is_first=True, hint=desk.work.units)
        typed = self._drawing.draw(
            "art", art_sketch(desk.work.faces[thing.face], desk.tools.lying.lying(thing), table), desk.work.units
        )
        for name, value in typed.items():
            if name == "width":
                art_flow.change(desk, f"width of {thing.name}", decals.sized(address, value))
            elif name == "height":
                width = value * thing.lying.width_mm / thing.lying.height_mm
                art_flow.change(desk, f"height of {thing.name}", decals.sized(address, width))
            elif name == "rotation":
                art_flow.change(desk, f"turn {thing.name}", decals.turned_to(address, value))
            elif name in decals.AXES:
                side: decals.Side = name
                art_flow.change(desk, f"place of {thing.name}", decals.measured(address, side, value))
        widgets.space(8)
        half = (widgets.wide - 8 * widgets.scale) / 2
        if widgets.button("Fit the flat", "art.fit", wide=half, tip="As large as the flat takes it, in its middle"):
            art_flow.fit(desk, thing)
        imgui.same_line(0, 8 * widgets.scale)
        own = decals.own_size(decal.art)
        tip = "As large as its file says" if own is not None else "Its file does not say how large it is"
        if widgets.button("As drawn", "art.as-drawn", wide=half, tip=tip, is_enabled=own is not None):
            art_flow.as_drawn(desk, thing)

    def _film(self, thing: FaceThing, decal: Decal) -> None:
        desk, widgets, design = self._desk, self._desk.widgets, self._desk.work.design
        assert design is not None
        widgets.title("Film")
        rows = [(name, name.capitalize()) for name in films()]
        tips = [capitalized(film.about) for film in films().values()]
        film = widgets.choose("film", rows, decal.film.name, tips=tips)
        if film is not None and film != decal.film.name:
            art_flow.print_on(desk, (int(thing.way[1]),), film)
        self._process(int(thing.way[1]), decal)
        coat = design.finish.has_clear_coat
        widgets.note(
            "Lacquer hides the film's edge and gives it the paint's sheen."
            if coat
            else "There is no lacquer: the film's edge shows, and its own sheen."
        )

    def _process(self, number: int, decal: Decal) -> None:
        """Choose how it is printed, and where white goes where that prints white."""
        desk, widgets = self._desk, self._desk.widgets
        widgets.space(4)
        widgets.note("Printed by")
        rows = [(name, name.replace("-", " ").capitalize()) for name in PROCESSES]
        tips = [capitalized(each.about) for each in PROCESSES.values()]
        process = widgets.choose("process", rows, decal.process.name, columns=2, tips=tips)
        if process is not None and process != decal.process.name:
            art_flow.print_on(desk, (number,), process, "process")
        if decal.process.white is not None:
            widgets.space(4)
            widgets.note("White under")
            now = decal.white_under if isinstance(decal.white_under, str) else None  # else a picture says where
            where = widgets.choose("white", _WHITES, now)
            if where is not None and where != now:
                art_flow.print_on(desk, (number,), where, "white_under")
        widgets.space(4)

    def _picked(self) -> FaceThing | None:
        thing = self._desk.tools.lying.picked
        return thing if thing is not None and not thing.is_word else None

    def _decals(self) -> dict[int, Decal]:
        return art_flow.art_of(self._desk.work.design)


def _pictures(folder: Path) -> list[str]:
    """Return the names of the pictures in a folder, in order."""
    try:
        return sorted(each.name for each in folder.iterdir() if each.suffix.lower() in art_flow.PICTURES)
    except OSError:
        return []
