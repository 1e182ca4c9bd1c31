"""Each check of the panel just beyond its limit and just within it; figures by hand beside the case."""

from __future__ import annotations

import pytest

import mockup
from mockup.checks import scale_centres

BOX = 'name = "Close"\n[box]\nsize = "112x60x31"\n'
PAINT = '[finish]\npaint = "{}"\nsheen = "{}"\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="100mm" viewBox="0 0 50 100">{}</svg>'


def part(name: str, kind: str, **keys: object) -> str:
    rest = "".join(f"{key} = {value}\n" for key, value in keys.items())
    return f'[[part]]\nname = "{name}"\nkind = "{kind}"\n{rest}'


def knob(diameter: float, height: float = 16) -> str:
    return f'{{ style = "barrel", diameter = {diameter}, height = {height} }}'


def two(kind: str, apart: float, **keys: object) -> str:
    return part("A", kind, left=15, top=40, **keys) + part("B", kind, left=15 + apart, top=40, **keys)


def lever(top: float) -> str:
    return part("WAY", "toggle-mini", top=40) + part("A", "pot-16", top=top, knob=knob(18))


def lamp(top: float) -> str:
    return part("A", "pot-16", top=40, knob=knob(18, 20)) + part("EYE", "lamp-3", top=top)


def beside(u: float, v: float) -> str:
    return part("STOMP", "footswitch", left=15, top=90) + part("A", "pot-9", left=15 + u, top=90 - v, knob=knob(14))


def hole(mm: float, before: str = "") -> str:
    return f'{before}[[kind]]\nname = "own"\nhole = {mm}\n' + part("A", "own", top=40)


def scale(off: float) -> tuple[str, str]:
    u, v = scale_centres._MIDDLE
    film = '[[decal]]\nart = "art.svg"\n'
    return part("A", "pot-16", top=40, knob=knob(18)) + film, scale_centres._TICKS.format(u + off, v)


def films(left: float) -> tuple[str, str]:
    first = '[[decal]]\nart = "art.svg"\nwidth = 30\ntop = 20\nleft = 6\n'
    return f'{first}[[decal]]\nart = "art.svg"\nwidth = 15\ntop = 30\nleft = {left}\n', '<path d="M2 2h46v96h-46z"/>'


def fringe(wide: float, paint: str = "#1a2230") -> tuple[str, str]:
    disc = f'<circle cx="25" cy="50" r="{15 + wide}" fill="#fff"/><circle cx="25" cy="50" r="15" fill="#b03a1e"/>'
    return PAINT.format(paint, "gloss") + '[[decal]]\nart = "art.svg"\nfilm = "white"\n', disc


def film_on(sheen: str) -> tuple[str, str]:
    return PAINT.format("#cfd8c8", sheen) + '[[decal]]\nart = "art.svg"\n', '<path d="M10 20h30v20h-30z"/>'


def bar(left: float, wide: float) -> tuple[str, str]:
    """Return a film 62 mm wide over a top that is flat for some 55: what is drawn 6 mm high on it runs off or not."""
    return '[[decal]]\nart = "art.svg"\nwidth = 62\n', f'<path d="M{left} 48h{wide}v6h-{wide}z"/>'


CASES = [
    # nut over corners 11.55, bezel 10.34 over the washer: 32.44 apart leave 1.5
    ("tool-room", part("A", "pot-9", left=20, top=40) + part("L", "lamp-5", left=32.3, top=40), "warn"),
    ("tool-room", part("A", "pot-9", left=20, top=40) + part("L", "lamp-5", left=32.6, top=40), None),
    ("lever-throws", lever(55.0), "warn"),
    ("lever-throws", lever(55.3), None),
    # 48.5 / 2 - 2.7 + 8 = 29.55 beyond its middle, the wall 1.83 from the far edge where the clip is
    ("battery-clip", part("CELL", "battery-9v", top=31.3, depth=8), "warn"),
    ("battery-clip", part("CELL", "battery-9v", top=31.5, depth=8), None),
    # thread 4 over a panel of 2; washer and nut 2.5; two turns of 0.75 over the washer of 0.5
    ("thread-length", "top = 3.4\n" + part("A", "pot-9", top=40), None),
    ("thread-length", "top = 3.6\n" + part("A", "pot-9", top=40), "warn"),
    ("thread-length", "top = 4.1\n" + part("A", "pot-9", top=40), "stop"),
    # thread 11.8, inner nut 2.2, lock washer 0.6; washer 0.8 and dress nut 2.2 outside: 6.0 are left for the panel
    ("thread-length", "top = 5.8\n" + part("A", "footswitch", top=60), None),
    ("thread-length", "top = 6.1\n" + part("A", "footswitch", top=60), "warn"),
    # thread 8 under its collar, nut of 2.5 inside: 5.5
    ("thread-length", "top = 5.3\n" + part("A", "dc-socket", top=60), None),
    ("thread-length", "top = 5.6\n" + part("A", "dc-socket", top=60), "warn"),
    # shaft 13, 1.2 of knob over it, 1.6 under it: 12.6 - height is too high by
    ("knob-seats", part("A", "pot-16", top=40, knob=knob(18, 10.5)), "warn"),
    ("knob-seats", part("A", "pot-16", top=40, knob=knob(18, 10.7)), None),
    ("knob-seats", part("A", "pot-16", top=40, knob=knob(12.6)), "note"),  # nut 11.55 over corners, walls 0.6
    ("knob-seats", part("A", "pot-16", top=40, knob=knob(12.9)), None),
    # the knob's top, 21.6 high, hides the face up to 25.9 from an eye 1599 over it and 422 towards the player
    ("lamp-view", lamp(27.3), "warn"),
    ("lamp-view", lamp(25.3), None),
    ("scale-centres", scale(0.6), "warn"),
    ("scale-centres", scale(0.4), None),
    ("film-overlaps", films(34), "warn"),  # 2 x 30 mm, ink from 0.6 and 1.2 of their edges
    ("film-overlaps", films(35.5), "note"),  # 0.5 x 30 mm of bare film
    ("film-overlaps", films(36.1), None),
    ("pale-fringe", fringe(0.3), "warn"),
    ("pale-fringe", fringe(0.6), None),  # as wide as that it is an outline
    ("pale-fringe", fringe(0.3, "#c8c8c8"), None),
    ("silvering", film_on("hammered"), "note"),
    ("silvering", film_on("satin"), None),
    ("bodies", two("pot-16", 16.5), "stop"),  # cans of 16.4 on wafers of 16.5, which touch
    ("bodies", two("pot-16", 16.9), "warn"),
    ("bodies", two("pot-16", 17.1), "note"),
    ("bodies", two("pot-16", 17.6), None),
    ("knob-gaps", two("pot-9", 22.9, knob=knob(18)), "warn"),
    ("knob-gaps", two("pot-9", 23.9, knob=knob(18)), "note"),
    ("knob-gaps", two("pot-9", 24.1, knob=knob(18)), None),
    ("shoe-room", beside(0, 29.9), "warn"),
    ("shoe-room", beside(0, 30.1), "note"),
    ("shoe-room", beside(34.9, 0), "warn"),  # beside it the shoe is wider
    ("shoe-room", beside(35.1, 0), "note"),
    ("drill-sizes", hole(7.3), "note"),  # between 9/32 in (7.14) and 7.5
    ("drill-sizes", hole(7.5), None),
    ("drill-sizes", hole(7.5, "[bench]\ndrills = [3, 8]\n"), "warn"),
    ("drill-sizes", hole(8, "[bench]\ndrills = [3, 8]\n"), None),
    ("margins", bar(0, 50), "note"),  # a bar runs off both sides
    ("margins", bar(1.5, 3), "warn"),  # a small thing lies over the edge
]


@pytest.mark.parametrize(("check", "given", "severity"), CASES)
def test_a_close_call(check: str, given: str | tuple[str, str], severity: str | None) -> None:
    text, art = given if isinstance(given, tuple) else (given, "")
    design = mockup.loads(BOX + text, {"art.svg": SVG.format(art).encode()} if art else {})
    found = mockup.check(design, (check,))
    worst = min((("stop", "warn", "note").index(each.severity) for each in found), default=None)
    assert (None if worst is None else ("stop", "warn", "note")[worst]) == severity
