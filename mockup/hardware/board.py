"""Circuit boards that lie inside the box, parts towards the lid."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.model.material import BLACK_PLASTIC, BOARD_GREEN, SOLDER, STEEL, Material
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Extruded, Outline, Point, Solid, Turned

THICKNESS_MM = 1.6  # nominal: IEC 60603-6:1987, title
JOINT_MM = 1.2  # height of the trimmed joints on the solder side: common practice, no source
PITCH_MM = 2.54  # 0.1 in grid: IEC 60097, from memory
FILM = Material(name="film-capacitor", base_color=(0.30, 0.03, 0.02), roughness=0.4)  # common practice, no source
CAN = Material(name="capacitor-can", base_color=(0.015, 0.02, 0.06), roughness=0.3)  # common practice, no source
RESISTOR = Material(name="resistor", base_color=(0.16, 0.33, 0.50), roughness=0.45)  # common practice, no source


@dataclass(frozen=True, kw_only=True)
class _Size:
    name: str
    about: str
    width_mm: float
    height_mm: float


# A board that fits beside the controls of a 112 x 60 box: common practice, no source.
_SIZES = (_Size(name="board", about="Circuit board, 50 x 40 mm, parts to 13 mm high", width_mm=50.0, height_mm=40.0),)


def kinds() -> tuple[Kind, ...]:
    """Return the boards."""
    return tuple(
        Kind(
            name=size.name,
            family="board",
            about=size.about,
            below=(*_plate(size), *_parts()),
            mount="inside",
            sources={
                "body": f"thickness: IEC 60603-6:1987, title; outline: {PRACTICE}",
                "terminals": f"grid: IEC 60097, from memory; parts: {PRACTICE}",
            },
        )
        for size in _SIZES
    )


def _plate(size: _Size) -> tuple[Solid, ...]:
    """Return the bare board and a row of wire pads along the edge towards the player."""
    top = -JOINT_MM
    plate = Extruded(
        outline=Outline(kind="rectangle", width_mm=size.width_mm, height_mm=size.height_mm, corner_mm=1.5),
        bottom_mm=top - THICKNESS_MM,
        top_mm=top,
        material=BOARD_GREEN,
    )
    count = 12
    pads = (
        Turned(
            profile=(
                (0.0, top - THICKNESS_MM - 0.25),
                (0.7, top - THICKNESS_MM - 0.15),
                (1.0, top - THICKNESS_MM),
                (1.0, top),
                (0.5, 0.0),
                (0.0, 0.0),
            ),
            material=SOLDER,
            at=((index - (count - 1) / 2) * 1.5 * PITCH_MM, -size.height_mm / 2 + 2.5),
        )
        for index in range(count)
    )
    return (plate, *pads)


def _parts() -> tuple[Solid, ...]:
    """Return two amplifiers, film and electrolytic capacitors and resistors on the lid's side."""
    chips = (solid for at in ((-10.0, 6.0), (12.0, 6.0)) for solid in _chip(at))
    films = (_block(at, 7.2, 2.6, 8.0, FILM) for at in ((-20.0, 12.0), (-20.0, 6.5), (2.0, 15.0), (2.0, -3.0)))
    cans = (_can(at, radius, high) for at, radius, high in (((20.0, 14.0), 2.5, 11.0), ((20.5, -8.0), 3.1, 12.0)))
    resistors = (
        _resistor((x, y)) for y in (-8.0, 15.0) for x in (-15.0, -11.5, -8.0, 9.0, 12.5) if (x, y) != (12.5, 15.0)
    )
    return (*chips, *films, *cans, *resistors)


def _floor() -> float:
    return -JOINT_MM - THICKNESS_MM


def _block(at: Point, width: float, height: float, rise: float, material: Material) -> Extruded:
    floor = _floor()
    return Extruded(
        outline=Outline(kind="rectangle", width_mm=width, height_mm=height, corner_mm=0.5),
        bottom_mm=floor - rise,
        top_mm=floor,
        material=material,
        at=at,
    )


def _chip(at: Point) -> tuple[Solid, ...]:
    """Return an eight-pin package, 9.4 x 6.4 mm, and its two rows of legs (common practice, no source)."""
    floor = _floor()
    body = Extruded(
        outline=Outline(kind="rectangle", width_mm=9.4, height_mm=6.4),
        bottom_mm=floor - 4.0,
        top_mm=floor - 0.6,
        material=BLACK_PLASTIC,
        at=at,
    )
    legs = (
        Extruded(
            outline=Outline(kind="rectangle", width_mm=1.2, height_mm=0.3),
            bottom_mm=floor - 2.4,
            top_mm=floor,
            material=STEEL,
            at=(at[0] + (column - 1.5) * PITCH_MM, at[1] + side * 3.6),
        )
        for column in range(4)
        for side in (-1, 1)
    )
    return (body, *legs)


def _can(at: Point, radius: float, rise: float) -> Turned:
    floor = _floor()
    profile = (
        (0.0, floor - rise + 0.3),
        (radius - 0.7, floor - rise + 0.3),
        (radius - 0.7, floor - rise),
        (radius - 0.3, floor - rise),
        (radius, floor - rise + 0.4),
        (radius, floor),
        (0.0, floor),
    )
    return Turned(profile=profile, material=CAN, at=at)


def _resistor(at: Point) -> Turned:
    """Return a resistor's body lying along y, thicker at both ends."""
    z = _floor() - 1.3
    profile = (
        (0.0, z - 3.1),
        (0.9, z - 3.1),
        (1.2, z - 2.8),
        (1.2, z - 1.9),
        (1.0, z - 1.4),
        (1.0, z + 1.4),
        (1.2, z + 1.9),
        (1.2, z + 2.8),
        (0.9, z + 3.1),
        (0.0, z + 3.1),
    )
    return Turned(profile=profile, material=RESISTOR, at=at, tilt_deg=90.0, pivot_z_mm=z)
