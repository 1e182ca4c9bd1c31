"""What is said of the room round a carried part."""

from __future__ import annotations

from mockup.checks.panel.clearance import Clearance
from mockup.window.parts.room_words import barred, figure, sentence, tag, told, words

AT = ((0.0, 0.0), (1.0, 0.0))


def room(
    own: str, other: str, mm: float, thing: str | None = None, severity: str | None = None, ends: object = AT
) -> Clearance:
    return Clearance(own=own, other=other, room_mm=mm, limit_mm=0.0, thing=thing, severity=severity, ends=ends)  # type: ignore[arg-type]


def test_rows_read_as_a_builder_says_them() -> None:
    assert words(room("knob", "FLOW", 1, "knob")) == "Knob to knob, FLOW"
    assert words(room("hole", "FORD", 1, "hole")) == "Hole to hole, FORD"
    assert words(room("knob", "FORD", 1, "nut")) == "Knob to FORD"
    assert words(room("body", "LIT", 1, "body")) == "Body to LIT"
    assert words(room("body", "the lid", 1)) == "Body to the lid"
    assert words(room("knob", "the edge", 1)) == "Knob to the edge"
    assert words(room("nut", "FORD", 1, "nut")) == "Nut to nut, FORD"


def test_figures_to_a_tenth_or_a_hundredth_of_an_inch() -> None:
    assert figure(4.26, "mm") == "4.3"
    assert figure(-0.04, "mm") == "0.0"
    assert figure(12.7, "in") == "0.50"


def test_tags_say_to_what_and_how_bad() -> None:
    assert tag(room("knob", "FORD", 4.3, severity="warn"), "mm") == "4.3 to FORD, tight"
    assert tag(room("knob", "FORD", -1.1, severity="stop"), "mm") == "1.1 into FORD"
    assert tag(room("washer", "the edge", -2.0, severity="stop"), "mm") == "2.0 over the edge"
    assert tag(room("knob", "the edge", 8.5), "mm") == "8.5 to the edge"


def test_what_does_not_fit_is_a_sentence() -> None:
    assert sentence("FLOW", room("body", "FORD", -6.04, severity="stop"), "mm") == "FLOW runs 6.0 mm into FORD"
    assert sentence("BYPASS", room("nut", "the edge", -2.1, severity="stop"), "mm") == "BYPASS is 2.1 mm over the edge"
    assert sentence("FLOW", room("knob", "FORD", 0.31, severity="stop"), "in") == "FLOW has only 0.01 in to FORD"


def test_each_pair_is_told_once_and_each_thing_drawn_once() -> None:
    found = [
        room("knob", "A", -1.0, "knob", "stop"), room("knob", "A", 2.0, "nut"), room("hole", "A", 3.0, "hole"),
        room("middle", "B", 40.0, "middle"), room("body", "C", 1.0, "body", "warn", None),
        room("knob", "the edge", 8.0),
    ]  # fmt: skip
    assert [(each.own, each.other) for each in told(found)] == [
        ("knob", "A"),
        ("hole", "A"),
        ("body", "C"),
        ("knob", "the edge"),
    ]
    assert [each.other for each in barred(found)] == ["A", "the edge"]
