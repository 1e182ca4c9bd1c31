"""Lettering and art past the flat of a face: told with the way back, which mends it; everything still reads the layout.

The top of the box is 59 by 111 mm, its flat begins 1.47 mm farther in.
"""

from __future__ import annotations

from importlib import resources

import pytest

from mockup.checks.report.run import run
from mockup.checks.report.sentences import remedy, what
from mockup.decal.pictures import artwork
from mockup.decal.typeface import read
from mockup.layout.edit.apply import apply
from mockup.layout.parse import parse
from mockup.layout.resolve import assets, font_files, resolve
from mockup.model.design import Design
from mockup.model.finding import Finding

BOX = '[box]\nsize = "112x60x31"\n[lettering]\nfont = "bold.ttf"\n'
LAMP = '[[part]]\nname = "LAMP"\nkind = "lamp-3"\nbottom = 8\n[[label]]\npart = "LAMP"\n'
DOT = b'<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"><rect width="20" height="20"/></svg>'
FONT = (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()


def layout(text: str) -> Design:
    parsed = parse(BOX + text, "layout.toml")
    art = {name: artwork.decode(DOT, name) for name in assets(parsed)}
    return resolve(parsed, art, fonts={name: read(FONT, name) for name in font_files(parsed)})


def lost(text: str) -> Finding:
    (found,) = run(layout(text), ("lost-lettering",))
    return found


def test_a_label_that_its_part_takes_off_the_flat_is_a_stop_whose_order_mends_it() -> None:
    found = lost(LAMP)
    assert (found.severity, found.title, found.subjects[0].name) == ("stop", "Lettering off the flat", "LAMP")
    assert "at the bottom" in what(found, "mm")
    assert remedy(found, "mm").startswith("Move LAMP ")
    assert "run past" not in remedy(found, "in")
    mended = apply(BOX + LAMP, found.edits, "layout.toml").removeprefix(BOX)
    assert run(layout(mended), ("lost-lettering",)) == ()


def test_a_scale_with_its_numbers_is_one_finding() -> None:
    found = lost('[[part]]\nname = "A"\nkind = "pot-16"\nleft = 9\ntop = 50\n[[scale]]\npart = "A"\nnumbers = true\n')
    assert what(found, "mm").startswith("Lettering off the flat: the scale of A runs ")
    mended = [edit for edit in found.edits if edit.right_mm > 0 and edit.down_mm == 0]
    assert len(mended) == 1


@pytest.mark.parametrize(
    ("place", "severity", "said"),
    [
        ("left = 1.4", "warn", "mm past the flat part of the top face at the left"),  # the flat begins at 1.47
        ("left = -90", "stop", "lies wholly past the flat part of the top face, so nothing of it is printed"),
        ("size = 20\ntop = 30", "stop", "Make it at most"),
    ],
)
def test_how_bad_it_is_follows_how_much_is_lost(place: str, severity: str, said: str) -> None:
    found = lost(f'[[label]]\ntext = "WORD"\n{place}\n')
    assert found.severity == severity
    assert said in f"{what(found, 'mm')} {remedy(found, 'mm')}"


def test_what_is_cut_off_is_told_once() -> None:
    told = run(layout(LAMP + '[[label]]\ntext = "FAR"\nleft = 200\ntop = 9\n'))
    assert [each.title for each in told if "LAMP" in str(each.subjects) or "FAR" in str(each.subjects)].count(
        "No lettering here"
    ) == 0
    assert not [each.title for each in told if each.title == "Ink up to the cut"]


def test_art_beside_its_face_is_a_stop_with_the_way_back() -> None:
    (found,) = run(layout('[[decal]]\nart = "dot.svg"\nleft = 70\ntop = 40\n'), ("margins",))
    assert (found.severity, found.title) == ("stop", "Art off its face")
    far = 70 + 20 - (60 - layout("").enclosure.flat_inset_mm)  # of its right edge past the flat, but for the draft
    assert remedy(found, "mm").startswith("Move dot.svg ")
    assert abs(float(remedy(found, "mm").split()[2]) - far) < 1.5
    assert remedy(found, "mm").endswith("left.")
