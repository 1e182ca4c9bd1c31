"""Pairs of pedals whose differences were made by hand: the exact words and figures."""

from __future__ import annotations

import io
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pedal_bench import ART, PLAIN, art, changed, finding, pedal
from PIL import Image

from mockup.comparison.differences.change import Change
from mockup.comparison.differences.designs import differences, is_version, summary
from mockup.comparison.differences.items import items, pointed
from mockup.model.finding import Subject
from mockup.model.label import Label


def told(text: str, ink: bytes = ART) -> list[str]:
    """Return what differs between the plain pedal and another, in words."""
    return [change.what for change in differences(pedal(), pedal(text, ink))]


def only(text: str) -> Change:
    """Return the one difference between the plain pedal and another."""
    (change,) = differences(pedal(), pedal(text))
    return change


def test_nothing_differs_between_a_pedal_and_itself() -> None:
    assert differences(pedal(), pedal()) == ()
    assert summary(()) == "no difference"


def test_a_part_moved_right_and_nearer() -> None:
    change = only(changed(("left = 16\ntop = 20", "left = 20\ntop = 23")))
    assert change.what == "TONE moved 4.0 mm to the right, 3.0 mm nearer the player (5.0 mm in all)"  # 3, 4, 5
    assert (change.topic, change.how, change.subject) == ("part", "moved", "TONE")
    assert change.right_mm == pytest.approx(4.0)
    assert change.down_mm == pytest.approx(3.0)
    assert change.distance_mm == pytest.approx(5.0)
    assert change.old is not None and change.new is not None
    assert (change.old.u_mm, change.old.v_mm) == pytest.approx((16.0, 20.0))
    assert (change.new.u_mm, change.new.v_mm) == pytest.approx((20.0, 23.0))
    assert change.new.radius_mm == pytest.approx(9.0)  # round its knob of 18 mm


def test_a_part_moved_left_or_away_along_one_axis_says_just_that() -> None:
    assert only(changed(("left = 16", "left = 15.75"))).what == "TONE moved 0.25 mm to the left"
    assert only(changed(("left = 16\ntop = 20", "left = 16\ntop = 18"))).what == (
        "TONE moved 2.0 mm away from the player"
    )


def test_on_a_side_the_words_are_higher_and_lower() -> None:
    # A drafted wall: 14 to 12 mm from the rim is 2 mm along the face.
    assert only(changed(("bottom = 14", "bottom = 12"))).what == "IN moved 2.0 mm lower"


def test_inches_are_said_as_inches() -> None:
    inch = f'units = "in"\n{PLAIN}'.replace("left = 16", 'left = "16 mm"').replace("right = 16", 'right = "16 mm"')
    inch = inch.replace("top = 20", 'top = "20 mm"').replace("top = 50", 'top = "50 mm"')
    inch = inch.replace("bottom = 14", 'bottom = "14 mm"')
    inch = inch.replace("diameter = 18, height = 16", 'diameter = "18 mm", height = "16 mm"')
    moved = inch.replace('left = "16 mm"', 'left = "22.35 mm"')  # 6.35 mm are a quarter of an inch
    (change,) = differences(pedal(inch), pedal(moved))
    assert change.what == "TONE moved 0.250 in to the right"
    higher = inch.replace('size = "112x60x31"', 'size = "112x60x31"\nheight = "39 mm"')
    change = differences(pedal(inch), pedal(higher))[0]
    # 112, 60, 31 and 39 mm over 25.4.
    assert change.before == "4.409 × 2.362 × 1.220 in"
    assert change.after == "4.409 × 2.362 × 1.535 in"


def test_a_part_on_another_face() -> None:
    change = only(changed(('face = "right"\nbottom', 'face = "left"\nbottom')))
    assert change.what == "IN moved from the right side to the left side"
    assert change.distance_mm is None


def test_parts_come_and_go() -> None:
    text = changed(('name = "LAMP"\nkind = "lamp-5"', 'name = "BITE"\nkind = "pot-16"'))
    changes = differences(pedal(), pedal(text))
    assert [(each.how, each.what) for each in changes] == [
        ("added", "BITE (pot-16) added on the top"),
        ("removed", "LAMP (lamp-5) left off the top"),
    ]
    assert changes[0].old is None and changes[0].new is not None
    assert changes[1].new is None and changes[1].old is not None


def test_another_name_for_the_same_part_is_a_new_name_only() -> None:
    assert told(changed(('name = "TONE"', 'name = "CUT"'))) == ["TONE is called CUT"]


def test_a_part_turned_and_of_another_kind() -> None:
    assert told(changed(("top = 20\nknob", "top = 20\nrotation = 30\nknob"))) == ["TONE turned 30° clockwise"]
    assert "IN jack-enclosed becomes jack-open" in told(changed(("jack-enclosed", "jack-open")))


def test_knobs_share_a_line_where_the_same_is_said_of_them() -> None:
    text = PLAIN.replace("diameter = 18, height = 16", "diameter = 15, height = 16")
    changes = differences(pedal(), pedal(text))
    assert [each.what for each in changes] == [
        "TONE knob: diameter 18.0 mm becomes 15.0 mm",
        "LEVEL knob: diameter 18.0 mm becomes 15.0 mm",
    ]
    (line,) = items(changes)
    assert line.text == "TONE and LEVEL knob: diameter 18.0 mm becomes 15.0 mm"
    assert line.number == 1
    assert len(pointed(line)) == 2
    assert summary(changes) == "2 knobs changed"


def test_a_pointer_turned() -> None:
    # A fifth of 300 degrees.
    assert told(changed(("pointer = 0.5", "pointer = 0.7"))) == ["TONE pointer 60° clockwise"]


def test_a_lamp_of_another_colour_and_dark() -> None:
    lamp = ('kind = "lamp-5"\ntop = 50', 'kind = "lamp-5"\ntop = 50\ncolour = "#00ff00"\nlit = false')
    texts = told(changed(lamp))
    assert any(text.startswith("LAMP lamp #") and text.endswith("becomes #00ff00") for text in texts)


def test_paint_sheen_and_coat() -> None:
    changes = differences(
        pedal(), pedal(changed(('paint = "#7fa8a3"', 'paint = "#ffffff"\nsheen = "matte"\nclear_coat = false')))
    )
    whats = [each.what for each in changes]
    assert whats[0].startswith("#7fa8a3 becomes #ffffff (colour difference ")
    assert whats[1:] == ["gloss becomes matte", "with clear coat becomes without clear coat"]
    assert [line.text for line in items(changes)][1:] == [
        "sheen: gloss becomes matte",
        "clear coat: with clear coat becomes without clear coat",
    ]
    assert summary(changes) == "paint, sheen, clear coat"


def test_bare_metal_has_no_paint_to_differ_in() -> None:
    texts = told(changed(('paint = "#7fa8a3"', 'paint = "#7fa8a3"\nsheen = "bare"')))
    assert texts[0] == "#7fa8a3 becomes bare metal"


def test_another_box_and_what_keeps_its_edge_or_the_middle_has_not_moved() -> None:
    changes = differences(pedal(), pedal(changed(('size = "112x60x31"', 'size = "121x66x39"'))))
    assert changes[0].what == "112 × 60 × 31 mm becomes 121 × 66 × 39 mm (length × width × height)"
    moved = {change.subject: change for change in changes if change.how == "moved"}
    # TONE keeps 16 mm from the left, LEVEL 16 mm from the right, LAMP the middle; IN keeps the middle and the rim.
    assert moved == {}


def test_a_box_with_another_wall() -> None:
    texts = told(changed(('size = "112x60x31"', 'size = "112x60x31"\nwall = 2.5')))
    assert [text for text in texts if text.startswith("wall")] == ["wall 2.0 mm becomes 2.5 mm"]


def test_art_is_told_by_its_pixels() -> None:
    # A second bar of 20 by 10 mm on 50 by 100 mm of film is 4 % of it.
    assert told(PLAIN, art((10, 60, 30, 70), (10, 75, 30, 85))) == ["art art.png: 4.0 % of its pixels differ"]
    assert told(PLAIN, art((10, 60, 30, 70))) == []


def test_what_is_hidden_under_nothing_is_no_difference() -> None:
    # The same picture with other colours under wholly transparent pixels.
    with Image.open(io.BytesIO(ART)) as image:
        bands = image.convert("RGBA").split()
    red = Image.merge("RGBA", (bands[3].point(lambda a: 16 if a else 255), *bands[1:]))
    out = io.BytesIO()
    red.save(out, "PNG", dpi=(254.0, 254.0))
    assert told(PLAIN, out.getvalue()) == []


def test_film_turned_white_and_moved() -> None:
    texts = told(changed(('art = "art.png"', 'art = "art.png"\nfilm = "white"\nleft = 30\ntop = 57')))
    assert texts[0] == "clear film becomes white film"
    assert len(texts) == 2 and texts[1].startswith("film ")


def test_film_left_off() -> None:
    text = PLAIN.replace('[[decal]]\nart = "art.png"\n', "")
    assert told(text) == ["clear film with art.png left off the top"]


LABEL = Label(text="TONE", face="top", u_mm=16, v_mm=34, width_mm=12, height_mm=3, part="TONE")


def test_labels_moved_renamed_added_and_left_off() -> None:
    def pair(old: tuple[Label, ...], new: tuple[Label, ...]) -> list[str]:
        plain = pedal()
        return [each.what for each in differences(replace(plain, labels=old), replace(plain, labels=new))]

    assert pair((), (LABEL,)) == ["“TONE” added on the top"]
    assert pair((LABEL,), ()) == ["“TONE” left off the top"]
    assert pair((LABEL,), (replace(LABEL, v_mm=36),)) == ["“TONE” moved 2.0 mm nearer the player"]
    assert pair((LABEL,), (replace(LABEL, text="CUT"),)) == ["“TONE” becomes “CUT”"]
    assert pair((LABEL,), (replace(LABEL, height_mm=2.5),)) == ["“TONE” letters 3.0 mm high become 2.5 mm"]
    assert pair((LABEL,), (replace(LABEL, rotation_deg=90),)) == ["“TONE” turned 90° clockwise"]
    far = replace(LABEL, v_mm=80, part=None)
    assert pair((LABEL, far), (far, LABEL)) == []  # their order says nothing
    assert pair((LABEL, far), (LABEL,)) == ["“TONE” left off the top"]


def test_findings_are_matched_by_check_and_what_they_are_about() -> None:
    plain = pedal()
    before = [finding("webs", "stop", "TONE", "LEVEL"), finding("contrast", "warn", "TONE"), finding("seats", "note")]
    after = [finding("contrast", "stop", "TONE", what="faint"), finding("seats", "note"), finding("webs", "warn", "IN")]
    changes = differences(plain, plain, before, after)
    assert [(each.how, each.subject, each.what) for each in changes] == [
        ("added", "webs", "warning gained: Made up: something"),
        ("changed", "contrast", "worse, a warning becomes a stop: Made up: faint"),
        ("removed", "webs", "stop gone: Made up: something"),
    ]
    assert all(line.is_finding and pointed(line) == () for line in items(changes))
    assert summary(changes) == "no difference"


def test_a_finding_that_is_accepted_is_told_as_one() -> None:
    plain = pedal()
    meant = replace(finding("webs", "stop", "TONE", "LEVEL"), accepted="They are filed to fit")
    assert [each.what for each in differences(plain, plain, [], [meant])] == [
        "accepted stop gained: Made up: something"
    ]
    assert [each.what for each in differences(plain, plain, [meant], [])] == ["accepted stop gone: Made up: something"]


def lettering(left: float, top: float) -> Subject:
    return Subject(kind="lettering", face="top", u_mm=left, v_mm=top)


def test_findings_about_lettering_that_was_shifted_are_the_same_within_what_it_was_shifted() -> None:
    plain = pedal()
    before = [
        finding("contrast", "warn", lettering(30, 20)),
        finding("contrast", "warn", lettering(30, 24)),
        finding("visibility", "note", lettering(10, 40), "TONE"),
        finding("letter_height", "note", lettering(50, 90)),
    ]
    after = [
        finding("contrast", "warn", lettering(30, 22)),  # 2 mm from either: that of 26 mm has the other one
        finding("contrast", "stop", lettering(30, 26), what="faint"),
        finding("visibility", "note", lettering(11, 41), "TONE"),  # 1.41 mm
        finding("letter_height", "note", lettering(54, 90)),  # 4 mm: another piece
    ]
    changes = differences(plain, plain, before, after, near_mm=2.0)
    assert [(each.how, each.subject) for each in changes] == [
        ("added", "letter_height"),
        ("changed", "contrast"),
        ("removed", "letter_height"),
    ]
    assert changes[1].what == "worse, a warning becomes a stop: Made up: faint"
    assert len(differences(plain, plain, before, after)) == 8  # nothing was shifted: others
    other_part = finding("visibility", "note", lettering(11, 41), "LEVEL")
    assert len(differences(plain, plain, before[2:3], [other_part], near_mm=2.0)) == 2


def test_of_two_findings_alike_one_may_go() -> None:
    twice = [finding("webs", "warn", "TONE"), finding("webs", "warn", "TONE")]
    (change,) = differences(pedal(), pedal(), twice, twice[:1])
    assert change.how == "removed"


def test_a_version_shares_its_name_or_most_of_its_parts() -> None:
    other = pedal(changed(('name = "Tidewater"', 'name = "Ebb"')))
    assert is_version(pedal(), other)  # four of four parts
    other = pedal(changed(('name = "Tidewater"', 'name = "Ebb"'), ('"TONE"', '"CUT"'), ('"LEVEL"', '"VOLUME"')))
    assert not is_version(pedal(), other)  # two of six


@settings(max_examples=20)
@given(st.floats(-6, 6), st.floats(-6, 6))
def test_any_move_comes_back_as_it_was_made(right: float, down: float) -> None:
    text = changed(("left = 16\ntop = 20", f"left = {16 + right:.3f}\ntop = {20 + down:.3f}"))
    right, down = round(right, 3), round(down, 3)
    changes = [each for each in differences(pedal(), pedal(text)) if each.how == "moved"]
    if abs(right) < 0.004 and abs(down) < 0.004:
        assert changes == []
    elif abs(right) > 0.006 or abs(down) > 0.006:
        assert changes[0].right_mm == pytest.approx(right, abs=1e-6)
        assert changes[0].down_mm == pytest.approx(down, abs=1e-6)
        assert changes[0].distance_mm == pytest.approx(math.hypot(right, down), abs=1e-6)
