"""From the window's state to what is drawn: which design, which groups, which shot.

- decal off: the design without its decals
- hardware off: the groups "hardware" and "inside" are hidden
- lid off: the group "lid" is hidden
- lamp: every lamp lit or unlit
- clear coat: the finish with or without lacquer
- see-through box: the groups "box" and "lid" are drawn like glass
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from mockup.model.design import Design
from mockup.model.scene import Camera, Group, Quality, Shot
from mockup.picture.request import PictureRequest
from mockup.window.state import State


@dataclass(frozen=True, kw_only=True)
class PaneContent(PictureRequest):
    """What one pane shows of a layout: one variant of it, dressed. Two equal ones give the same scene."""

    is_flipped: bool = False
    has_decal: bool = True
    is_lamp_lit: bool | None = None
    has_clear_coat: bool | None = None

    def dressed(self, design: Design) -> Design:
        """Return the design as this pane shows it."""
        if not self.has_decal:
            design = replace(design, decals=())
        if self.has_clear_coat is not None and self.has_clear_coat != design.finish.has_clear_coat:
            design = replace(design, finish=replace(design.finish, has_clear_coat=self.has_clear_coat))
        if self.is_lamp_lit is not None:
            is_lit = self.is_lamp_lit
            parts = (
                part if part.lamp is None else replace(part, lamp=replace(part.lamp, is_lit=is_lit))
                for part in design.parts
            )
            design = replace(design, parts=tuple(parts))
        return design


def contents(state: State) -> tuple[PaneContent, ...]:
    """Return what each pane shows, in order of panes."""
    return tuple(
        PaneContent(
            variant=variant,
            look=state.look,
            is_flipped=state.is_flipped,
            has_decal=state.has_decal,
            is_lamp_lit=state.is_lamp_lit,
            has_clear_coat=state.has_clear_coat,
            light=state.light,
            background=state.background,
        )
        for variant in state.variants
    )


def hidden(state: State) -> frozenset[Group]:
    """Return the groups that are left out of the picture."""
    found: set[Group] = set()
    if not state.has_hardware:
        found |= {"hardware", "inside"}
    if not state.has_lid:
        found.add("lid")
    return frozenset(found)


def see_through(state: State) -> frozenset[Group]:
    """Return the groups that are drawn like glass."""
    return frozenset({"box", "lid"}) if state.is_see_through else frozenset()


def untouchable(state: State) -> frozenset[Group]:
    """Return the groups that the pointer goes through: what is hidden, and a box that is seen through."""
    return hidden(state) | see_through(state)


def shot(
    state: State, camera: Camera, size_px: tuple[int, int], *, quality: Quality | None = None, turn_deg: float = 0.0
) -> Shot:
    """Return the shot of one pane; `quality` other than the state's while it moves."""
    return Shot(
        camera=camera,
        width_px=size_px[0],
        height_px=size_px[1],
        look=state.look,
        quality=quality or state.quality,
        turn_deg=turn_deg,
        hidden=hidden(state),
        see_through=see_through(state),
    )
