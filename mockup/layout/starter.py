"""The layouts that a new project starts with: one that explains itself, and a bare box in its paint."""

from __future__ import annotations

import json

from mockup import knobs
from mockup.colour import rgb
from mockup.layout.edit.lengths import like
from mockup.layout.resolve import favourite_style
from mockup.model.enclosure import Enclosure
from mockup.model.material import Colour
from mockup.model.units import Unit

NEW_SHEEN = "satin"  # of a new box; it forgives dust and fingerprints: common practice, no source
ART = "art.png"
"""The picture file that the starter layout refers to."""

_TEXT = """\
# A pedal as one file. Change a number, save, render again.
#
# Plain numbers are counted in `units`. Text may carry its own unit: "19 mm", "3/4 in", "1 1/2 in".
# Measure with a ruler, looking straight at a face: left, right, top and bottom are counted from
# that edge of the face. An axis that you leave out is centred.

name = @NAME@
units = "mm"                    # or "in"

[box]
size = "112x60x31"              # length x width x height of a generic die-cast box
# Measured yours? Any value may be overridden: width, length, height, wall, top, draft, corner, edge, lid.
# wall = 2.1

[finish]
paint = "#a5d2c8"               # hex, a CSS colour name such as "teal", or a picture: "wood.jpg"
sheen = "gloss"                 # gloss, satin, matte, hammered, flake (metallic), bare (no paint)
clear_coat = true               # lacquer over paint and decal; or "gloss", "satin", "matte"

[[decal]]
art = "@ART@"                  # a picture next to this file; white prints nothing and shows the paint
face = "top"                    # top, near, far, left, right or lid
film = "clear"                  # clear, or white film where white has to stay white
# It prints as large as its own dpi make it (54 x 104 mm). To force a size: width = 54

# --- Controls on the top: left and top lead to the middle of the hole --------------------------
# Knob styles: @STYLES@, or none for a bare shaft. pointer: 0 is fully left, 1 fully right.

[[part]]
name = "SWELL"
kind = "pot-16"
left = 14.5
top = 19
knob = { style = "@STYLE@", diameter = 15, height = 14, colour = "#1b1c1f", pointer_colour = "ivory", pointer = 0.7 }

[[part]]
name = "DRIFT"
kind = "pot-16"
right = 14.5                    # measured from the right edge, just as well
top = 19
knob = { style = "@STYLE@", diameter = 15, height = 14, colour = "#1b1c1f", pointer_colour = "ivory", pointer = 0.35 }

[[part]]
name = "DEPTH"
kind = "pot-16"
top = 40                        # no left or right: centred
knob = { style = "@STYLE@", diameter = 15, height = 14, colour = "#1b1c1f", pointer_colour = "ivory", pointer = 0.5 }

[[part]]
name = "LAMP"
kind = "lamp-5"
bottom = 39
colour = "#ff3b1f"              # of the light
lit = true

[[part]]
name = "BYPASS"
kind = "footswitch"
bottom = 19

# --- Sides: look straight at the side; its top edge is the box's top, its bottom the open rim ---

[[part]]
name = "INPUT"
kind = "jack-enclosed"
face = "right"
right = 60                      # on the right side, the far end of the box is to your right
top = 15
rotation = 90                   # its terminals point sideways, clear of the lid

[[part]]
name = "OUTPUT"
kind = "jack-enclosed"
face = "left"
left = 60                       # on the left side, the far end of the box is to your left
top = 15
rotation = 90

[[part]]
name = "DC 9 V"
kind = "dc-socket"
face = "far"                    # the end away from the player
top = 18

# --- Lettering drawn for you, into the art at its own dpi: put a font file next to this file, take off the # ----------

# [lettering]
# font = "bold.ttf"
# size = 2.6                    # height of a capital letter, or "8 pt"
# colour = "#10283a"

# [[label]]
# part = "BYPASS"               # it reads the part's name and stands below it
# side = "above"

# --- Variants change only what they name ------------------------------------------------------

[variants.night]
finish = { paint = "#c3c9d6", sheen = "satin" }

[[variants.night.part]]
name = "LAMP"                   # found by its name
colour = "#4fb4ff"
"""


def layout_text(name: str) -> str:
    """Return the text of the starter layout for a pedal called `name`, one line of text."""
    text = _TEXT.replace("@STYLES@", ", ".join(knobs.styles())).replace("@STYLE@", favourite_style())
    return text.replace("@ART@", ART).replace("@NAME@", json.dumps(name, ensure_ascii=False))


def bare_text(name: str, box: str | Enclosure, paint: Colour, units: Unit = "mm") -> str:
    """Return the layout of a painted box with nothing on it: one of the sizes by name, or measures of one's own.

    `paint` is encoded sRGB. Only length, width and height of `box` are written.
    """
    if isinstance(box, str):
        measures = f'size = "{box}"              # length x width x height, mm\n'
    else:
        sides = (("length", box.length_mm), ("width", box.width_mm), ("height", box.height_mm))
        measures = "".join(f"{side} = {like(0.0, mm, units)}\n" for side, mm in sides)
    return (
        f"name = {json.dumps(name, ensure_ascii=False)}\n"
        f'units = "{units}"\n\n'
        f"[box]\n{measures}\n"
        f'[finish]\npaint = "{rgb.to_hex(paint)}"\nsheen = "{NEW_SHEEN}"\n'
    )
