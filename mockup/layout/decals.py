"""Decals of a layout: their printed size, their place, what cannot be printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from mockup import films
from mockup.decal.fitting import fitting_width, is_lengthways, pixels_of
from mockup.decal.processes import PROCESSES
from mockup.decal.white import whitened
from mockup.layout.fields import LARGEST_MM, SMALLEST_MM, Problem, alternatives
from mockup.layout.ruler import centre, size_on_film
from mockup.layout.schema import CUT_MM, WHITE_UNDER, DecalTable
from mockup.model.enclosure import Face
from mockup.model.finish import Artwork, Cut, Decal
from mockup.model.shape import turned
from mockup.model.units import MM_PER_INCH, Unit, format_length

_SAME_SHAPE = 0.02  # share by which the sides of two pictures of one canvas may differ, for rounding: our choice


@dataclass(frozen=True)
class Picture:
    """A picture that a decal needs: its file's name, and the layers of it that are left out."""

    name: str
    hide: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What it is found by among pictures that were read: the file's name, unless something is left out."""
        return "\0".join((self.name, *self.hide))


def pictures(table: DecalTable) -> Iterator[Picture]:
    """Yield the pictures that a decal needs."""
    yield _drawn(table)
    if table.white_under is not None and table.white_under not in WHITE_UNDER:
        yield Picture(table.white_under)


def _drawn(table: DecalTable) -> Picture:
    return Picture(table.art, table.hide)


def film_size(
    table: DecalTable, pictures: Mapping[str, Artwork], face: Face | None, units: Unit
) -> tuple[float, float] | Problem:
    """Return the decal's printed size, or why it has none."""
    art = pictures.get(_drawn(table).key)
    if art is None:
        return Problem(("art",), f'there is no picture "{table.art}"', "put it next to the layout or correct the name")
    dpi = art.dpi if table.dpi is None else (table.dpi, table.dpi)
    mm_per_px = None if dpi is None else (MM_PER_INCH / dpi[0], MM_PER_INCH / dpi[1])
    size = size_on_film((art.width_px, art.height_px), table.width, table.height, mm_per_px)
    if size is None:
        remedy = "give the decal a width, or its dpi"
        if face is not None:
            turn = table.rotation + (90.0 if is_lengthways(pixels_of(art), table.rotation, face) else 0.0)
            wide = fitting_width(pixels_of(art), turn, face)
            dpi_there = f"{art.width_px * MM_PER_INCH / wide:.0f}"
            turning = f" and rotation = {turn:g}" if turn != table.rotation else ""
            remedy += f': width = "{wide:.1f} mm" (dpi = {dpi_there}){turning} fits the flat of the {face.name} face'
        return Problem(("art",), f'"{table.art}" does not say how large it is', remedy)
    if not all(SMALLEST_MM <= side <= LARGEST_MM for side in size):
        printed = " by ".join(format_length(side, units) for side in size)
        what = f'"{table.art}" comes out {printed} large'
        return Problem(("art",), what, "give the decal another width, height or dpi")
    return size


def placed_decal(table: DecalTable, art: Mapping[str, Artwork], size: tuple[float, float], face: Face) -> Decal:
    """Return a decal in its place on a face; `size` is that of its print, millimetres."""
    sides = {"left": table.left, "right": table.right, "top": table.top, "bottom": table.bottom}
    u, v = centre(face, turned(*size, table.rotation), **sides)
    drawn, under = art[_drawn(table).key], table.white_under or "drawn"
    return Decal(
        art=drawn if table.white is None else whitened(drawn, table.white),
        face=face.name,
        u_mm=u,
        v_mm=v,
        width_mm=size[0],
        height_mm=size[1],
        rotation_deg=table.rotation,
        film=films.films()[table.film],
        process=PROCESSES[table.process],
        cut=_cut(table),
        white_under=art.get(under, "drawn") if under != "everything" else "everything",
    )


def _cut(table: DecalTable) -> Cut | None:
    if table.cut is None and table.cut_allowance is None and table.cut_radius is None:
        return None
    shape = table.cut or "rectangle"
    usual = 0.0 if shape == "rectangle" else CUT_MM
    return Cut(
        shape=shape,
        allowance_mm=usual if table.cut_allowance is None else table.cut_allowance,
        radius_mm=usual if table.cut_radius is None else table.cut_radius,
    )


def white_problems(table: DecalTable, art: Mapping[str, Artwork], decal: Decal) -> Iterator[Problem]:
    """Yield white that cannot be printed."""
    if table.white_under is None:
        return
    if decal.process.white is None:
        able = alternatives(each.name for each in PROCESSES.values() if each.white is not None)
        what = f"the process {table.process} prints no white"
        yield Problem(("white_under",), what, f"set process = {able}, or take white_under out")
    elif table.white_under not in WHITE_UNDER:
        yield from _shape_problems(table.white_under, art.get(table.white_under), decal.art)


def _shape_problems(name: str, shape: Artwork | None, art: Artwork) -> Iterator[Problem]:
    """Yield what is wrong with the picture that says where white goes."""
    if shape is None:
        yield Problem(
            ("white_under",), f'there is no picture "{name}"', "put it next to the layout or correct the name"
        )
        return
    here, there = (each.width_px / each.height_px for each in (shape, art))
    if abs(here / there - 1.0) > _SAME_SHAPE:
        what = f'"{name}" is {here:.2f} times as wide as it is high, the art {there:.2f} times'
        yield Problem(("white_under",), what, "draw the shape on a copy of the art's own canvas")
    if shape.pixels[..., 3].min() == 255:
        what = f'"{name}" has nothing transparent, so white would lie under everything'
        yield Problem(("white_under",), what, 'erase what gets no white, or write white_under = "everything"')
