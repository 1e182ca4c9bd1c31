"""Single keys of a layout set to other values: what they do, and what is said of keys and values that are wrong."""

from __future__ import annotations

import pytest

from mockup.layout.edit.assignment import Assignment, assign, fault_origin, split_values
from mockup.layout.parse import Layout, parse
from mockup.layout.resolve import resolve
from mockup.model.design import Design
from mockup.model.errors import InputError

TEXT = """
[box]
size = "112x60x31"
edge = 1.5

[finish]
paint = "#7fa8a3"

[[part]]
name = "TONE"
kind = "pot-16"
right = 19
top = 30
knob = { style = "conical", diameter = 18 }

[[part]]
name = "GAIN"
kind = "pot-16"
left = 12
top = 30

[[part]]
name = "GLOW"
kind = "lamp-5"
top = 60

[[label]]
part = "TONE"
height = 3
width = 9

[variants.night]
finish = { paint = "#26324a" }
[[variants.night.part]]
name = "TONE"
knob = { style = "dome" }
"""


@pytest.fixture
def layout() -> Layout:
    return parse(TEXT, "layout.toml")


def design(layout: Layout, *changes: tuple[str, str], variant: str | None = None) -> Design:
    """Return the design with (key, value) set."""
    written = [Assignment(key=key, value=value, origin=f"--set {key}={value}") for key, value in changes]
    changed = assign(layout, variant, written)
    with fault_origin(written):
        return resolve(changed, {}, variant)


def part(found: Design, name: str):  # type: ignore[no-untyped-def]
    return next(each for each in found.parts if each.name == name)


def fault(layout: Layout, key: str, value: str, variant: str | None = None) -> str:
    with pytest.raises(InputError) as caught:
        design(layout, (key, value), variant=variant)
    assert len(caught.value.faults) == 1, caught.value
    return str(caught.value)


def test_colour_sheen_and_box(layout: Layout) -> None:
    found = design(layout, ("finish.paint", "#ff0000"), ("finish.sheen", "matte"), ("box.size", "121x66x39"))
    assert found.finish.paint == (1.0, 0.0, 0.0)
    assert found.finish.sheen.name == "matte"
    assert (found.enclosure.width_mm, found.enclosure.length_mm, found.enclosure.height_mm) == (66.0, 121.0, 39.0)
    assert found.enclosure.edge_mm == 1.5, "what the file says of the edge still holds"


def test_a_place_takes_the_place_of_the_opposite_side(layout: Layout) -> None:
    """0.5 in from the left edge is 12.7 mm; the file's own `right` no longer holds."""
    found = design(layout, ("part.TONE.left", "0.5 in"))
    top = part(found, "TONE")
    gain = part(design(layout, ("part.GAIN.left", "12.7")), "GAIN")
    assert top.u_mm == pytest.approx(gain.u_mm, abs=0.1)  # same ruler, same height


def test_every_part_that_takes_a_knob(layout: Layout) -> None:
    found = design(layout, ("part.*.knob.style", "barrel"))
    assert [each.knob.style for each in found.parts if each.knob] == ["barrel", "barrel"]
    assert part(found, "TONE").knob.diameter_mm == 18.0, "a key that is not swept stays"
    assert part(found, "GLOW").lamp is not None


def test_true_and_numbers_are_read_as_the_file_would(layout: Layout) -> None:
    found = design(
        layout, ("part.GLOW.lit", "false"), ("part.TONE.knob.pointer", "0.25"), ("finish.clear_coat", "false")
    )
    assert part(found, "GLOW").lamp.is_lit is False
    assert part(found, "TONE").knob.pointer == 0.25
    assert found.finish.has_clear_coat is False


def test_a_variant_keeps_its_own_changes(layout: Layout) -> None:
    found = design(layout, ("part.TONE.knob.diameter", "20"), ("part.GAIN.top", "50"), variant="night")
    tone = part(found, "TONE").knob
    assert (tone.style, tone.diameter_mm) == ("dome", 20.0)
    assert found.finish.paint == pytest.approx((0x26 / 255, 0x32 / 255, 0x4A / 255))
    assert part(found, "GAIN").v_mm > part(design(layout, variant=None), "GAIN").v_mm


def test_label_keeps_its_width_when_its_text_changes(layout: Layout) -> None:
    found = design(layout, ("label.TONE.text", "COLOUR"), ("label.TONE.height", "4"))
    assert (found.labels[0].text, found.labels[0].width_mm, found.labels[0].height_mm) == ("COLOUR", 9.0, 4.0)


def test_file_is_not_touched(layout: Layout) -> None:
    before = repr(layout.raw)
    design(layout, ("part.TONE.knob.style", "dome"), ("finish.paint", "red"), variant="night")
    assert repr(layout.raw) == before


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("finish.pant", "red", "did you mean 'paint'?"),
        ("paint", "red", "did you mean 'finish.paint'?"),
        ("finish.paint", "teall", "teal"),
        ("box.size", "112x60x32", "did you mean '112x60x31'?"),
        ("part.TONNE.left", "12", "did you mean 'TONE'?"),
        ("part.TONE.knob", "dome", "style"),
        ("part.TONE.knob.style", "domme", "did you mean 'dome'?"),
        ("part.TONE.left", "200", "off the top face"),
        ("decal.film", "white", "no [[decal]]"),
        ("variants.night.name", "x", "no key"),
        ("finish..paint", "red", "no key"),
        ("finish.clear_coat", "yes", "true or false"),
        ("part.GLOW.knob.style", "dome", "takes no knob"),
    ],
)
def test_a_mistake_is_one_line_that_names_the_flag_and_the_way_out(
    layout: Layout, key: str, value: str, words: str
) -> None:
    line = fault(layout, key, value)
    assert "\n" not in line
    assert line.startswith(f"--set {key}={value}: ")
    assert words in line


def test_lists_are_cut_at_their_own_commas_only() -> None:
    assert split_values("red, #112233 ,teal") == ["red", "#112233", "teal"]
    assert split_values("[0.2, 0.2],[0, 0]") == ["[0.2, 0.2]", "[0, 0]"]
    assert split_values('"a,b",c') == ['"a,b"', "c"]
