"""Paint: the colour, its sheen, lacquer over everything, and what art is printed on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from mockup.colour import rgb
from mockup.colour.paints import PAINTS, Paint
from mockup.decal.painting import paint_words
from mockup.decal.word_contrast import worst_word
from mockup.films import films
from mockup.finishes import lacquers, sheens
from mockup.layout.edit.variants import home, value_of
from mockup.model.design import Design
from mockup.model.edit import Address, RemoveValue
from mockup.model.finish import Finish
from mockup.model.material import Colour
from mockup.model.text import capitalized
from mockup.window.art_flow import PICTURES, art_of, change, paint_with, print_on
from mockup.window.desk import Desk
from mockup.window.own_edit import own_edit
from mockup.window.shelf.subjects import SheenSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.shell.native_dialogs import FileKind
from mockup.window.station import RailState, Station
from mockup.window.stations.inputs.eye_dropper import EyeDropper
from mockup.window.stations.inputs.paint_picker import PaintPicker
from mockup.window.stations.lying.reads import draw_reads
from mockup.window.widgets.tile import Tile, tile

WORD, ICON = "Paint", "spray-can"
_CHIP, _PAINTED, _COLUMNS = 42.0, 22.0, 6  # height of a candidate and of its paint, units: by eye
_SHEEN_TALL = 44.0  # of a chip of sheen, units: by eye
_SHEEN = (192, 96)  # pixels of a chip, drawn at half that size
_ALIKE = 0.05  # roughness that nobody tells apart: by eye


class Page(Station):
    """The page, with its paint picker and its eye-dropper."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._picker = PaintPicker(desk.widgets, "paint")
        self._dropper = EyeDropper(desk)
        self._was_dragged = False

    def rail_state(self) -> RailState:
        """Return the paint and its sheen."""
        design = self._desk.work.design
        if design is None:
            return RailState()
        sheen = design.finish.sheen
        return RailState(text=sheen.name.capitalize(), dot=design.finish.paint if sheen.is_painted else None)

    def title(self) -> tuple[str, str]:
        """Return the station's name, the paint and its sheen."""
        design = self._desk.work.design
        if design is None or not design.finish.sheen.is_painted:
            return "Paint", self.rail_state().text
        return "Paint", f"{_name(design.finish, self._desk.work.paints)}, {design.finish.sheen.name}"

    def draw_sheet(self) -> None:
        """Lay out paint, sheen, lacquer and film."""
        desk, widgets, work = self._desk, self._desk.widgets, self._desk.work
        design = work.design
        if design is None or work.document is None:
            return
        own_edit(desk)
        widgets.title("Colour", is_first=True)
        if not design.finish.sheen.is_painted:
            widgets.note("The box is bare metal, so no colour shows. Choose another sheen to paint it.")
            self._sheen(design.finish)
        else:
            self._paint(design.finish)
        worst = worst_word(design)
        if worst is not None:
            widgets.hairline()
            draw_reads(desk, design, *worst, whose=worst[0].text)
        self._lacquer(design)
        self._film(design)

    def _paint(self, finish: Finish) -> None:
        work, paint = self._desk.work, finish.paint
        chosen, dropped = self._candidates(finish), self._photographed()
        self._pictured(finish)
        self._sheen(finish)
        self._desk.widgets.title("Mix your own")
        try:
            picture = finish.picture.name if finish.picture is not None else ""
            slid = self._picker.draw(paint, work.paints, is_settled=not work.is_waiting, picture=picture)
        except ValueError as error:
            self._desk.messages.say(str(error))
            return
        found = next((each for each in (chosen, slid, dropped) if each is not None), None)
        code = rgb.to_hex(found) if found is not None else self._picker.named
        if code is not None:
            is_step = not self._picker.is_dragged
            work.edit(
                lambda document, scope: document.put(("finish", "paint"), code, "change the paint", **scope),
                is_step=is_step,
            )
        elif self._was_dragged and not self._picker.is_dragged:
            work.end_step()
        self._was_dragged = self._picker.is_dragged

    def _photographed(self) -> Colour | None:
        """Draw the button of the eye-dropper, and its card where it is open; return the paint that was taken."""
        widgets = self._desk.widgets
        if widgets.button(
            "From a photograph", "paint.dropper", glyph="eye-dropper", wide=widgets.wide,
            tip="A paint that you have: take its picture beside a sheet of white paper",
        ):  # fmt: skip
            self._dropper.ask()
        return self._dropper.draw()

    def _pictured(self, finish: Finish) -> None:
        """Draw the button that makes a picture the paint, and where its corners are in it."""
        desk, widgets = self._desk, self._desk.widgets
        project, document = desk.work.project, desk.work.document
        if project is None or document is None:
            return
        tip = "Two tones, a fade, swirls, wood: it lies on the drilled face, under the sheen and your art"
        if widgets.button("A picture as paint", "paint.picture", glyph="image", wide=widgets.wide, tip=tip):
            kind = FileKind(name="Pictures", suffixes=PICTURES)
            desk.chooser.file("A picture for the paint", project.folder, [kind], lambda path: paint_with(desk, path))
        if finish.picture is None:
            return
        widgets.note("Of a photograph: the face's corners in pixels, clockwise from its top left")
        address = Address(way=("finish", "paint_corners"), variant=desk.work.content.variant)
        now = value_of(document.raw, address)
        now = now if isinstance(now, str) else ""
        typed = widgets.field("paint.corners", now, tip="Such as 90,80 610,84 606,420 88,415; empty for all of it")
        if typed is not None and typed.strip():
            self._put("paint_corners", typed.strip(), "change the corners")
        elif typed is not None and now:
            change(desk, "all of the picture", (RemoveValue(address=home(document.raw, address)),))

    def _candidates(self, finish: Finish) -> Colour | None:
        """Draw the named paints; return the one that was pushed."""
        chosen = None
        for index, wide in self._desk.widgets.side_by_side(len(PAINTS), _COLUMNS):
            each = PAINTS[index]
            if self._chip(each, wide, is_on=rgb.to_hex(each.colour) == paint_words(finish)):
                chosen = each.colour
        self._desk.widgets.space(8)
        return chosen

    def _chip(self, paint: Paint, wide: float, *, is_on: bool) -> bool:
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        chip = tile(widgets, f"paint.candidate.{paint.name.lower()}", wide, _CHIP * scale)
        painted = chip.upper(_PAINTED)
        painted.fill(paint.colour)
        if is_on or chip.is_lit:
            painted.edge(widgets.palette.chalk, 2)
        else:
            painted.edge(widgets.palette.rule, 1)
        self._named(painted, paint.name, is_on=is_on)
        return chip.is_pushed

    def _named(self, chip: Tile, name: str, *, is_on: bool) -> None:
        """Write the name of a chip under it."""
        faces, palette = self._desk.widgets.faces, self._desk.widgets.palette
        style = TypeStyle(faces.semibold if is_on else faces.plain, theme.SMALL_PX)
        y = chip.high.y + 2 * self._desk.widgets.scale
        chip.word(y, name, style, palette.text if is_on else palette.second)

    def _sheen(self, finish: Finish) -> None:
        desk, widgets, known = self._desk, self._desk.widgets, tuple(sheens().values())
        widgets.title("Sheen", hint=finish.sheen.name.capitalize())
        for index, wide in widgets.side_by_side(len(known), 3):
            sheen = known[index]
            shown = replace(finish, sheen=sheen, has_clear_coat=finish.has_clear_coat and sheen.is_painted)
            texture = desk.shelf.texture(Thumbnail(subject=SheenSubject(finish=shown), size=_SHEEN), slot=sheen.name)
            tip = capitalized(sheen.about)
            chip = tile(widgets, f"sheen.{sheen.name}", wide, (_SHEEN_TALL + 20) * widgets.scale, tip=tip)
            sprayed, is_on = chip.upper(_SHEEN_TALL), sheen.name == finish.sheen.name
            sprayed.fill(widgets.palette.raised)
            sprayed.picture(texture)
            if is_on or chip.is_lit:
                sprayed.edge(widgets.palette.chalk, 2)
            self._named(sprayed, sheen.name.capitalize(), is_on=is_on)
            if chip.is_pushed and not is_on:
                self._take_sheen(sheen.name)

    def _take_sheen(self, name: str) -> None:
        self._put("sheen", name, "change the sheen")

    def _put(self, key: str, value: bool | str, what: str) -> None:
        self._desk.work.edit(lambda document, scope: document.put(("finish", key), value, what, **scope))

    def _lacquer(self, design: Design) -> None:
        desk, widgets, finish = self._desk, self._desk.widgets, design.finish
        widgets.title("Lacquer")
        is_coated = finish.has_clear_coat
        if widgets.check("Clear coat over everything", "coat", is_coated, tip="Lacquer over paint and film"):
            self._put("clear_coat", not is_coated, "change the lacquer")
            desk.view.change(replace(desk.view.state, is_lamp_lit=None, has_clear_coat=None))
        if is_coated:
            rows = [("own", "As the paint"), *((name, name.capitalize()) for name in lacquers())]
            now = finish.lacquer.name if finish.lacquer is not None else "own"
            name = widgets.choose("coat.sheen", rows, now, columns=2)
            if name is not None:
                self._put("clear_coat", True if name == "own" else name, "change the lacquer")
        has_gloss = finish.coat_under_film is not None
        tip = "Sprayed before the film is laid, so that rough paint traps no air under it"
        if widgets.check("Gloss coat under the film", "coat.under", has_gloss, tip=tip):
            self._put("gloss_under_film", not has_gloss, "change the coat under the film")
        widgets.note(_of_lacquer(design))
        if desk.view.state.has_clear_coat is not None:
            widgets.note("The picture tries another clear coat; see Show.")

    def _film(self, design: Design) -> None:
        desk, widgets = self._desk, self._desk.widgets
        widgets.title("Film")
        given = art_of(design)
        if not given:
            widgets.note(
                "Lettering is printed on clear film. Film can be chosen once there is art."
                if design.decals
                else "Film carries art and lettering; there is none yet, so nothing would change."
            )
            return
        now = {decal.film.name for decal in given.values()}
        rows = [(name, name.capitalize()) for name in films()]
        tips = [capitalized(film.about) for film in films().values()]
        film = widgets.choose("films", rows, now.pop() if len(now) == 1 else None, tips=tips)
        if film is not None:
            print_on(desk, tuple(given), film)
        if len(given) > 1:
            widgets.note(f"Under all {len(given)} pictures; each has its own choice at Art.")


def _of_lacquer(design: Design) -> str:
    """Return what lacquer does to this pedal, or why it changes nothing that is seen."""
    finish, sheen = design.finish, design.finish.sheen
    if not sheen.is_painted:
        return "Over bare metal it gives the metal the gloss of lacquer."
    coat = finish.lacquer or sheen
    changes_sheen = abs(coat.coat_roughness - sheen.bare_roughness) > _ALIKE
    if not changes_sheen and not design.decals:
        return f"On {sheen.name} paint without art or lettering it changes nothing that is seen."
    if not changes_sheen:
        with_it = "It hides the film's edge; the sheen stays."
        return with_it if finish.has_clear_coat else "Without it the film's edge shows."
    return (
        "It hides the film's edge and gives paint and film one sheen."
        if design.decals
        else f"It gives {sheen.name} paint the sheen of {coat.name} lacquer."
    )


def _name(finish: Finish, own: Sequence[Paint]) -> str:
    """Return what a paint is called here, else its code, or the name of the picture that it is."""
    if finish.picture is not None:
        return finish.picture.name
    code = rgb.to_hex(finish.paint)
    return next((each.name for each in (*PAINTS, *own) if rgb.to_hex(each.colour) == code), code)
