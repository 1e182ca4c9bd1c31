"""Actions that make an output, one for each."""

from __future__ import annotations

from mockup.outputs import OUTPUTS
from mockup.window import save_flow
from mockup.window.actions.action import Action, group, row
from mockup.window.saves import outputs_list


def _save(output: str) -> Action:
    return row(
        f"save-{output}", f"Save the {outputs_list.row(output).word.lower()}", "",
        lambda desk: save_flow.save_output(desk, output), about=OUTPUTS.summary(output),
    )  # fmt: skip


ROWS = group(
    "Take away",
    *(_save(output) for output in OUTPUTS.names()),
    row(
        "cancel", "Stop what is being saved", "ctrl+period", lambda desk: desk.saves.stop(),
        lambda desk: desk.saves.is_busy, label="Stop", about="Nothing is written", glyph="xmark",
    ),
)  # fmt: skip
