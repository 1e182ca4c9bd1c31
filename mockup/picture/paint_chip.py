"""A chip of the paint with its figures, laid into a picture's corner: what its colour is, whatever the light does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from mockup.colour import rgb
from mockup.colour.difference import encoded_to_lab
from mockup.decal.painting import plain_finishes
from mockup.drawing.lettering import width_mm
from mockup.encode.pixels import pixels
from mockup.model.finish import Finish
from mockup.model.picture import Picture
from mockup.model.sheet import INK, Mark, Page, Rectangle, Text

_CARD = (0.97, 0.97, 0.96)  # our choice, as all measures here
_SHARE = 0.030  # height of its words, of the picture's shorter side
_MOST = 4  # colours of a picture that is the paint
_LEAST_PX = 9.0  # that they can be read at


def with_chip(picture: Picture, finish: Finish) -> Picture:
    """Return a picture with a card in its lower right corner: the paint as it is given, its figures beneath.

    Where a picture is the paint, the card has its main colours side by side.
    """
    height, width = picture.pixels.shape[:2]
    size = max(_LEAST_PX, _SHARE * min(height, width))
    metal = finish.sheen.metal
    owns = [each.paint for each in plain_finishes(finish)[:_MOST]]
    owns = owns if metal is None else [rgb.encoded_colour(metal.base_color)]
    lightness, a, b = encoded_to_lab(np.array(owns[0])).tolist()
    lines = [f"{rgb.to_hex(owns[0])} {finish.sheen.name}", f"L* {lightness:.0f}  a* {a:.0f}  b* {b:.0f}"]
    lines = lines if len(owns) == 1 else [f"{rgb.to_hex(each)} {finish.sheen.name}" for each in owns]
    gap = 0.6 * size
    wide = round(max(width_mm(line, size) for line in lines) + 2 * gap)
    square = wide - 2 * gap
    tall = round(0.6 * square + 1.5 * size * len(lines) + 2 * gap)
    marks: list[Mark] = [
        *(
            Rectangle(
                x_mm=gap + number * square / len(owns),
                y_mm=gap,
                width_mm=square / len(owns),
                height_mm=0.6 * square,
                fill=own,
            )
            for number, own in enumerate(owns)
        ),
        *(
            Text(x_mm=gap, y_mm=gap + 0.6 * square + 1.5 * size * (row + 0.9), text=line, size_mm=size, colour=INK)
            for row, line in enumerate(lines)
        ),
    ]
    card = pixels(Page(width_mm=wide, height_mm=tall, marks=tuple(marks)), 1.0, _CARD)
    tall, wide = min(card.shape[0], height), min(card.shape[1], width)
    at = (
        slice(max(height - tall - round(gap), 0), height - round(gap)),
        slice(max(width - wide - round(gap), 0), None),
    )
    laid = np.array(picture.pixels)
    place = laid[at][:tall, :wide]
    place[..., :3] = card[: place.shape[0], : place.shape[1]]
    place[..., 3:] = 255
    return replace(picture, pixels=laid)
