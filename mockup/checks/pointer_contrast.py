"""A knob's pointer line too close in lightness to the knob."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.model.finding import Finding, Mark, Quantity, Subject
from mockup.model.material import Colour

LIMITS = """
[pointer_contrast]
value = 3.0
unit = ""
about = "luminance contrast, (lighter - darker) / darker, of a knob's pointer line to the knob"
source = "MIL-STD-1472E 5.4.2.1.1.5"
"""
READS = ("parts",)
_PALE, _DARK = ({"style": "dome", "colour": "#ffffff", "pointer_colour": each} for each in ("#e0e0e0", "#000000"))
PLANTED = Case(part_text("A", "pot-16", top=30, knob=_PALE))
SOUND = Case(part_text("A", "pot-16", top=30, knob=_DARK))
_DARKEST = 0.01  # no plastic reflects less, its own surface included: common practice, no source


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit = built.limits["pointer_contrast"]
    for part in built.design.parts:
        if part.knob is None:
            continue
        line, knob = luminance(part.knob.pointer_colour), luminance(part.knob.colour)
        contrast = luminance_contrast(line, knob)
        if contrast < limit.value:
            lighter, darker = knob * (1 + limit.value), knob / (1 + limit.value)
            yield Finding(
                severity="warn",
                title="Pointer line hard to see",
                what="the pointer line of {first} has {share} the contrast to its knob that shows a setting "
                "({measured} times the darker one's lightness; {limit} is enough)",
                subjects=Subject.parts(part.name),
                remedy="Choose a line as light as the grey {grey}, or lighter"
                if lighter <= 1
                else "Choose a line as dark as the grey {grey}, or darker",
                measured=Quantity(round(contrast, 2), limit.unit),
                limit=limit,
                facts={
                    "share": Quantity(contrast / limit.value, "share"),
                    "grey": rgb.grey(lighter if lighter <= 1 else darker),
                },
                marks=(Mark.at(part, part.knob.diameter_mm / 2),),
            )


def luminance(colour: Colour) -> float:
    """Return the relative luminance of a linear sRGB colour, no less than any plastic has."""
    return max(_DARKEST, float(np.asarray(colour) @ rgb.LUMINANCE))


def luminance_contrast(one: float, other: float) -> float:
    """Return (lighter - darker) / darker: luminance contrast as MIL-STD-1472 means it (MIL-HDBK-1908, from memory)."""
    return (max(one, other) - min(one, other)) / min(one, other)
