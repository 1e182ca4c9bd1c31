"""Threads too short for the panel with its paint and all nuts and washers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.part import PRACTICE, Fitting, Thread
from mockup.model.shape import Extruded, Turned

READS = ("enclosure", "finish", "parts")
FIGURES = ("thread", "nut", "washer", "inside")
_POT = part_text("A", "pot-9", top=40)
PLANTED = Case("top = 3.8\n" + _POT)  # thread of 6.5, less lock washer 0.5 and panel 3.8: 2.2; washer and nut 2.5
SOUND = Case("top = 3\n" + _POT)
LEAST_TURNS = 2.0  # of thread that a nut has to hold on: common practice, no source
OFF_MM = 0.2  # how far a bushing's radius may be from its thread's: what a builder measures of it
NUT_MM, WASHER_MM = 2.0, 0.5  # of a part that shows no nut: common practice, no source


@dataclass(frozen=True, kw_only=True)
class Stack:
    """What stands on a panel, over its paint: the end of the thread, the sides of the nut that closes it.

    `before` is what lies on the thread before the panel, from the part's shoulder on, and `after` what follows it.
    """

    thread_mm: float
    bottom_mm: float
    top_mm: float
    before: tuple[Fitting, ...] = ()
    after: tuple[Fitting, ...] = ()


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
        box, kind = built.design.enclosure, part.kind
        inner = next((each for each in stack.before if each.name == "nut"), None)
        yield Finding(
            severity="stop" if is_lost else "warn",
            title="Thread too short" if is_lost else "Thread barely long enough",
            what="the {thread} thread of {first} stands {measured} out of "
            + ("{before} of {thick} and " if stack.before else "")
            + "a panel of {panel}"
            + (" with its paint" if coat_mm else "")
            + "; {after} need {limit}",
            subjects=Subject.parts(part.name),
            remedy=("Leave its inner nut out, which gives {inner} more, thin" if inner else "Thin")
            + " the panel by {missing} round the hole from inside, leave a washer out, or choose a part with a longer "
            "thread",
            measured=mm(left),
            limit=mm(stack.top_mm),
            origin=PRACTICE,
            facts={
                "thread": thread.designation,
                "panel": mm(box.top_mm if part.face == "top" else box.wall_mm),
                "before": _words(stack.before),
                "thick": mm(kind.mounting.shoulder_mm),
                "after": _words(stack.after) or "washer and nut",
                "inner": mm(inner.thickness_mm if inner else 0.0),
            },
            marks=(Mark.at(part, 7.0),),
        )


def _words(fittings: Sequence[Fitting]) -> str:
    return " and ".join(each.name for each in fittings)


def _stack(built: Built, part: Placement) -> Stack | None:
    """Return what stands on a part's panel, None where its thread is not known."""
    mounting, thread = part.kind.mounting, part.kind.thread
    if not mounting.thread_mm or thread is None:
        return _measured(part, thread)
    box = built.design.enclosure
    panel = box.top_mm if part.face == "top" else box.wall_mm
    before, after = (mounting.inside, mounting.outside) if mounting.outside else ((), mounting.inside)
    top = sum(each.thickness_mm for each in after)
    return Stack(
        thread_mm=mounting.thread_mm - mounting.shoulder_mm - panel,
        bottom_mm=top - after[-1].thickness_mm,
        top_mm=top,
        before=before[::-1],
        after=after,
    )


def _measured(part: Placement, thread: Thread | None) -> Stack | None:
    """Return what stands on the panel of a builder's own part as it was measured there; washer and nut are usual ones.

    None where its nut is inside the box.
    """
    ends = [
        each.top_mm
        for each in part.kind.above
        if thread is not None
        and isinstance(each, Turned)
        and not each.tilt_deg
        and each.at == (0.0, 0.0)
        and abs(each.radius_mm - thread.major_mm / 2) <= OFF_MM
    ]
    if not ends or part.kind.family != "own":
        return None
    nuts = [each for each in part.kind.above if isinstance(each, Extruded) and each.outline.kind == "hexagon"]
    bottom = min((each.bottom_mm for each in nuts), default=WASHER_MM)
    top = min((each.top_mm for each in nuts), default=WASHER_MM + NUT_MM)
    return Stack(thread_mm=max(ends), bottom_mm=bottom, top_mm=top)
