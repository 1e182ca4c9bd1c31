"""Actions on the variants: the next one, several side by side, the wipe."""

from __future__ import annotations

from mockup.window import variant_flow
from mockup.window.actions.action import Action, group, row, state

WIPE_STEP = 0.02


def _panes(name: str, title: str, keys: str, count: int) -> Action:
    return row(
        name, title, keys, state(lambda desk: desk.view.state.with_panes(count, desk.work.variants)), label=str(count),
        is_on=lambda desk: not desk.view.state.is_wipe and len(desk.view.state.variants) == count,
    )  # fmt: skip


ROWS = group(
    "Variants",
    row(
        "new-variant", "Make a variant of what is shown", "ctrl+shift+v", variant_flow.make, label="Variant",
        about="A copy of what is shown, to be changed", glyph="plus",
    ),
    row(
        "next-variant", "Next variant", "ctrl+tab",
        state(lambda desk: desk.view.state.next_variant(desk.work.variants)),
    ),
    row(
        "previous-variant", "Previous variant", "ctrl+shift+tab",
        state(lambda desk: desk.view.state.next_variant(desk.work.variants, -1)),
    ),
    row(
        "side-by-side", "Side by side, or one picture", "ctrl+b",
        state(lambda desk: desk.view.state.with_panes(3 - min(len(desk.view.state.variants), 2), desk.work.variants)),
        label="Side by side", is_on=lambda desk: len(desk.view.state.variants) > 1 and not desk.view.state.is_wipe,
    ),
    _panes("one-pane", "One picture", "", 1),
    _panes("two-panes", "Two side by side", "", 2),
    _panes("three-panes", "Three side by side", "", 3),
    _panes("four-panes", "Four pictures", "", 4),
    row(
        "wipe", "Wipe between two", "", state(lambda desk: desk.view.state.wiped(desk.work.variants)),
        label="Wipe", is_on=lambda desk: desk.view.state.is_wipe,
    ),
    row(
        "wipe-left", "Move the wipe line left", "alt+comma",
        state(lambda desk: desk.view.state.wiped_to(desk.view.state.wipe - WIPE_STEP)),
    ),
    row(
        "wipe-right", "Move the wipe line right", "alt+period",
        state(lambda desk: desk.view.state.wiped_to(desk.view.state.wipe + WIPE_STEP)),
    ),
)  # fmt: skip
