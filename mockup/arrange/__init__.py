"""Where parts may stand: room for a new one, the least change of a layout, layouts for a list of controls.

Three ways in, each to be read from its last module back: `room`; `mending`, and `least_concession` where moves are not
enough (`problem`, `program`, `search`, `rounding`, `concessions`); `layouts.proposals` (`controls`, `rows`, `slots`,
`schemes`, `sides`).
"""
