"""What one pane shows: a variant of the layout, and how it is dressed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mockup.clearance.plugs import with_plugs
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError
from mockup.picture.options import PictureRequest


@dataclass(frozen=True, kw_only=True)
class PaneContent(PictureRequest):
    """What one pane shows of a layout: one variant of it, dressed. Two equal ones give the same scene.

    Where it `is_as_built` its holes lie where they were drilled.
    """

    is_flipped: bool = False
    has_decal: bool = True
    is_lamp_lit: bool | None = None
    has_clear_coat: bool | None = None
    is_as_built: bool = False
    has_plugs: bool = False

    @property
    def checked(self) -> tuple[str | None, bool]:
        """What the checks look at of it: the variant, and where its holes lie."""
        return self.variant, self.is_as_built

    def dressed(self, design: Design) -> Design:
        """Return the design as this pane shows it."""
        design = self.finished(design)
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
        return with_plugs(design) if self.has_plugs else design


def require_designed(content: PaneContent) -> None:
    """Raise `InputError` where a pane shows the holes as drilled: a change there would be laid over the design."""
    if content.is_as_built:
        what = "the holes are shown as drilled"
        raise InputError(Fault(file="As built", what=what, remedy="switch it off to change the pedal"))
