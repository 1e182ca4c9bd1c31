"""Every hole has one number: on template, drill plan, jig, log, its picture and in the cut file."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import ezdxf
import numpy as np
import pypdf
import pytest

from mockup import api
from mockup.drawing.faces import titles
from mockup.drawing.holes import holes
from mockup.drawing.paper import CAUTIONS
from mockup.drawing.unfold import unfolded
from mockup.films import films
from mockup.model.design import Design
from mockup.model.enclosure import FACES, faces
from mockup.model.errors import InputError
from mockup.model.finish import Artwork, Decal
from mockup.model.making import Copy
from mockup.outputs import drill, jig, log, sheet, template
from mockup.outputs.pages import log_words
from mockup.outputs.pages.drill_plan import plan_drawing, turns

LAYOUT = """
name = "Numbers"
[box]
size = "121x66x39"
[bench]
drills = [2.5, 3.2, 6, 7.5, 9.5, 12, 15.5]
[[part]]
name = "TONE"
kind = "pot-16"
left = 18
top = 50
[[part]]
name = "MODE"
kind = "slide-switch"
top = 22
[[part]]
name = "STOMP"
kind = "footswitch"
bottom = 20
[[part]]
name = "IN"
kind = "din-5"
face = "far"
"""
BORES = ("TONE, bushing", "MODE, slot", "MODE, screw", "MODE, screw 2", "STOMP, bushing", "IN, socket", "IN, screw",
         "IN, screw 2")  # in the order of the layout, the top first: by hand  # fmt: skip


@pytest.fixture(scope="module")
def design() -> Design:
    return api.loads(LAYOUT)


def _text(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def test_all_pages_number_and_name_the_holes_alike(design: Design) -> None:
    found = holes(design, faces(design.enclosure), "mm")
    assert [(each.number, each.bore.words) for each in found] == list(enumerate(BORES, 1))
    wanted = {each.number: each.name for each in found}
    assert [wanted[number] for number in (1, 2, 5)] == ["TONE", "MODE, slot", "STOMP"]
    logged = [each for each in log_words.sections(design, ()) if each.heading in ("Drill table", "Where each hole is")]
    tables = [block for section in logged for block in section.blocks if isinstance(block, log_words.TextTable)]
    assert len(tables) == 2
    for table in tables:
        assert [(int(row[0]), row[1]) for row in table.rows] == list(enumerate(BORES, 1))
    made = {each["number"]: each["name"] for each in template.make(design, template.Options()).facts["holes"]}
    planned = drill.make(design, drill.Options())
    assert made == {each["number"]: each["name"] for each in planned.facts["holes"]}
    assert made == {each.number: each.bore.name for each in found}
    drawn = {
        text.text for text in plan_drawing(design.enclosure, found, "mm", (190.0, 150.0)).marks if hasattr(text, "text")
    }
    assert {f"{number}  {name}" for number, name in wanted.items()} <= drawn
    on_paper = _text(next(iter(template.make(design, template.Options()).files.values())))
    assert all(re.search(rf"(?<!\d){each.number}\s", on_paper) for each in found)


def test_the_log_says_where_a_hole_lies_on_its_turned_decal(design: Design) -> None:
    """A decal 40 by 20 about (30, 40), turned a quarter clockwise: its left edge is the far one, 20 before 40."""
    art = Artwork(name="a.png", pixels=np.zeros((20, 40, 4), np.uint8))
    decal = Decal(
        art=art, face="top", u_mm=30, v_mm=40, width_mm=40, height_mm=20, film=films()["clear"], rotation_deg=90
    )
    (hole, *_) = holes(design, faces(design.enclosure), "mm")  # at (18, 50): 12 left of and 10 below the middle
    shifted = replace(hole, bore=replace(hole.bore, u_mm=25.0))  # 5 left of it
    told = log_words._on_decal(replace(design, decals=(decal,)), shifted)
    assert told == "a.png: 30 mm from its left, 15 mm from its top"
    assert log_words._on_decal(replace(design, decals=(decal,)), hole) == "none"


def test_the_jig_engraves_the_templates_numbers(design: Design) -> None:
    """A slot has two bushes, both with its number; the screws beside it have their own."""
    making = replace(design.making, copies=(Copy(serial="A7"), Copy(serial="B8")))
    made = jig.make(replace(design, making=making), jig.Options(sides=True, copies=3, output="numbers-jig.stl"))
    numbers = [each["number"] for each in made.facts["guides"]]
    assert numbers == [1, 2, 2, 3, 4, 5, 6, 7, 8]
    names = {each.bore.name: each.number for each in holes(design, faces(design.enclosure), "mm")}
    assert all(names[each["name"].split(", guide")[0]] == each["number"] for each in made.facts["guides"])
    beside = made.files["numbers-jig.txt"].decode().splitlines()
    wanted = [f"{each.number:3d}  {each.name} (" for each in holes(design, faces(design.enclosure), "mm")]
    assert [any(line.startswith(start) for line in beside) for start in wanted] == [True] * len(wanted)
    assert all(" ".join(words.split()) in " ".join(beside) for words in CAUTIONS)
    assert "One jig serves all 3 boxes (A7, B8, 3): 27 pilot holes." in beside


def test_a_series_has_a_box_to_tick_for_each_pedal_at_every_drill(design: Design) -> None:
    """Three pedals, two of them with serial numbers: each drill, punching, deburring and three last looks."""
    making = replace(design.making, copies=(Copy(serial="A7"), Copy(serial="B8")))
    made = drill.make(replace(design, making=making), drill.Options(copies=3))
    words = _text(next(iter(made.files.values())))
    steps = len(made.facts["drills"]) + len(("punch", "file", "deburr", "chips", "tried", "scraped"))
    assert making.serials(3) == ("A7", "B8", "3")
    assert [len(re.findall(rf"(?m)^{each}$", words)) for each in ("A7", "B8")] == [steps] * 2
    assert "9.5 mm (3/8 in): hole" in words
    for output in (drill, jig, log, sheet):
        with pytest.raises(InputError, match="--copies: 100 is out of range; give 1 to 99"):
            output.make(design, output.Options(copies=100))


def test_in_inches_what_goes_by_one_name_is_one_drill() -> None:
    """9.5 mm, a finished hole, and 3/8 in = 9.525 mm, a step towards 12.5 mm, are the same drill on the bench."""
    parts = (
        '[[part]]\nname = "ON"\nkind = "footswitch"\n[[part]]\nname = "IN"\nkind = "jack-enclosed"\nface = "right"\n'
    )
    design = api.loads(f'name = "I"\n[box]\nsize = "112x60x31"\n{parts}')
    found = holes(design, faces(design.enclosure), "in")
    order = turns(found, "in")
    names = [each.words("in").partition(" (")[0] for each in order]
    assert names.count("3/8 in") == 1 and len(set(names)) == len(names)
    (both,) = [each for each in order if each.words("in").startswith("3/8 in")]
    assert {each.bore.part for each in both.holes} == {"ON", "IN"}


def test_the_cut_file_has_the_numbers_in_layers_of_their_own(design: Design) -> None:
    (data,) = template.make(design, template.Options(output="t.dxf")).files.values()
    space = ezdxf.read(io.StringIO(data.decode())).modelspace()
    said = [(each.dxf.layer, each.dxf.text) for each in space.query("TEXT") if each.dxf.layer != "notes"]
    found = holes(design, faces(design.enclosure), "mm")
    assert said == [(f"{each.bore.face}-numbers", f"{each.number}  {each.name}") for each in found]
    assert any("eye protection" in each.dxf.text for each in space.query('TEXT[layer=="notes"]'))
    panels = unfolded(design.enclosure, faces(design.enclosure), [face for face in FACES if face in ("top", "far")])
    assert len(titles(panels, found, "far")) == 3


def test_the_plan_takes_every_hole_through_its_drills_in_rising_order(design: Design) -> None:
    found = holes(design, faces(design.enclosure), "mm")
    order = turns(found, design.units, design.drills_mm)
    for hole in found:
        taken = [each.drill_mm for each in order if hole in each.holes]
        assert taken == pytest.approx(list(hole.drills_mm))
    assert [each.drill_mm for each in order if not each.is_own] == [6.6, 12.5]  # a slot of 6.6, a bush of 12
    text = _text(next(iter(drill.make(design, drill.Options()).files.values())))
    assert "12.5 mm (1/2 in), not yours" in text and "Paint scraped off" in text and "eye protection" in text
