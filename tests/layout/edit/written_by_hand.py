"""Layouts as hands write them: every way that TOML 1.0.0 (toml.io) has, comments everywhere, names in many scripts.

A comment that says ``~file`` belongs to no table and must never go; one that says ``~part NAME`` belongs to that part
of the layout and goes only with it.
"""

from __future__ import annotations

BLOCKS = '''\
# ~file a pedal
units = "mm" # ~file units

[box]
size = "112x60x31"   # ~file measured

# ~file between

[finish]
paint = '#7fa8a3' # ~file paint

[[decal]]
art = "top.png" # loose
width = 50.50
[[decal]]
art = "near.png"
face = "near"
width = 4e1

# ~part TONE above
[[part]] # ~part TONE header
name = "TONE" # ~part TONE name
kind = "pot-16"
  left = 15.50 # ~part TONE left
top = +20
[part.knob] # ~part TONE knob
style = "dome"
# ~part TONE below

# ~file a heading

[[part]]
name = "Ünï ♪"
kind = "crank"
"right" = "1/2 in" # ~part Ünï ♪ right
top = 20
knob.pointer = 0.2
knob.diameter = 14 # ~part Ünï ♪ knob

[[label]]
part = "TONE"
height = 3
width = 9

[[scale]]
part = "TONE"
marks = 11

[[part]]
name = 'O"N'
kind = "footswitch"
bottom = 20

[[label]]
text = "REED"
height = 4
width = 20
top = 60

[[label]]
part = "Ünï ♪"
height = 3
width = 9

[[kind]]
name = "crank"
about = """
[not a table]
name = "TONE" # no comment
"""
hole = 7
[[kind.above]]
diameter = 9
to = 5
[[kind.above]]
diameter = 7
from = 5
to = 9
[kind.shaft]
diameter = 6
top = 15

[variants.night]
finish = { paint = "#102030" } # loose
# loose
[[variants.night.part]]
name = "TONE"
top = 24
[variants.night.part.knob]
pointer = 0.75
[[variants.night.part]]
name = "GLOW"
kind = "lamp-5"
left = 20
top = 40

[variants."two tone"]
label = []
[[variants."two tone".part]]
name = 'O"N'
remove = true
[[variants."two tone".decal]]
art = "far.png"
width = 30

# ~file the end
'''
BRACES = """\
box = { size = "112x60x31" } # ~file all on one line
finish.paint = "teal"
finish.sheen = 'satin' # ~file sheen
part = [ # loose
  { name = "TONE", kind = "pot-16", left = 15, knob.pointer = 0.2 }, # ~part TONE first
  # loose
  { name = "GAIN", kind = "pot-16", left = 40 } # ~part GAIN second
]
label = [{ part = "TONE", height = 3, width = 9 }, { part = "GAIN", height = 3, width = 9, }]

[variants] # ~file variants
night.finish.paint = "navy"
night.part = [{ name = "GAIN", top = 30 }]
"two tone" = { finish = { sheen = "matte" }, label = [{ text = "X", height = 3, width = 9 }] }
"""
BARE = """\
# ~file nothing but a box
box.size = "112x60x31"
variants = { night = { } }
""".replace("{ }", "{}")
LAYOUTS = {"blocks": BLOCKS, "braces": BRACES.replace(", }]", " }]"), "bare": BARE}
