"""The one way to ask for a picture: from where, under which light, how finely, of which design of a layout.

Everything that pictures a pedal takes a `PictureRequest` or a dataclass that extends it; whoever has one knows
that its values exist.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from mockup import engines
from mockup.model.ground import GROUNDS, Ground
from mockup.model.scene import DAYLIGHT, LOOKS, QUALITIES, ROOMS, STAGES, Look, Quality, Rig, Stage
from mockup.options import DesignRequest, bad_option, option, parse_size, require_choices, size_problem
from mockup.plugins import Folder
from mockup.scene.views import VIEWS

if TYPE_CHECKING:
    from mockup.model.design import Design
    from mockup.model.scene import Lighting

OWN_BACKGROUND = "own"
NO_BACKGROUND = "none"
_LONGEST_S = 3600.0  # an hour: nobody waits longer for a picture
_LEAST_S = 0.1


def view_names() -> tuple[str, ...]:
    """Return the names of the views."""
    return tuple(VIEWS)


def light_names() -> tuple[str, ...]:
    """Return the names of the light presets."""
    return Folder("mockup.lights").names()


def grounded_lights() -> tuple[str, ...]:
    """Return the names of the light presets that have a ground to stand on."""
    from mockup.lights import presets

    return tuple(name for name, preset in presets().items() if preset.ground is not None)


def ground_option() -> Any:
    """Return the option of what a pedal stands on, for pages whose pictures have no transparency."""
    words = f'what it stands on: {", ".join(GROUNDS)}, or a colour; "{OWN_BACKGROUND}" for the light\'s own'
    return option(OWN_BACKGROUND, words)


def require_ground(background: str) -> None:
    """Raise `InputError` where a page's pictures are asked for without any ground."""
    if background == NO_BACKGROUND:
        remedy = f"name a ground ({', '.join(GROUNDS)}) or a colour"
        raise bad_option("background", "this page's pictures need a ground", remedy)


@dataclass(frozen=True, kw_only=True)
class PictureRequest(DesignRequest):
    """What a picture shows and how it is made.

    `view` may be given as one name. `size` is (width, height) in pixels, None for what suits. `engine` None is the
    best one here. `seconds` is a time budget for one picture that goes before `quality`. Raises `InputError` for
    the first value that does not exist or is out of range.
    """

    view: tuple[str, ...] = option(
        ("three-quarter",), "where the camera stands; repeat for several", choices=view_names
    )
    size: tuple[int, int] | None = option(None, "width x height in pixels", parse=parse_size)
    look: Look = option("photo", "photo: in a studio; proof: unlit, exactly the predicted colours", choices=LOOKS)
    stage: Stage = option(
        "finished",
        "drilled: the box with its holes and no hardware, to hold beside yours; silvered: film with air under it; "
        "plugged: a plug in every socket",
        choices=STAGES,
    )
    quality: Quality = option("normal", "how much work goes into it", choices=QUALITIES)
    light: str = option("bench", "light and ground", choices=light_names)
    room: str = option(
        DAYLIGHT, "light of the room that colours are looked at in, eyes used to it", choices=ROOMS, noun="room light"
    )
    background: str = option(
        OWN_BACKGROUND,
        f'what it stands on: {", ".join(GROUNDS)}, or a colour; "{NO_BACKGROUND}" for transparent, '
        f'"{OWN_BACKGROUND}" for the light\'s own',
    )
    engine: str | None = option(
        None, "render engine; the best one here by default", choices=engines.ENGINES.names, noun="render engine"
    )
    seconds: float | None = option(None, "time budget for one picture, for an engine that can use one")

    def __post_init__(self) -> None:
        views = (self.view,) if isinstance(self.view, str) else tuple(self.view)
        object.__setattr__(self, "view", views)
        require_choices(self)
        if self.size is not None and size_problem(self.size):
            raise bad_option("size", size_problem(self.size))
        if self.seconds is not None and not _LEAST_S <= self.seconds <= _LONGEST_S:
            remedy = f"give {_LEAST_S:g} to {_LONGEST_S:g} seconds"
            raise bad_option("seconds", f"{self.seconds:g} is out of range", remedy)
        if self.background not in (OWN_BACKGROUND, NO_BACKGROUND):
            self._ground()

    @property
    def lighting(self) -> Lighting:
        """The light preset as it is set for the three-quarter view."""
        return self.lit("three-quarter")

    def lit(self, rig: Rig) -> Lighting:
        """Return the light preset as set for a view, its ground replaced where another background is asked for."""
        from mockup.lights import presets, standing_on  # here, so that flags can be listed without numpy

        preset = presets(rig)[self.light]
        if self.background == OWN_BACKGROUND:
            return preset
        if self.background == NO_BACKGROUND:
            return replace(preset, ground=None)
        return standing_on(preset, self._ground())

    def finished(self, design: Design) -> Design:
        """Return a design with its film laid as the stage says, as it is looked at in the room's light."""
        finish = replace(design.finish, room=self.room, is_silvered=self.stage == "silvered")
        return design if finish == design.finish else replace(design, finish=finish)

    def rendering(self) -> PictureRequest:
        """Return only what says how a given design is rendered through a given camera."""
        return PictureRequest(
            look=self.look,
            stage=self.stage,
            quality=self.quality,
            light=self.light,
            room=self.room,
            background=self.background,
            engine=self.engine,
            seconds=self.seconds,
        )

    def _ground(self) -> Ground:
        """Return the ground that a background names, or a plain one of the colour that it is."""
        from mockup.colour import rgb

        if self.background in GROUNDS:
            return GROUNDS[self.background]
        try:
            colour = rgb.linear_colour(rgb.parse(self.background))
        except ValueError as error:
            told = str(error)
            also = " Or name" if told.endswith("?") else ", or name"
            what = f'{told}{also} a ground ({", ".join(GROUNDS)}), or "{NO_BACKGROUND}" for transparent'
            raise bad_option("background", what) from None
        return Ground(about="a colour", colour=colour, behind=colour)
