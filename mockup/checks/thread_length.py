"""Threads too short for the panel with its paint, the washer and the nut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.part import PRACTICE, STATED_PANEL_MM
from mockup.model.shape import Extruded, Turned

READS = ("enclosure", "finish", "parts")
_POT = """
[[part]]
name = "A"
kind = "pot-9"
top = 40
"""
PLANTED = Case("top = 3.8\n" + _POT)  # 4 mm of thread over a panel of 2 are 2.2 over one of 3.8; washer and nut 2.5
SOUND = Case("top = 3\n" + _POT)
LEAST_TURNS = 2.0  # of thread that a nut has to hold on: common practice, no source
OFF_MM = 0.2  # how far a bushing's radius may be from its thread's: what a builder measures of it
NUT_MM, WASHER_MM = 2.0, 0.5  # of a part that shows no nut: common practice, no source


@dataclass(frozen=True, kw_only=True)
class Stack:
    """What stands on a panel, over its paint: the end of the thread, the nut's two sides."""

    thread_mm: float
    bottom_mm: float
    top_mm: float


def check(built: Built) -> Iterator[Finding]:
    """Yield parts whose nut does not find enough thread."""
    finish = built.design.finish
    is_painted = finish.sheen.is_painted or finish.has_clear_coat
    coat_mm = built.limits["coat_mm"].value if is_painted else 0.0
    for part in built.design.parts:
        thread, stack = part.kind.thread, _stack(built, part)
        if thread is None or stack is None:
            continue
        left = stack.thread_mm - coat_mm
        if left >= stack.top_mm - 1e-6:
            continue
        is_lost = left - stack.bottom_mm < LEAST_TURNS * thread.pitch_mm
        box = built.design.enclosure
        yield Finding(
            severity="stop" if is_lost else "warn",
            title="Thread too short" if is_lost else "Thread barely long enough",
            what="the {thread} thread of {first} stands {measured} out of a panel of {panel}"
            + (" with its paint" if coat_mm else "")
            + "; washer and nut need {limit}",
            subjects=Subject.parts(part.name),
            remedy="Thin the panel by {missing} round the hole from inside, leave the washer out, or choose a part "
            "with a longer thread",
            measured=mm(left),
            limit=mm(stack.top_mm),
            origin=PRACTICE,
            facts={
                "thread": thread.designation,
                "panel": mm(box.top_mm if part.face == "top" else box.wall_mm),
            },
            marks=(Mark.at(part, 7.0),),
        )


def _stack(built: Built, part: Placement) -> Stack | None:
    """Return what stands on a part's panel, None where its nut is inside the box or its thread is not known.

    The table's parts sit on the inside of the panel, so that a thicker one takes from their thread; a builder's own
    are as measured.
    """
    thread, above = part.kind.thread, part.kind.above
    if thread is None:
        return None
    ends = [
        max(z for _, z in each.profile)
        for each in above
        if isinstance(each, Turned)
        and not each.tilt_deg
        and each.at == (0.0, 0.0)
        and abs(max(r for r, _ in each.profile) - thread.major_mm / 2) <= OFF_MM
    ]
    nuts = [each for each in above if isinstance(each, Extruded) and each.outline.kind == "hexagon"]
    is_own = part.kind.family == "own"
    if not ends or not (nuts or is_own):
        return None
    box = built.design.enclosure
    panel = box.top_mm if part.face == "top" else box.wall_mm
    thicker = 0.0 if is_own else panel - STATED_PANEL_MM
    bottom = min((each.bottom_mm for each in nuts), default=WASHER_MM)
    top = min((each.top_mm for each in nuts), default=WASHER_MM + NUT_MM)
    return Stack(thread_mm=max(ends) - thicker, bottom_mm=bottom, top_mm=top)
