"""Circuit boards that lie inside the box, parts towards the lid."""

from __future__ import annotations

from mockup.model.material import BLACK_PLASTIC, BOARD_GREEN, SOLDER, STEEL, Material
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Point, Solid, Turned, block

THICKNESS_MM = 1.6  # nominal: IEC 60603-6:1987, title
JOINT_MM = 1.2  # height of the trimmed joints on the solder side: common practice, no source
FLOOR_MM = -JOINT_MM - THICKNESS_MM  # of the parts on the lid's side
PITCH_MM = 2.54  # 0.1 in grid: IEC 60097, from memory
FILM = Material(name="film-capacitor", base_color=(0.30, 0.03, 0.02), roughness=0.4)  # common practice, no source
CAN = Material(name="capacitor-can", base_color=(0.015, 0.02, 0.06), roughness=0.3)  # common practice, no source
RESISTOR = Material(name="resistor", base_color=(0.16, 0.33, 0.50), roughness=0.45)  # common practice, no source

# A board that fits beside the controls of a 112 x 60 box: common practice, no source.
WIDTH_MM, HEIGHT_MM = 50.0, 40.0


def kinds() -> tuple[Kind, ...]:
    """Return the board."""
    return (
        Kind(
            name="board",
            family="board",
            about="Circuit board, 50 x 40 mm, parts to 13 mm high",
            below=(*_plate(), *_parts()),
            mount="inside",
            sources={
                "body": f"thickness: IEC 60603-6:1987, title; outline: {PRACTICE}",
                "terminals": f"grid: IEC 60097, from memory; parts: {PRACTICE}",
            },
        ),
    )


def _plate() -> tuple[Solid, ...]:
    """Return the bare board and a row of wire pads along the edge towards the player."""
    top = -JOINT_MM
    plate = block((WIDTH_MM, HEIGHT_MM), (FLOOR_MM, top), BOARD_GREEN, corner_mm=1.5)
    count = 12
    pads = (
        Turned(
            profile=(
                (0.0, FLOOR_MM - 0.25),
                (0.7, FLOOR_MM - 0.15),
                (1.0, FLOOR_MM),
                (1.0, top),
                (0.5, 0.0),
                (0.0, 0.0),
            ),
            material=SOLDER,
            at=((index - (count - 1) / 2) * 1.5 * PITCH_MM, -HEIGHT_MM / 2 + 2.5),
        )
        for index in range(count)
    )
    return (plate, *pads)


def _parts() -> tuple[Solid, ...]:
    """Return two amplifiers, film and electrolytic capacitors and resistors on the lid's side."""
    chips = (solid for at in ((-10.0, 6.0), (12.0, 6.0)) for solid in _chip(at))
    films = (
        block((7.2, 2.6), (FLOOR_MM - 8.0, FLOOR_MM), FILM, at=at, corner_mm=0.5)
        for at in ((-20.0, 12.0), (-20.0, 6.5), (2.0, 15.0), (2.0, -3.0))
    )
    cans = (_can(at, radius, high) for at, radius, high in (((20.0, 14.0), 2.5, 11.0), ((20.5, -8.0), 3.1, 12.0)))
    resistors = (
        _resistor((x, y)) for y in (-8.0, 15.0) for x in (-15.0, -11.5, -8.0, 9.0, 12.5) if (x, y) != (12.5, 15.0)
    )
    return (*chips, *films, *cans, *resistors)


def _chip(at: Point) -> tuple[Solid, ...]:
    """Return an eight-pin package, 9.4 x 6.4 mm, and its two rows of legs (common practice, no source)."""
    body = block((9.4, 6.4), (FLOOR_MM - 4.0, FLOOR_MM - 0.6), BLACK_PLASTIC, at=at)
    legs = (
        block((1.2, 0.3), (FLOOR_MM - 2.4, FLOOR_MM), STEEL, at=(at[0] + (column - 1.5) * PITCH_MM, at[1] + side * 3.6))
        for column in range(4)
        for side in (-1, 1)
    )
    return (body, *legs)


def _can(at: Point, radius: float, rise: float) -> Turned:
    profile = (
        (0.0, FLOOR_MM - rise + 0.3),
        (radius - 0.7, FLOOR_MM - rise + 0.3),
        (radius - 0.7, FLOOR_MM - rise),
        (radius - 0.3, FLOOR_MM - rise),
        (radius, FLOOR_MM - rise + 0.4),
        (radius, FLOOR_MM),
        (0.0, FLOOR_MM),
    )
    return Turned(profile=profile, material=CAN, at=at)


def _resistor(at: Point) -> Turned:
    """Return a resistor's body lying along y, thicker at both ends."""
    z = FLOOR_MM - 1.3
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
