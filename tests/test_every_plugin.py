"""Every plug-in of every plug-in folder keeps its folder's contract; nothing is listed here by name.

A plug-in folder is a package of mockup whose docstring starts "Plug-ins:": its protocol whose docstring
starts "A plug-in module" says what each plug-in offers.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import itertools
import math
import pkgutil
import re
from types import ModuleType

import pytest

import mockup
from mockup import knobs
from mockup.checks import CHECKS, Case
from mockup.checks.report.sentences import remedy, what
from mockup.hardware import kinds
from mockup.layout.edit.apply import apply
from mockup.model.part import MEMORY, PRACTICE, Kind, Shaft
from mockup.model.shape import Extruded, Point, Solid, Turned
from mockup.plugins import Folder

FOLDERS = [
    f"mockup.{package.name}"
    for package in pkgutil.iter_modules(mockup.__path__)
    if package.ispkg and (importlib.import_module(f"mockup.{package.name}").__doc__ or "").startswith("Plug-ins:")
]
PLUGINS = [(folder, name) for folder in FOLDERS for name in Folder(folder).names()]
KINDS = list(kinds().values())
KNOB_SHAFT = Shaft(diameter_mm=6.0, top_mm=13.0)

# Groups of figures that must name their source, by what makes them necessary.
STANDARD = re.compile(r"\b(ISO|IEC|ASME|DIN) [A-Z]?\d|\bT number\b")


def test_there_is_something_to_test() -> None:
    assert {"mockup.hardware", "mockup.knobs"} <= set(FOLDERS)
    assert len(KINDS) >= 17  # the parts that the first layout files may name
    assert len(knobs.styles()) >= 5  # barrel, scalloped, conical, dome, bar pointer at least


def _protocol(folder: str) -> type:
    interface = importlib.import_module(folder)
    (found,) = [
        each
        for _, each in inspect.getmembers(interface, inspect.isclass)
        if (each.__doc__ or "").startswith("A plug-in module")
    ]
    return found


@pytest.mark.parametrize(("folder", "name"), PLUGINS)
class TestEveryPlugin:
    def test_has_one_line_of_help(self, folder: str, name: str) -> None:
        line = Folder(folder).summary(name)
        assert line == (Folder(folder).load(name).__doc__ or "").strip().partition("\n")[0]
        assert 10 <= len(line) <= 120
        assert line.endswith(".")
        assert line[0].isupper()

    def test_knows_no_other_plugin_of_its_folder(self, folder: str, name: str) -> None:
        """A plug-in may use the folder's rooms, and its modules whose names begin with an underscore, and no more."""
        module = Folder(folder).load(name)
        own = module.__name__
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            names = []
            if isinstance(node, ast.ImportFrom) and node.module:
                is_folder = node.module == folder
                names = [f"{folder}.{each.name}" for each in node.names] if is_folder else [node.module]
            elif isinstance(node, ast.Import):
                names = [each.name for each in node.names]
            for each in names:
                if each.startswith(f"{folder}.") and not each.startswith(own):
                    first = each.removeprefix(f"{folder}.").partition(".")[0]
                    assert first.replace("_", "-") not in Folder(folder).names(), f"{own} imports {each}"

    def test_offers_what_its_folder_asks_for(self, folder: str, name: str) -> None:
        module: ModuleType = Folder(folder).load(name)
        protocol = _protocol(folder)
        functions = {key: value for key, value in vars(protocol).items() if inspect.isfunction(value) and key[0] != "_"}
        constants = [key for key in getattr(protocol, "__annotations__", {}) if key[0] != "_"]
        assert functions, "the folder's protocol asks for nothing"
        for key, asked in functions.items():
            offered = getattr(module, key)
            wanted = [each for each in inspect.signature(asked).parameters if each != "self"]
            assert list(inspect.signature(offered).parameters) == wanted
            assert (offered.__doc__ or "").strip(), f"{key} has no docstring"
        for key in constants:
            assert hasattr(module, key), f"{key} is missing"


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
class TestEveryKind:
    def test_is_named_in_the_trades_words(self, kind: Kind) -> None:
        assert re.fullmatch(r"[a-z]+(-[a-z0-9]+)*", kind.name)
        assert kind.about and "\n" not in kind.about
        assert not kind.about.endswith(".")

    def test_names_the_source_of_each_group_of_figures(self, kind: Kind) -> None:
        needed = {
            "drill": bool(kind.cutouts),
            "thread": kind.thread is not None,
            "shaft": kind.shaft is not None,
            "lens": bool(kind.lens),
            "body": bool(kind.below),
            "terminals": bool(kind.below),
        }
        assert {group for group, is_needed in needed.items() if is_needed} <= set(kind.sources)
        if kind.above:  # nut, collar, lever, ...: what shows has a group of its own
            assert set(kind.sources) - set(needed)
        for group, source in kind.sources.items():
            assert STANDARD.search(source) or PRACTICE in source or MEMORY in source, f"{group}: {source!r}"

    def test_what_sits_inside_touches_no_panel(self, kind: Kind) -> None:
        if kind.mount == "inside":
            assert not kind.cutouts
            assert not kind.above
            assert kind.thread is None
        else:
            assert kind.cutouts
            assert kind.above
        assert kind.below

    def test_solids_are_possible(self, kind: Kind) -> None:
        for solid in (*kind.above, *kind.below):
            _check_solid(solid)

    def test_body_hangs_below_the_panel(self, kind: Kind) -> None:
        heights = [z for solid in kind.below for z in _heights(solid)]
        assert max(heights) <= 0.3  # at most a rim that reaches into its own hole
        if kind.mount == "inside":
            assert max(heights) == pytest.approx(0.0, abs=1e-9)
        assert kind.depth_mm == pytest.approx(-min(heights), abs=1e-9)
        assert 5.0 < kind.depth_mm < 40.0

    def test_hole_takes_the_thread(self, kind: Kind) -> None:
        if kind.thread is None:
            return
        holes = [cutout.outline.width_mm for cutout in kind.cutouts if cutout.purpose == "bushing"]
        assert holes
        # Clear, but no sloppier than twice the coarse clearance ISO 273 gives an M8 screw (10.0 - 8 = 2 mm).
        assert all(0.1 <= hole - kind.thread.major_mm <= 2.0 for hole in holes)

    def test_metal_covers_the_edge_of_each_round_hole(self, kind: Kind) -> None:
        for cutout in kind.cutouts:
            if cutout.purpose == "slot":
                continue  # a slide switch shows its slot
            hole = cutout.outline.width_mm / 2
            if cutout.purpose == "lens" and kind.lens == (0,):  # no bezel: the lens fills it, its rim covers it inside
                lens, rim = (max(r for r, _ in each[0].profile) for each in (kind.above, kind.below))
                assert 0.0 < hole - lens <= 0.1
                assert rim - hole >= 0.3
                continue
            cover = max(_cover(solid, cutout.at) for solid in kind.above)
            assert cover - hole >= 0.5  # hidden even when the hole is drilled half a millimetre off: practice

    def test_bushing_passes_through_its_hole(self, kind: Kind) -> None:
        for solid in kind.above:
            if isinstance(solid, Turned) and solid.tilt_deg == 0.0:
                in_hole = [math.hypot(*solid.at) + r for r, z in solid.profile if z < 0.0]
                if in_hole and solid.at == (0.0, 0.0):
                    assert max(in_hole) < kind.cutouts[0].outline.width_mm / 2

    def test_lens_is_one_of_the_solids_above(self, kind: Kind) -> None:
        assert kind.is_lamp == (kind.family == "lamp")
        for index in kind.lens:
            assert kind.above[index].material.transmission > 0

    def test_shaft_ends_where_the_solids_do(self, kind: Kind) -> None:
        if kind.shaft is not None:
            assert max(z for solid in kind.above for z in _heights(solid)) == pytest.approx(kind.shaft.top_mm)
            assert kind.shaft.travel_deg == 300.0


@pytest.mark.parametrize("style", knobs.styles())
class TestEveryKnobStyle:
    def test_default_is_of_its_own_style(self, style: str) -> None:
        knob = knobs.default(style)
        assert knob.style == style
        assert 10.0 <= knob.diameter_mm <= 100.0  # MIL-STD-1472 fingertip knobs, from memory
        assert 13.0 <= knob.height_mm <= 25.0  # the same
        assert all(0.0 <= value <= 1.0 for value in (*knob.colour, *knob.pointer_colour))

    def test_solids_are_possible(self, style: str) -> None:
        for solid in knobs.solids(knobs.default(style), KNOB_SHAFT):
            _check_solid(solid)


def _check_solid(solid: Solid) -> None:
    """A closed, simple, counter-clockwise profile, or an outline with room for its bevel and bore."""
    assert all(0.0 <= value <= 1.0 for value in solid.material.base_color)
    if isinstance(solid, Extruded):
        outline = solid.outline
        assert solid.top_mm > solid.bottom_mm
        assert outline.width_mm > 0
        assert outline.kind in ("circle", "hexagon") or outline.height_mm > 0
        narrow = min(outline.width_mm, outline.height_mm) if outline.height_mm else outline.width_mm
        assert 0.0 <= solid.bevel_mm < min(solid.top_mm - solid.bottom_mm, narrow / 2)
        assert solid.bore_mm == 0.0 or solid.bore_mm < narrow - 2 * solid.bevel_mm
        return
    profile = solid.profile
    assert len(profile) >= 4
    assert all(r >= 0 for r, _ in profile)
    is_solid = profile[0][0] == 0 and profile[-1][0] == 0
    touching = [index for index, (r, _) in enumerate(profile) if r == 0]
    assert touching == ([0, len(profile) - 1] if is_solid else [])
    assert _area(profile) > 0, "clockwise"
    edges = list(itertools.pairwise((*profile, profile[0])))
    assert all(math.dist(a, b) > 1e-6 for a, b in edges), "a point twice"
    for (i, first), (j, second) in itertools.combinations(enumerate(edges), 2):
        if j - i > 1 and (i, j) != (0, len(edges) - 1):
            assert not _cross(*first, *second), (first, second)


def _area(profile: tuple[Point, ...]) -> float:
    following = (*profile[1:], profile[0])
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(profile, following, strict=True)) / 2


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _heights(solid: Solid) -> list[float]:
    """Return the lowest and highest z of a solid, from its corners."""
    if isinstance(solid, Extruded):
        return [solid.bottom_mm, solid.top_mm]
    lean, pivot = math.radians(solid.tilt_deg), solid.pivot_z_mm
    return [
        pivot + (z - pivot) * math.cos(lean) + sign * r * math.sin(lean) for r, z in solid.profile for sign in (-1, 1)
    ]


def _cover(solid: Solid, at: Point) -> float:
    """Return the radius up to which a solid covers the panel around `at`; 0 where it does not lie on it."""
    reach = math.dist(solid.at, at)
    if isinstance(solid, Turned):
        return max((r for r, z in solid.profile if -1e-9 <= z <= 1.5), default=0.0) - reach if reach < 0.1 else 0.0
    if solid.bottom_mm > 0.1 or solid.bottom_mm < -1e-9:
        return 0.0
    outline = solid.outline
    if outline.kind == "slot":  # the widest circle about `at` inside a slot: up to its end or its side
        end = math.hypot(at[0] - solid.at[0] - math.copysign((outline.width_mm - outline.height_mm) / 2, at[0]), at[1])
        inside = abs(at[0] - solid.at[0]) <= (outline.width_mm - outline.height_mm) / 2
        return outline.height_mm / 2 - (abs(at[1]) if inside else end)
    return outline.width_mm / 2 if reach < 0.1 else 0.0


WHOLE = 'name = "Case"\n[box]\nsize = "112x60x31"\n'
FILM = '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="100mm" viewBox="0 0 50 100">'
BARE_WORDS = re.compile(r"luminance|arcmin|CIEDE2000|mm[23]\b|[{}]")


def _case(case: Case) -> tuple[str, dict[str, bytes]]:
    """Return a case as a layout's text and its files."""
    text = WHOLE + case.layout
    if isinstance(case.art, bytes):
        return text, {"art.png": case.art}
    is_placed = "art.svg" in case.layout or not case.art
    drawn = (FILM + case.art + "</svg>").encode()
    return text if is_placed else f'{text}[[decal]]\nart = "art.svg"\n', {"art.svg": drawn} if case.art else {}


@pytest.mark.parametrize("name", CHECKS.names())
class TestEveryCheck:
    def test_finds_its_planted_fault_and_says_so_in_plain_words(self, name: str) -> None:
        text, files = _case(CHECKS.load(name).PLANTED)
        found = mockup.check(mockup.loads(text, files), (name,))
        assert found, "nothing found"
        for finding in found:
            assert finding.check == name
            assert finding.subjects
            assert finding.marks
            assert 5 <= len(finding.title) <= 40
            for units in ("mm", "in"):
                said = f"{what(finding, units)} {remedy(finding, units)}"  # type: ignore[arg-type]
                assert not BARE_WORDS.search(said)
                assert units == "mm" or " mm" not in said

    def test_finds_nothing_in_its_sound_twin(self, name: str) -> None:
        text, files = _case(CHECKS.load(name).SOUND)
        assert [what(each, "mm") for each in mockup.check(mockup.loads(text, files), (name,))] == []

    def test_its_edits_mend_the_layout(self, name: str) -> None:
        text, files = _case(CHECKS.load(name).PLANTED)
        for finding in mockup.check(mockup.loads(text, files), (name,)):
            if finding.edits:
                mended = apply(text, finding.edits, "layout.toml")
                left = mockup.check(mockup.loads(mended, files), (name,))
                assert not [each for each in left if each.title == finding.title and each.severity != "note"]
