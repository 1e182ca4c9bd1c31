"""A pedal as drawn beside one seeded try by hand and the worst of many, and what that costs in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import Any

import numpy as np

from mockup.comparison import files as comparison_files
from mockup.comparison.columns import Column
from mockup.comparison.differences.words import counted, length
from mockup.comparison.sweep.job import Measured
from mockup.comparison.wander import tries
from mockup.comparison.wander.close_looks import close_looks
from mockup.comparison.wander.hand import Hand
from mockup.comparison.wander.options import WanderOptions
from mockup.comparison.wander.tries import Try
from mockup.model.design import Design
from mockup.model.units import Unit
from mockup.options import PICTURES, Progress, Result, silent

AS_DRAWN = "as drawn"


def make(design: Design, hand: Hand, options: WanderOptions, progress: Progress = silent) -> Result:
    """Return the comparison of a design as drawn with a hand's first try and its worst, as files.

    The facts hold every try; their "answer" is the sentence that is printed.
    """
    tried = list(tries.tries(design, hand.deviation_mm, options.seed, options.samples))
    found, notes = tries.measured([design, *(each.design for each in tried)], progress)
    number = tries.worst(tried, found[1:])
    one, worst = tried[0], tried[number]
    whose = "your hand, " if hand.holes else ""
    called = f"{whose}worst of {len(tried)}: {worst.label}"
    columns = [Column(label=AS_DRAWN, design=design)]
    if number != 0:
        columns.append(_column(f"{whose}{one.label}, seed {options.seed}", one))
    columns.append(_column(called, worst))
    made = comparison_files.make(columns, options, progress)
    files = dict(made.files)
    if worst.off_part and files:
        place = PurePath(next(iter(files)))
        ending = place.suffix if place.suffix.lower() in PICTURES else PICTURES[0]
        name = str(place.with_name(f"{place.stem}-close{ending}"))
        shown = [one, worst] if number != 0 else [one]
        looks = [
            (AS_DRAWN, design, {}),
            *((c.label, t.design, dict(t.off)) for c, t in zip(columns[1:], shown, strict=True)),
        ]
        parts = sorted(worst.off, key=lambda name: -worst.off[name])
        request = replace(options.rendering(), look="photo")
        files[name] = close_looks(name, design.name, hand.words(design.units), looks, parts, request)
    facts: dict[str, Any] = {
        "answer": answer(hand, options.samples, tried, found, number, design.units),
        "deviation_mm": hand.deviation_mm,
        "holes": hand.holes,
        "seed": options.seed,
        "worst": worst.label,
        "tries": [_facts(each, figures) for each, figures in zip(tried, found[1:], strict=True)],
    }
    return Result(files=files, facts=facts | made.facts | {"files": list(files)}, notes=(*notes, *made.notes))


def _column(label: str, each: Try) -> Column:
    return Column(label=label, design=each.design, near_mm=each.slipped_mm)


def answer(hand: Hand, samples: int, tried: Sequence[Try], found: Sequence[Measured], number: int, units: Unit) -> str:
    """Return in one or two sentences what a hand costs; `found` starts with the design as drawn."""
    own, worst, figures = found[0].figures, tried[number], found[number + 1].figures
    far = max(tried, key=lambda each: each.off_mm)
    middling = float(np.median([each.off_mm for each in tried[:samples]]))
    near = f"{_mm(hand.deviation_mm, units)} off (standard deviation along each axis; 86 of 100 within "
    said = f"If holes land {near}{_mm(2 * hand.deviation_mm, units)}), "
    if hand.holes:
        said = f"This is {hand.words(units)}. {said}"
    if far.off_part:
        said += (
            f"print and hole come to lie up to {_mm(far.off_mm, units)} apart ({far.off_part}, {far.label}), "
            f"{_mm(middling, units)} in a middling try; "
        )
    gained = " and ".join(counted(figures.stops - own.stops, figures.warnings - own.warnings, more="more "))
    said += f"at the worst ({worst.label}) the checks find {gained or 'no more stops or warnings'}"
    hidden, before = figures.most_hidden or 0.0, own.most_hidden or 0.0
    if hidden - before >= 0.01:
        said += f", and the worst label is {100 * hidden:.0f} % hidden instead of {100 * before:.0f} %"
    return f"{said}."


def _mm(value: float, units: Unit) -> str:
    return length(round(value, 2), units)


def _facts(each: Try, found: Measured) -> dict[str, Any]:
    figures = found.figures
    return {
        "label": each.label,
        "off_mm": round(each.off_mm, 3),
        "off_part": each.off_part or None,
        "stops": figures.stops,
        "warnings": figures.warnings,
        "notes": figures.notes,
        "most_hidden": figures.most_hidden,
    }
