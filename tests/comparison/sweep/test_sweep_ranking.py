"""Which pedal comes first, and what is said of all of them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mockup.comparison.differences.figures import Figures, InkFigures, LabelFigures
from mockup.comparison.sweep.job import Measured, Names
from mockup.comparison.sweep.options import BYS
from mockup.comparison.sweep.ranking import Candidate, answer, figure, ranked, said, tally
from mockup.model.finding import Subject

TONE, GAIN = Subject(kind="label", name="TONE"), Subject(kind="label", name="GAIN")
LABEL = LabelFigures(
    subject=TONE,
    face="top",
    height_mm=3.0,
    contrast_low=6.0,
    contrast_high=7.0,
    wanted=4.5,
    hidden_above=0.0,
    hidden_player=0.0,
)
FOUND = Subject(kind="lettering", face="top", u_mm=13.0, v_mm=107.0)


def candidate(
    caption: str, *labels: LabelFigures, found: tuple[int, int, int] = (0, 0, 0), ink: float = 100.0, place: int = 0
) -> Candidate:
    figures = Figures(
        stops=found[0],
        warnings=found[1],
        notes=found[2],
        ink=(InkFigures(face="top", inked_mm2=ink, face_mm2=6000.0),),
        labels=labels,
        parts=1,
        holes=1,
        drillings=3,
    )
    return Candidate(
        caption=caption,
        place=place,
        names=Names(figures=""),
        measured=Measured(figures=figures, hidden_limit=0.15),
    )


def label(low: float | None, high: float | None, subject: Subject = TONE, hidden: float = 0.0) -> LabelFigures:
    return replace(LABEL, subject=subject, contrast_low=low, contrast_high=high, hidden_player=hidden)


def test_a_pedal_is_only_as_good_as_its_worst_label() -> None:
    good = candidate("good", label(5.0, 6.0), label(9.0, 9.5))
    doubtful = candidate("doubtful", label(4.0, 5.0), label(9.0, 9.5, GAIN))
    faint = candidate("faint", label(4.0, 5.0), label(2.0, 3.0, GAIN))
    hidden = candidate("hidden", label(5.0, 6.0, hidden=0.2))
    blank = candidate("blank", label(None, None))
    assert [each.verdict for each in (good, doubtful, faint, hidden, blank)] == [
        "all read",
        "in doubt",
        "not all",
        "not all",
        "not all",
    ]
    assert said(good) == "every label reads"
    assert said(doubtful) == "in doubt: TONE"
    assert said(faint) == "in doubt: TONE; too faint: GAIN"
    assert said(faint, is_counted=True) == "1 in doubt, 1 too faint"
    assert said(hidden) == "hidden: TONE"
    assert said(blank) == "not printed: TONE"
    assert said(candidate("none")) == "no lettering found"


def test_sorting_puts_the_best_first_and_equals_as_given() -> None:
    every = [
        candidate("a", label(3.0, 4.0), found=(0, 2, 1), ink=300.0, place=0),
        candidate("b", label(8.0, 9.0), found=(1, 0, 0), ink=200.0, place=1),
        candidate("c", label(8.0, 9.0), found=(0, 2, 0), ink=400.0, place=2),
        replace(candidate("d", place=3), measured=None, failure="it fell over"),
    ]
    order = {by: "".join(each.caption for each in ranked(every, by)) for by in BYS}
    assert order == {"contrast": "bcad", "findings": "cabd", "given": "abcd", "ink": "bacd"}


def test_figures_are_said_with_their_units() -> None:
    one = candidate("a", label(5.04, 6.0), label(9.0, 9.5, GAIN), found=(1, 0, 2), ink=1234.0)
    assert figure(one, "contrast") == "5.0 : 1 at worst (TONE)"
    assert figure(one, "contrast", detail="short") == "5.0 : 1 at worst"
    assert figure(one, "contrast", detail="bare") == "5.0 : 1"
    assert figure(one, "findings") == tally(one) == "1 stop, 2 notes"
    assert figure(one, "ink") == "12.3 cm² inked"
    assert figure(candidate("a", label(2.0, 3.0, FOUND)), "given") == "2.0 : 1 at worst (lettering at 13, 107 mm)"


def test_lettering_that_was_only_found_is_counted() -> None:
    other = replace(FOUND, v_mm=99.0)
    assert said(candidate("a", label(1.0, 2.0, FOUND), label(1.0, 2.0, other))) == "too faint: 2 pieces of lettering"
    assert said(candidate("a", label(1.0, 2.0, FOUND), label(1.0, 2.0))) == "too faint: TONE, 1 piece of lettering"


def test_the_answer_is_one_sentence() -> None:
    good, doubtful = candidate("ivory", label(5.0, 6.0)), candidate("sage", label(4.0, 5.0))
    bad = candidate("navy", label(1.0, 2.0))
    lost = replace(candidate("x"), measured=None, failure="it fell over")
    assert answer([good, doubtful, bad], "paints") == (
        "1 of 3 paints keeps every label readable: ivory; in doubt (it depends on printer and lacquer): sage; "
        "not all read on navy."
    )
    assert answer([good, good], "paints") == "All 2 paints keep every label readable."
    assert answer([bad], "films") == "None of 1 films keep every label readable; not all read on navy."
    assert answer([good, lost], "films").endswith("; 1 could not be made.")
    assert answer([candidate("x")], "paints") == "No lettering was found on these 1 paints to judge."
    many = [candidate(f"p{number}", label(5.0, 6.0)) for number in range(20)]
    assert answer([*many, bad], "paints").count(",") == 11
    assert "p11 and 8 more;" in answer([*many, bad], "paints")


@pytest.mark.parametrize("by", BYS)
def test_no_lettering_at_all_still_sorts(by: str) -> None:
    every = [candidate("a", place=0), candidate("b", place=1)]
    assert [each.caption for each in ranked(every, by)] == ["a", "b"]  # type: ignore[arg-type]
