"""The layout of a new project folder works as it is."""

from __future__ import annotations

import pytest

from mockup.layout.parse import parse
from mockup.layout.resolve import assets, font_files, resolve, variants
from mockup.layout.starter import ART, layout_text
from mockup.model.enclosure import faces

KEYS = ("# [lettering]", "# font", "# size", "# colour", "# [[label]]", "# part", "# side")  # commented out there


@pytest.mark.parametrize("name", ["tidewater", 'Tide "water" \\ 2', "Überfall 🎸"])
def test_it_reads_back_with_its_name(name, picture):
    layout = parse(layout_text(name), "layout.toml")
    design = resolve(layout, {ART: picture(1276, 2457, (600.0, 600.0))})
    assert design.name == name
    assert assets(layout) == (ART,)


def test_it_shows_three_pots_a_footswitch_a_lamp_two_side_jacks_and_a_supply(picture):
    design = resolve(parse(layout_text("tidewater"), "layout.toml"), {ART: picture(1276, 2457, (600.0, 600.0))})
    where = sorted((part.kind.name, part.face) for part in design.parts)
    assert where == [
        ("dc-socket", "far"),
        ("footswitch", "top"),
        ("jack-enclosed", "left"),
        ("jack-enclosed", "right"),
        ("lamp-5", "top"),
        ("pot-16", "top"),
        ("pot-16", "top"),
        ("pot-16", "top"),
    ]


def test_knobs_and_holes_keep_clear_of_each_other_and_of_the_edges(picture):
    design = resolve(parse(layout_text("tidewater"), "layout.toml"), {ART: picture(1276, 2457, (600.0, 600.0))})
    top = [part for part in design.parts if part.face == "top"]
    left, upper, right, lower = faces(design.enclosure)["top"].flat
    radii = {
        part.name: max(
            [part.knob.diameter_mm if part.knob else 0, *(hole.outline.width_mm for hole in part.kind.cutouts)]
        )
        / 2
        for part in top
    }
    for one in top:
        reach = radii[one.name]
        assert left <= one.u_mm - reach and one.u_mm + reach <= right
        assert upper <= one.v_mm - reach and one.v_mm + reach <= lower
        for other in top:
            distance = ((one.u_mm - other.u_mm) ** 2 + (one.v_mm - other.v_mm) ** 2) ** 0.5
            assert one is other or distance >= reach + radii[other.name] + 3  # room for fingers: common practice


def test_the_jacks_face_each_other_across_the_box(picture):
    design = resolve(parse(layout_text("tidewater"), "layout.toml"), {ART: picture(1276, 2457, (600.0, 600.0))})
    sides = faces(design.enclosure)
    ends = {part.face: sides[part.face].to_world([part.u_mm, part.v_mm]) for part in design.parts}
    assert ends["left"][1:] == pytest.approx(ends["right"][1:])
    assert ends["left"][0] == pytest.approx(-ends["right"][0])


def test_its_variant_changes_paint_and_lamp_alone(picture):
    layout = parse(layout_text("tidewater"), "layout.toml")
    art = {ART: picture(1276, 2457, (600.0, 600.0))}
    (name,) = variants(layout)
    plain, other = resolve(layout, art), resolve(layout, art, name)
    assert plain.finish.paint != other.finish.paint
    changed = [a.name for a, b in zip(plain.parts, other.parts, strict=True) if a.lamp != b.lamp]
    assert changed == ["LAMP"]
    assert [(a.u_mm, a.v_mm) for a in plain.parts] == [(a.u_mm, a.v_mm) for a in other.parts]


def test_its_commented_lettering_works_once_there_is_a_font(picture, bold):
    text = "".join(
        line.removeprefix("# ") if line.startswith(KEYS) else line
        for line in layout_text("tidewater").splitlines(keepends=True)
    )
    layout = parse(text, "layout.toml")
    assert font_files(layout) == ("bold.ttf",)
    design = resolve(layout, {ART: picture(1276, 2457, (600.0, 600.0))}, fonts={"bold.ttf": bold})
    assert [(label.text, label.height_mm) for label in design.labels] == [("BYPASS", 2.6)]
    assert design.decals[0].art.pixels.any()
