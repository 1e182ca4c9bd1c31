"""Named grounds for a pedal to stand on, as plain data that costs nothing to list."""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class Ground:
    """What a pedal stands on, of one colour (linear sRGB), and the colour that it fades into behind.

    `roughness` (perceptual) polishes it, so that it mirrors the pedal; None leaves it matt.
    """

    about: str
    colour: Colour
    behind: Colour
    roughness: float | None = None


# colours by eye, our choice; no name is that of a colour, which a background may be as well
GROUNDS: dict[str, Ground] = {
    "paper": Ground(about="a white sheet", colour=(0.80, 0.79, 0.77), behind=(0.78, 0.775, 0.765)),
    "sand": Ground(about="pale warm stone", colour=(0.55, 0.46, 0.36), behind=(0.50, 0.43, 0.35)),
    "moss": Ground(about="deep green cloth", colour=(0.050, 0.085, 0.050), behind=(0.022, 0.036, 0.024)),
    "slate": Ground(about="dark blue-grey stone", colour=(0.055, 0.064, 0.075), behind=(0.020, 0.024, 0.029)),
    "walnut": Ground(
        about="a dark, waxed board", colour=(0.095, 0.050, 0.028), behind=(0.030, 0.017, 0.011), roughness=0.55
    ),
}
