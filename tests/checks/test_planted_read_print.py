"""Planted faults of reading and printing: each one caught, on the right subject, with the figure it was drawn with.

Every figure here is known from how the art was drawn or from a formula named beside it, never from a
run of the checks. The sound designs next to them must get no stop and no warning.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest
from art_desk import (
    BLACK,
    BOX,
    MIDDLE,
    TOP,
    WHITE,
    Desk,
    cloudy,
    decal,
    label,
    names,
    part,
    pedal,
    run,
)
from PIL import Image, ImageFilter

import mockup
from mockup.checks.report.sentences import remedy, what
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint as ink
from mockup.films import films
from mockup.model.design import Design
from mockup.model.finding import Severity

pytestmark = pytest.mark.slow

U = MIDDLE
FLAT = TOP.flat
YELLOW, IVORY = (1.0, 0.85, 0.0), (0.92, 0.87, 0.75)
KNOB = part("DRIVE", "pot-16", U, 30, style="barrel")  # 18 mm across
LAMP = part("LAMP", "lamp-5", U, 60)  # bezel 10.4 mm across
SWITCH = part("BYPASS", "footswitch", U, 90)  # washer 17 mm across, hole 12.5
SLIDE = part("MODE", "slide-switch", U, 60)  # slot 15 by 6.6 mm


def lettered(colour: str = "black", capital: float = 3.0, *, ground: str | None = None, dpi: float = 300.0) -> Desk:
    return Desk(dpi, ground=ground).text("DRIVE", U, 46, capital, colour)


NAME = label("DRIVE", U, 46, 11.0, 3.0)


@dataclass(frozen=True, eq=False)
class Fault:
    """One planted fault: the design, and the finding that must come of it."""

    name: str
    build: Callable[[], Design]
    check: str
    severity: Severity
    subject: str
    measured: float | None = None
    within: float = 0.0  # of the measured figure


def segment_share(radius: float, near: float, far: float, half: float) -> float:
    """Share of a rectangle, |x| <= half and near <= y <= far, that lies in a circle about the origin."""

    def area(y: float) -> float:  # of the part of the circle below y, between -half and half; all chords are longer
        chord = (half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)) / 2
        return 2 * chord - 2 * half * y

    return area(near) / (2 * half * (far - near))


def printed(art: tuple[float, float, float], paint: tuple[float, float, float]) -> np.ndarray:
    return ink.predict(np.array(art), ink.Ground(paint=np.array(paint)))


def hue_deg(colour: object) -> float:
    _, a, b = encoded_to_lab(np.asarray(colour)).tolist()
    return math.degrees(math.atan2(b, a))


def difference(one: object, other: object) -> float:
    return float(ciede2000(encoded_to_lab(np.asarray(one)), encoded_to_lab(np.asarray(other))))


def enlarged(by: int, how: Image.Resampling) -> np.ndarray:
    small = Image.fromarray(Desk(600 / by, fine=6).text("DRIVE", U, 46, 5).ticks(U, 30, 10.5).frame(3, 1.0).pixels())
    return np.asarray(small.resize((small.width * by, small.height * by), how))


def blurred(sigma_px: float) -> np.ndarray:
    sharp = Image.fromarray(lettered(capital=6.0, dpi=600, ground="white").frame(3, 2.0).pixels())
    return np.asarray(sharp.filter(ImageFilter.GaussianBlur(sigma_px)))


def template(desk: Desk) -> Desk:
    """The slot of the slide switch, as a drilling template shows it."""
    for side in (-1, 1):
        desk.line(U - 4.2, 60 + side * 3.3, U + 4.2, 60 + side * 3.3, 0.25)
    for centre, start in ((U - 4.2, 90), (U + 4.2, -90)):
        x, y = desk.at(centre, 60)
        reach = desk.px(3.3 + 0.125)
        desk.covers(x - reach, y - reach, x + reach, y + reach)
        desk.pen.arc((x - reach, y - reach, x + reach, y + reach), start, start + 180, "black", round(desk.px(0.25)))
    return desk


def cross(u: float, v: float, arm: float) -> Desk:
    return lettered().line(u - arm, v, u + arm, v, 0.2).line(u, v - arm, u, v + arm, 0.2)


def face_outline() -> Desk:
    desk = Desk(300, film=(59.6, 111.6))
    inset = (59.6 - TOP.width_mm) / 2
    return desk.frame(inset, 0.25, 4.0)


FAULTS = (
    # Reading
    Fault(
        "a label under a knob",
        lambda: pedal(decal(Desk().text("DRIVE", U, 30)), [KNOB], [label("DRIVE", U, 30, 11)]),
        "visibility",
        "warn",
        "DRIVE",
        100.0,
        0.1,
    ),
    Fault(
        "a label that the washer cuts",
        lambda: pedal(
            decal(Desk().text("ON", U, 98.5, 2.0)), [SWITCH], [label("ON", U, 98.5, 4.0, 2.0)]
        ),  # straddles the washer's edge: 7.5 to 9.5 mm from its middle
        "visibility",
        "warn",
        "ON",
        100 * segment_share(8.5, 7.5, 9.5, 2.0),
        1.5,  # the player's eye adds what the washer's 0.8 mm throw: 0.8 / 1.6 m of 0.5 m
    ),
    Fault(
        "a label behind a tall knob, seen from above but not by the player",
        lambda: pedal(decal(Desk().text("UP", U, 19, 2.0)), [KNOB], [label("UP", U, 19, 3.0, 2.0)]),
        "visibility",
        "warn",
        "UP",
        100.0,  # the top edge, 18 mm up and 440 mm from the eye, throws its circle 18 / 1.58 m of 440 mm = 5 mm back
        0.1,
    ),
    Fault(
        "a label in the slot of a switch, cut away by the drill",
        lambda: pedal(decal(Desk().text("LO", U + 4, 60, 2.0)), [SLIDE], [label("LO", U + 4, 60, 3.0, 2.0)]),
        "visibility",
        "warn",
        "LO",
        100.0,
        0.1,
    ),
    Fault(
        "grey lettering on white paint",  # WCAG 2.2 by hand: #949494 on white 3.0335
        lambda: pedal(decal(lettered("#949494")), [], [NAME]),
        "contrast",
        "warn",
        "DRIVE",
        3.0335,
        0.03,
    ),
    Fault(
        "large lettering too pale even for large",  # #b0b0b0: ((176/255+.055)/1.055)^2.4 = .4342, 1.05/.4842 = 2.168
        lambda: pedal(decal(lettered("#b0b0b0", 5.0)), [], [label("DRIVE", U, 46, 19, 5.0)]),
        "contrast",
        "warn",
        "DRIVE",
        2.168,
        0.03,
    ),
    Fault(
        "yellow lettering on white paint",  # WCAG 2.2 by hand: #ffff00 on white 1.0738
        lambda: pedal(decal(lettered("#ffff00")), [], [NAME]),
        "contrast",
        "stop",
        "DRIVE",
        1.0738,
        0.01,
    ),
    Fault(
        "black lettering on black paint",
        lambda: pedal(decal(lettered()), [], [NAME], paint=BLACK),
        "contrast",
        "stop",
        "DRIVE",
        1.0,
        0.001,
    ),
    Fault(
        "grey lettering that nobody declared",
        lambda: pedal(decal(lettered("#949494"))),
        "contrast",
        "warn",
        "DRIVE",
        3.0335,
        0.03,
    ),
    Fault(
        "a declared label with nothing there",
        lambda: pedal(decal(lettered()), [], [NAME, label("TONE", U, 75, 9)]),
        "contrast",
        "warn",
        "TONE",
    ),
    Fault(
        "a cream pointer on a white knob",  # luminances .9 and .7: (.9 - .7) / .7
        lambda: pedal((), [part("DRIVE", "pot-16", U, 30, style="dome", colour=(0.9,) * 3, pointer_colour=(0.7,) * 3)]),
        "pointer-contrast",
        "warn",
        "DRIVE",
        0.2 / 0.7,
        0.01,
    ),
    Fault(
        "letters of 1.2 mm",  # 1.2 mm at 400 mm: 1.2 / 400 rad = 10.31 arcmin
        lambda: pedal(decal(lettered(capital=1.2)), [], [label("DRIVE", U, 46, 4.5, 1.2)]),
        "letter-height",
        "warn",
        "DRIVE",
        10.3,
        0.05,
    ),
    Fault(
        "pale yellow art on yellow paint",
        lambda: pedal(decal(lettered().disc(U, 75, 6, "#fff080").frame(1.5, 1.0)), [], [NAME], paint=(1.0, 0.8, 0.0)),
        "swallowed-colour",
        "warn",
        "art.png",
        difference(printed((1, 240 / 255, 128 / 255), (1.0, 0.8, 0.0)), (1.0, 0.8, 0.0)),
        0.2,
    ),
    Fault(
        "a colourful picture on black paint",
        lambda: pedal(decal(Desk().disc(U, 40, 10, "#d02020").disc(U, 75, 10, "#2040d0")), paint=BLACK),
        "swallowed-colour",
        "stop",
        "art.png",
        0.0,
        0.05,
    ),
    Fault(
        "cyan art on yellow paint",
        lambda: pedal(decal(lettered().disc(U, 75, 8, "#00ffff")), [], [NAME], paint=YELLOW),
        "colour-shift",
        "warn",
        "art.png",
        abs(hue_deg((0, 1, 1)) % 360 - hue_deg(printed((0, 1, 1), YELLOW)) % 360),
        1.0,
    ),
    # Printing
    Fault(
        "art of 72 dpi", lambda: pedal(decal(lettered(dpi=72)), [], [NAME]), "resolution", "stop", "art.png", 72, 0.5
    ),
    Fault("100 dpi", lambda: pedal(decal(lettered(dpi=100)), [], [NAME]), "resolution", "stop", "art.png", 100, 0.5),
    Fault("150 dpi", lambda: pedal(decal(lettered(dpi=150)), [], [NAME]), "resolution", "warn", "art.png", 150, 0.5),
    Fault(
        "art of 150 dpi enlarged to 600 smoothly",
        lambda: pedal(decal(enlarged(4, Image.Resampling.BICUBIC))),
        "sharpness",
        "warn",
        "art.png",
        150,
        40,
    ),
    Fault(
        "art of 120 dpi enlarged to 600 by repeating pixels",
        lambda: pedal(decal(enlarged(5, Image.Resampling.NEAREST))),
        "sharpness",
        "warn",
        "art.png",
        120,
        2,
    ),
    Fault(
        "art blurred by 3 pixels",  # an edge under a Gaussian is sigma sqrt(2 pi) = 7.52 px wide: 600 / 7.52
        lambda: pedal(decal(blurred(3.0))),
        "sharpness",
        "warn",
        "art.png",
        600 / (3 * math.sqrt(2 * math.pi)),
        8,
    ),
    Fault(
        "art stretched 5 % sideways",
        lambda: pedal(decal(lettered(), width_mm=52.0 * 1.05)),
        "proportion",
        "warn",
        "art.png",
        5.0,
        0.2,
    ),
    Fault(
        "a line on the rounding of the edge",
        lambda: pedal(
            decal(Desk(300, film=(62, 102)).line(FLAT[0] - 0.5, 20, FLAT[0] - 0.5, 80, 0.6)),
        ),  # its far side lies 0.8 mm past the flat
        "margins",
        "warn",
        "art.png",
        0.8,
        0.2,
    ),
    Fault(
        "lettering off the face",
        lambda: pedal(decal(Desk(300, film=(66, 102)).box(FLAT[2] + 2, 50, 4, 3))),  # 4 mm past the flat
        "margins",
        "warn",
        "art.png",
        4.0,
        0.2,
    ),
    Fault(
        "a border 0.3 mm from the film's edge",
        lambda: pedal(decal(lettered().frame(0.3, 0.5)), [], [NAME]),
        "margins",
        "warn",
        "art.png",
        0.3,
        0.06,
    ),
    Fault(
        "a line of 0.15 mm",
        lambda: pedal(decal(lettered(dpi=600).line(10, 70, 45, 70, 0.15)), [], [NAME]),
        "thin-lines",
        "warn",
        "art.png",
        0.15,
        0.02,
    ),
    Fault(
        "a slanting line of 0.13 mm",
        lambda: pedal(decal(lettered(dpi=600).line(10, 70, 45, 93, 0.13)), [], [NAME]),
        "thin-lines",
        "warn",
        "art.png",
        0.13,
        0.02,
    ),
    Fault(
        "a circle of 0.22 mm",
        lambda: pedal(decal(lettered(dpi=600).ring(U, 75, 10, 0.22)), [], [NAME]),
        "thin-lines",
        "note",
        "art.png",
        0.22,
        0.025,
    ),
    Fault(
        "a gap of 0.12 mm in a block",
        lambda: pedal(decal(lettered(dpi=600).box(U, 75, 20, 10).line(U - 10, 75, U + 10, 75, 0.12, "white"))),
        "thin-lines",
        "note",
        "art.png",
        0.12,
        0.025,
    ),
    Fault(
        "the paint's colour as a background",
        lambda: pedal(decal(lettered(ground="#ebdebf")), [], [NAME], paint=(235 / 255, 222 / 255, 191 / 255)),
        "background-layer",
        "stop",
        "art.png",
        0.0,
        0.05,
    ),
    Fault(
        "nearly the paint's colour as a background",
        lambda: pedal(decal(lettered(ground="#d0c8a0")), [], [NAME], paint=IVORY),
        "background-layer",
        "warn",
        "art.png",
        difference((208 / 255, 200 / 255, 160 / 255), IVORY),
        0.1,
    ),
    Fault(
        "a grey background",
        lambda: pedal(decal(lettered(ground="#b0b0b0")), [], [NAME], paint=(0.6, 0.8, 0.95)),
        "background-layer",
        "note",
        "art.png",
        difference((176 / 255,) * 3, (0.6, 0.8, 0.95)),
        0.1,
    ),
    Fault(
        "the slot of a drilling template",
        lambda: pedal(decal(template(lettered())), [SLIDE], [NAME]),
        "guide-lines",
        "warn",
        "MODE",
        0.0,
        0.06,
    ),
    Fault(
        "a centre cross that reaches out from under the washer",
        lambda: pedal(decal(cross(U, 90, 12)), [SWITCH], [NAME]),
        "guide-lines",
        "warn",
        "BYPASS",
        0.0,
        0.06,
    ),
    Fault(
        "a drilling circle under a washer",
        lambda: pedal(decal(lettered().ring(U, 90.1, 6.25, 0.2)), [SWITCH], [NAME]),
        "guide-lines",
        "note",
        "BYPASS",
        0.0,
        0.11,
    ),
    Fault("the face's outline", lambda: pedal(decal(face_outline())), "guide-lines", "warn", "art.png", 0.0, 0.2),
    Fault(
        "a ring 0.2 mm outside its knob",  # inner edge at 9.2 mm, knob 9.0
        lambda: pedal(decal(lettered(dpi=600).ring(U, 30, 9.45, 0.5)), [KNOB], [NAME]),
        "registration",
        "warn",
        "DRIVE",
        0.2,
        0.05,
    ),
    Fault(
        "a ring 0.6 mm off centre",  # inner edge at 9.8 mm, so 0.8 - 0.6 = 0.2 mm at its nearest
        lambda: pedal(decal(lettered(dpi=600).ring(U + 0.6, 30, 10.05, 0.5)), [KNOB], [NAME]),
        "registration",
        "warn",
        "DRIVE",
        0.2,
        0.05,
    ),
    Fault(
        "a disc that ends 0.1 mm inside its bezel",  # 5.1 mm, bezel 5.2
        lambda: pedal(decal(lettered(dpi=600).disc(U, 60, 5.1, "#a03020")), [LAMP], [NAME]),
        "registration",
        "warn",
        "LAMP",
        0.1,
        0.05,
    ),
)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_fault_is_caught(fault: Fault) -> None:
    design = fault.build()
    found = run(design)
    mine = [each for each in found if each.check == fault.check and fault.subject in names(each)]
    assert mine, [f"{each.check}: {what(each, 'mm')}" for each in found]
    worst = min(mine, key=lambda each: ("stop", "warn", "note").index(each.severity))
    assert worst.severity == fault.severity, what(worst, "mm")
    if fault.measured is not None:
        assert worst.measured is not None
        assert worst.measured.value == pytest.approx(fault.measured, abs=fault.within), what(worst, "mm")
        assert worst.limit is not None
    assert worst.source
    assert remedy(worst, "mm")
    assert worst.marks
    others = {each.check for each in found if each.severity != "note"} - {fault.check}
    assert others <= ALSO.get(fault.name, set()), [what(each, "mm") for each in found if each.check in others]


ALSO = {  # what the same fault also does, rightly
    "black lettering on black paint": {"swallowed-colour"},
    "the face's outline": {"margins"},  # it lies on the rounding
}


def ferry(name: str) -> Design:
    """An example's art and paint without its hardware, which is the other checks' matter."""
    folder = Path(__file__).parent.parent.parent / "examples" / name / "layout.toml"
    return replace(mockup.load(folder), parts=())


def soft() -> np.ndarray:
    y, x = np.mgrid[0:1205, 0:614] / 1205.0
    glow = np.exp(-((x - 0.25) ** 2 + (y - 0.5) ** 2) / 0.02)
    return np.dstack([255 - 120 * glow, 255 - 60 * glow, 255 - 20 * glow]).astype(np.uint8)


def halftone() -> Desk:
    desk = lettered()
    for row in range(12):
        for column in range(18):
            desk.disc(12 + 2 * column, 60 + 2 * row, 0.3 + 0.04 * column)
    return desk


def stars() -> Desk:
    desk, chance = lettered(), np.random.default_rng(3)
    for u, v, r in chance.uniform((8, 55, 0.15), (50, 98, 0.6), (60, 3)).tolist():
        desk.disc(u, v, r, "#203060")
    return desk


SOUND: dict[str, Callable[[], Design]] = {
    "a whole simple pedal": lambda: pedal(
        decal(lettered().ticks(U, 30, 10.5).frame(1.5, 0.5).text("ECHO", U, 75, 5)),
        [KNOB, LAMP, SWITCH],
        [NAME, label("ECHO", U, 75, 17, 5)],
        paint=IVORY,
    ),
    "the same without declared labels": lambda: pedal(
        decal(lettered().ticks(U, 30, 10.5).frame(1.5, 0.5)), [KNOB, LAMP, SWITCH], paint=IVORY
    ),
    "a photograph": lambda: pedal(decal(cloudy(1, (614, 1205)))),
    "a grainy photograph": lambda: pedal(decal(cloudy(2, (614, 1205), grain=14))),
    "a sharp, busy photograph": lambda: pedal(decal(cloudy(3, (614, 1205), slope=0.8))),
    "a soft photograph": lambda: pedal(decal(cloudy(4, (614, 1205), grain=1, slope=2.0))),
    "a photograph round the hardware": lambda: pedal(
        decal(cloudy(5, (614, 1205))),
        [
            KNOB,
            LAMP,
            SWITCH,
        ],
    ),
    "a soft glow alone": lambda: pedal(decal(soft())),
    "blank film": lambda: pedal(decal(Desk())),
    "no film at all": lambda: pedal((), [KNOB, LAMP, SWITCH]),
    "#767676 on white": lambda: pedal(decal(lettered("#767676")), [], [NAME]),  # WCAG by hand: 4.5422
    "large #949494 on white": lambda: pedal(decal(lettered("#949494", 5.0)), [], [label("DRIVE", U, 46, 19, 5.0)]),
    "white letters left open in a dark block": lambda: pedal(
        decal(Desk().box(U, 46, 20, 8, "#102040").text("DRIVE", U, 46, 3, "white")), [], [NAME], paint=IVORY
    ),
    "a wide ring round a knob": lambda: pedal(decal(lettered().ring(U, 30, 10.5, 0.5)), [KNOB], [NAME]),
    "a ring that its bezel half covers": lambda: pedal(decal(lettered().ring(U, 60, 5.3, 1.8)), [LAMP], [NAME]),
    "rings that grow outward": lambda: pedal(
        decal(lettered().ring(U, 60, 6.2, 0.5).ring(U, 60, 7.4, 0.4).ring(U, 60, 8.6, 0.3)), [LAMP], [NAME]
    ),
    "a line through the middle of two knobs": lambda: pedal(
        decal(lettered().line(8, 30, 50, 30, 0.4)),
        [part("A", "pot-16", 16, 30, style="barrel"), part("B", "pot-16", 43, 30, style="barrel")],
        [NAME],
    ),
    "a border with a fine line in it": lambda: pedal(decal(lettered().frame(1.2, 0.5).frame(2.6, 0.3)), [], [NAME]),
    "halftone dots": lambda: pedal(decal(halftone())),
    "a field of stars": lambda: pedal(decal(stars())),
    "a painted background on white film": lambda: pedal(
        decal(lettered(ground="#ebdebf"), film=films()["white"]), [], [NAME], paint=(0.92, 0.87, 0.75)
    ),
    "black art on black paint over white film": lambda: pedal(
        decal(lettered(), film=films()["white"]), [], [NAME], paint=BLACK
    ),
    "art of 300 dpi by a rounded tag": lambda: pedal(decal(lettered(dpi=299.9994)), [], [NAME]),
    "art turned by a quarter": lambda: pedal(
        decal(lettered(), rotation_deg=90.0, width_mm=45.0, height_mm=45.0 * 102 / 52)
    ),
    "a file whose pixels are not square by its own tag": lambda: pedal(
        replace(decal(lettered(), width_mm=26.0), art=replace(decal(lettered()).art, dpi=(600.0, 300.0)))
    ),
    "the art of Lantern Moth": lambda: ferry("lantern_moth"),
    "the art of Night Ferry": lambda: ferry("night_ferry"),
    "all of Copper Kettle": lambda: mockup.load(
        Path(__file__).parent.parent.parent / "examples" / "copper_kettle" / "layout.toml"
    ),
}


@pytest.mark.parametrize("name", SOUND)
def test_sound_design_is_left_alone(name: str) -> None:
    found = run(SOUND[name]())
    assert [f"{each.severity} {each.check}: {what(each, 'mm')}" for each in found if each.severity != "note"] == []


def test_the_suite_is_as_large_as_it_claims() -> None:
    assert len(FAULTS) >= 22
    assert len(SOUND) >= 12
    assert len({fault.name for fault in FAULTS}) == len(FAULTS)
    assert {fault.check for fault in FAULTS} >= {"visibility", "contrast", "registration", "guide-lines", "sharpness"}
    assert BOX.width_mm == 60.0  # what the places in the art stand on
    assert WHITE == (1.0, 1.0, 1.0)
