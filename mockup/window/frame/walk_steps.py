"""The first walk: five cards at the real places, each of which waits for its deed or for Next."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Glance:
    """What the walk looks at: the names and places of the parts, the name that is open, and the station."""

    parts: tuple[tuple[str, str, float, float], ...] = ()
    naming: str | None = None
    station: str = "parts"

    @property
    def names(self) -> frozenset[str]:
        """The names of the parts."""
        return frozenset(part[0] for part in self.parts)


@dataclass(frozen=True, kw_only=True)
class WalkStep:
    """One card: its words, and the control or the newest part that it stands at."""

    name: str
    text: str
    target: str


PART = "part"
"""The target that is no control: the newest part."""
STEPS = (
    WalkStep(name="take", text="This drawer holds the parts. Click the 16 mm pot.", target="drawer.pot-16"),
    WalkStep(name="name", text="The pot is on the pedal. Type a name for it and press Enter.", target=PART),
    WalkStep(
        name="move",
        text="Drag it to where you want it. It lines up with the centre line and with other parts. Hold Alt to move "
        "it freely.",
        target=PART,
    ),
    WalkStep(
        name="check",
        text="This mark tells you whether the pedal can be built. Click it to see what stands in the way.",
        target="head.readiness",
    ),
    WalkStep(
        name="take-away",
        text="When nothing stops the build, come here for the drill template and the decal sheet.",
        target="rail.take-away",
    ),
)  # fmt: skip


def is_done(step: WalkStep, before: Glance, now: Glance) -> bool:
    """Return whether what a card waits for was done since it came up."""
    match step.name:
        case "take":
            return len(now.parts) > len(before.parts)
        case "name":
            return now.naming is None and bool(now.parts)
        case "move":
            return now.naming is None and bool(set(now.parts) - set(before.parts)) and now.names == before.names
        case "check":
            return now.station == "check"
        case _:
            return now.station == "take-away"


Box = tuple[float, float, float, float]


def beside(target: Box, size: tuple[float, float], window: Box, gap: float) -> tuple[float, float]:
    """Return the top left corner of a card of a size beside a target, inside a window, on the side with most room.

    Boxes are left, top, right, low.
    """
    left, top, right, low = target
    wide, tall = size
    rooms = {
        "right": window[2] - right - wide, "left": left - window[0] - wide,
        "below": window[3] - low - tall, "above": top - window[1] - tall,
    }  # fmt: skip
    side = max(rooms, key=lambda name: rooms[name])
    x, y = (left + right - wide) / 2, (top + low - tall) / 2
    match side:
        case "right":
            x = right + gap
        case "left":
            x = left - gap - wide
        case "below":
            y = low + gap
        case _:
            y = top - gap - tall
    return (
        max(min(x, window[2] - wide - gap), window[0] + gap),
        max(min(y, window[3] - tall - gap), window[1] + gap),
    )
