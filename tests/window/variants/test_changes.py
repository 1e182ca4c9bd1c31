"""What a variant changes is said value by value and in two words, by hand for a small layout."""

import tomllib

from mockup.window.variants.changes import changes, words

RAW = tomllib.loads("""
[box]
size = "121x66x39"
[finish]
paint = "#e7cdc6"
sheen = "satin"
clear_coat = false
[[part]]
name = "FLOW"
kind = "pot-16"
left = 17
knob = { style = "dome", diameter = 17 }
[[part]]
name = "LIT"
kind = "lamp-5"
colour = "red"
[variants.Moss]
finish = { paint = "#8fb39b", sheen = "hammered", clear_coat = true }
[variants.Ink]
finish = { paint = "#27355f" }
[[variants.Ink.part]]
name = "LIT"
colour = "blue"
[[variants.Ink.part]]
name = "FLOW"
left = 18.5
knob = { style = "bar" }
[variants.Bare]
[[variants.Bare.part]]
name = "FLOW"
remove = true
[[variants.Bare.part]]
name = "NEW"
kind = "toggle"
[variants.Same]
finish = { paint = "#e7cdc6" }
""")


def told(variant):
    return [(each.label, each.then, each.now) for each in changes(RAW, variant)]


def test_each_value_then_and_now():
    assert told("Moss") == [
        ("Paint", "#e7cdc6", "#8fb39b"), ("Sheen", "satin", "hammered"), ("Lacquer", "no", "yes"),
    ]  # fmt: skip
    assert told("Ink") == [
        ("Paint", "#e7cdc6", "#27355f"), ("LIT colour", "red", "blue"), ("FLOW left", "17", "18.5"),
        ("FLOW style", "dome", "bar"),
    ]  # fmt: skip
    assert told("Bare") == [("FLOW", "there", "left out"), ("NEW", "none", "toggle")]
    assert told("Same") == []
    assert told(None) == []
    assert told("there is none") == []


def test_all_of_it_in_two_words():
    assert words(RAW, None) == "the base"
    assert words(RAW, "Moss") == "paint, sheen ..."
    assert words(RAW, "Ink") == "paint, lamp ..."
    assert words(RAW, "Bare") == "parts"
    assert words(RAW, "Same") == "the same"
