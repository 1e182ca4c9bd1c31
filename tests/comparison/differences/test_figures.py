"""Figures of a pedal: areas by hand, contrast and hidden shares as the checks have them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from pedal_bench import PLAIN, art, changed, finding, pedal

from mockup.checks.panel.built import Built
from mockup.checks.report.run import run
from mockup.checks.report.sentences import what
from mockup.comparison.differences.figures import Figures, LabelFigures, ink_of, studied
from mockup.comparison.differences.figures import figures as measured
from mockup.comparison.entries import Entry
from mockup.comparison.sheet.tables import figure_rows, label_rows, label_words
from mockup.model.design import Design
from mockup.model.finding import Finding, Quantity, Subject
from mockup.model.label import Label


def figures(design: Design, findings: Sequence[Finding] = ()) -> Figures:
    return measured(Built(design), findings)


def test_inked_area_is_that_of_the_bar() -> None:
    ink = ink_of(Built(pedal()), "top")
    # 20 by 10 mm; sampled at 0.2 mm, so within a row and a column of samples.
    assert ink.inked_mm2 == pytest.approx(200.0, abs=2 * 0.2 * (20 + 10))
    # The top face: the box leans in by 1 degree over 31 - 1.8 mm, 0.51 mm a side, and the sampled grid is whole.
    assert ink.face_mm2 == pytest.approx((60 - 2 * 0.5097) * (112 - 2 * 0.5097), rel=1e-3)
    assert ink.share == pytest.approx(200.0 / 6477.0, rel=0.06)


def test_ink_that_lies_twice_counts_once() -> None:
    twice = pedal()
    twice = replace(twice, decals=(*twice.decals, *twice.decals))
    assert ink_of(Built(twice), "top").inked_mm2 == ink_of(Built(pedal()), "top").inked_mm2


def test_parts_holes_and_runs_of_the_drill() -> None:
    found = figures(pedal())
    assert (found.parts, found.holes) == (4, 4)
    # Pots of 7.5 mm: 3, 6, 7.5. Lamp of 8 mm: 3, 6, 8. Jack of 9.5 mm: 3, 6, 9, 9.5 (steps of 3 mm, 0.4 mm at least).
    by_hand = {7.5: 3, 8.0: 3, 9.5: 4}
    sizes = [bore.outline.width_mm for bore in Built(pedal()).bores]
    assert found.drillings == sum(by_hand.get(size, 0) or _runs(size) for size in sizes)


def _runs(size: float) -> int:
    """Count a pilot, whole threes above it that leave 0.4 mm, and the last drill."""
    return 2 + sum(3 * step > 3.4 and 3 * step <= size - 0.4 for step in range(1, 20))


def test_findings_are_counted_by_how_bad_they_are() -> None:
    found = figures(pedal(), [finding("a", "warn"), finding("b", "note"), finding("a", "warn"), finding("c", "stop")])
    assert (found.stops, found.warnings, found.notes) == (1, 2, 1)


def test_a_pedal_is_checked_and_measured() -> None:
    design = pedal(changed(("left = 16\ntop = 20", "left = 24\ntop = 20")))
    findings, measured = studied(design)
    assert findings == run(design)
    assert measured == figures(design, findings)
    assert measured.warnings + measured.stops > 0  # two knobs, 18 mm wide, 19 mm apart


def lettered(colour: str, u_mm: float = 29.5, v_mm: float = 70.0) -> Design:
    """Return the pedal with three upright bars, 3 mm high, 1 mm wide and 1 mm apart, declared as a label."""
    left, top = u_mm - 2.5 - 4.5, v_mm - 1.5 - 5.5  # the film's corner lies 4.5 and 5.5 mm from the face's
    design = pedal(PLAIN, art(*((left + 2 * n, top, left + 2 * n + 1, top + 3) for n in range(3)), colour=colour))
    label = Label(text="III", face="top", u_mm=u_mm, v_mm=v_mm, width_mm=5.0, height_mm=3.0)
    return replace(design, labels=(label,))


def test_contrast_of_a_label_is_what_the_check_says_of_it() -> None:
    design = lettered("#6f9893")  # nearly the paint
    (label,) = figures(design).labels
    (found,) = run(design, ["contrast"])
    assert f"({label.contrast_low:.1f}".removesuffix(".0") in what(found, "mm")
    assert found.facts["low"] == Quantity(round(label.contrast_low or 0.0, 1), ":1")
    assert found.facts["high"] == Quantity(round(label.contrast_high or 0.0, 1), ":1")
    assert label.reading == "lost"
    assert f"{label.wanted:g}:1 reads well" in what(found, "mm")


def test_black_on_a_light_paint_reads_and_is_the_worst_where_it_is_alone() -> None:
    found = figures(lettered("#000000"))
    (label,) = found.labels
    assert label.reading == "reads"
    assert label.hidden == 0.0
    assert found.worst_label is label
    assert found.worst_contrast == label.contrast_low
    assert found.most_hidden == 0.0


def test_a_label_under_a_knob_is_hidden_by_it() -> None:
    # 5 mm wide, all under the 18 mm knob of TONE.
    found = figures(lettered("#000000", u_mm=16.0, v_mm=20.0))
    (label,) = found.labels
    assert label.hidden_above == pytest.approx(1.0)
    assert label.hidden_by[0] == "TONE"
    assert found.most_hidden == pytest.approx(1.0)


def test_words_for_a_label() -> None:
    label = LabelFigures(
        subject=Subject(kind="label", name="TONE"),
        face="top",
        height_mm=3.0,
        contrast_low=3.8,
        contrast_high=5.2,
        wanted=4.5,
        hidden_above=0.0,
        hidden_player=0.09,
    )
    assert label.reading == "in doubt"
    assert label_words(label) == "3.8 to 5.2 : 1, in doubt, 9 % hidden"
    assert label_words(replace(label, contrast_low=None)) == "nothing printed"
    assert label_words(replace(label, contrast_low=5.2, hidden_player=None)) == "5.2 : 1, reads"


def entry(label: str, design: Design) -> Entry:
    return Entry(label=label, design=design, findings=(), figures=figures(design))


def test_the_table_of_figures_says_what_the_layout_says() -> None:
    rows = dict(figure_rows([entry("one", pedal()), entry("two", pedal(changed(("#7fa8a3", "#26324a"))))]))
    assert rows["Box"] == ("112 × 60 × 31 mm",) * 2
    assert rows["Paint"] == ("#7fa8a3", "#26324a")
    assert rows["Film"] == ("clear, top",) * 2
    assert rows["Parts"] == ("4", "4")
    assert rows["Inked area"][0].startswith("2.0 cm², 3 % of the top")


def test_a_label_found_in_shifted_art_stays_in_its_row() -> None:
    """Found at 21 and 24 mm on the first; 1 mm nearer the edge on the second, whose art may have slipped by 1 mm."""

    def entry(near_mm: float, *tops: int) -> Entry:
        labels = tuple(
            LabelFigures(
                subject=Subject(kind="lettering", face="top", u_mm=30.0, v_mm=float(top)),
                face="top",
                height_mm=2.0,
                contrast_low=float(top),
                contrast_high=float(top),
                wanted=3.0,
                hidden_above=0.0,
                hidden_player=None,
            )
            for top in tops
        )
        found = replace(figures(pedal()), labels=labels)
        return Entry(label="", design=pedal(), findings=(), figures=found, near_mm=near_mm)

    first = entry(0.0, 21, 24)
    rows = label_rows([first, entry(1.0, 20, 23)])
    assert [values for _, values in rows] == [
        ("21.0 : 1, reads", "20.0 : 1, reads"),
        ("24.0 : 1, reads", "23.0 : 1, reads"),
    ]
    assert len(label_rows([first, entry(0.0, 20, 23)])) == 4  # nothing was shifted: others
    assert len(label_rows([first, entry(1.0, 20, 28)])) == 3
