"""How well drawn lettering stands out from the bare paint it lies on, as it will be printed."""

from __future__ import annotations

import numpy as np

from mockup.colour.difference import contrast
from mockup.decal import ink_over_paint
from mockup.decal.painting import finishes_under
from mockup.decal.white_under import grounds
from mockup.model.design import Design
from mockup.model.label import Label


def word_contrast(design: Design, label: Label) -> float | None:
    """Return the WCAG 2.2 ratio, 1 to 21, of a word's ink to the film and paint beside it; None where the art holds it.

    It is predicted over the paint alone, where a picture is the paint over the least of the main colours under the
    word: art under the word is not looked at.
    """
    if label.lettering is None:
        return None
    decals = [decal for decal in design.decals if decal.face == label.face]
    ink, ratios = np.array(label.lettering.colour), []
    for finish in finishes_under(design.finish, label):
        beside = on = ink_over_paint.ground(finish)
        if decals:
            beside, on = grounds(finish, decals[-1])
            beside = on if decals[-1].is_white_all_over else beside
        ratios.append(float(contrast(ink_over_paint.predict(ink, on), ink_over_paint.predict(np.ones(3), beside))))
    return min(ratios)


def worst_word(design: Design) -> tuple[Label, float] | None:
    """Return the drawn word that stands out least, and its ratio; None where no word is drawn."""
    found = [(label, ratio) for label in design.labels if (ratio := word_contrast(design, label)) is not None]
    return min(found, key=lambda each: each[1], default=None)
