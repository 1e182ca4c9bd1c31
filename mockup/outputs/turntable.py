"""Turn the finished pedal once round: frames, and an animated file that loops."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from mockup.model.scene import QUALITIES, Look, Quality
from mockup.options import Progress, Result, bad_option, file_stem, option, parse_size, require_ending, silent
from mockup.picture.options import PictureRequest
from mockup.scene.views import VIEWS

if TYPE_CHECKING:
    from concurrent.futures import Future

    import numpy as np
    from numpy.typing import NDArray

    from mockup.model.design import Design
    from mockup.model.picture import Picture

SUFFIXES = (".webp", ".gif", ".apng", ".png", ".mp4")
MAX_PIXELS = 500_000_000  # of all frames together, three bytes each; keeps memory bounded
TURNS_DEG = tuple(15.0 * step for step in range(24))  # a whole turn; between them nothing sticks out visibly: by eye
MAX_FRAMES = 720  # half a degree a frame; keeps memory bounded


@dataclass(frozen=True, kw_only=True)
class Options(PictureRequest):
    """How many frames, how large, how well, and where to put them."""

    frames: int = option(36, "pictures in one turn")
    turn_seconds: float = option(4.0, "how long one turn lasts when played")
    size: tuple[int, int] = option((960, 720), "width x height in pixels", parse=parse_size)
    look: Look = "photo"
    quality: Quality = option("normal", "how much work goes into each frame", choices=QUALITIES)
    keep_frames: bool = option(True, "also write every frame as a PNG file, in a folder beside")
    output: str | None = option(
        None,
        "animated file to write: .webp, .gif, .apng or .mp4",
        short="o",
        suffixes=(".webp", ".gif", ".apng", ".mp4"),
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        require_turn(self.frames, self.turn_seconds, self.size)
        if len(self.view) != 1:
            raise bad_option("view", f"a turn has one view, found {len(self.view)}", "name one of them")


def require_turn(frames: int, turn_seconds: float, size: tuple[int, int] | None = None) -> None:
    """Raise `InputError` for a turn that has too few or too many frames or pixels, or lasts too short or too long."""
    if not 2 <= frames <= MAX_FRAMES:
        raise bad_option("frames", f"{frames} is out of range", f"a turn has 2 to {MAX_FRAMES} frames")
    if not 0.2 <= turn_seconds <= 120:
        raise bad_option("turn-seconds", f"{turn_seconds:g} is out of range", "a turn lasts 0.2 to 120 seconds")
    if size is not None and frames * size[0] * size[1] > MAX_PIXELS:
        what = f"{frames} frames of {size[0]}x{size[1]} are {frames * size[0] * size[1] / 1e6:.0f} megapixels"
        raise bad_option("size", what, f"the limit is {MAX_PIXELS / 1e6:.0f}; take fewer or smaller frames")


def pictures(
    design: Design, options: Options, progress: Progress = silent
) -> Iterator[tuple[Picture, tuple[str, ...]]]:
    """Yield (frame, notes) in equal steps of one anticlockwise turn; the last is not the first again.

    Camera, light and exposure stay; the scene is built once.
    """
    from mockup.picture.studio import shot, studio

    view = VIEWS[options.view[0]]
    with studio(design, options, is_flipped=view.is_flipped, is_still=False) as room:
        camera = room.camera(view, options.size, turns_deg=TURNS_DEG)
        for taken in room.turn(shot(view, camera, options.size, options), view.name, options.frames, progress):
            yield taken, room.notes


def animated(pixels: Iterable[NDArray[np.uint8]], suffix: str, frame_ms: float) -> bytes:
    """Return frames (h, w, 3 or 4) as a looping file of the kind that `suffix` (of `SUFFIXES`) names.

    Frames are encoded while the next ones are made, where their kind allows it.
    """
    from mockup.encode.animation import animation
    from mockup.encode.video import mp4

    if suffix == ".mp4":
        return mp4(pixels, frame_ms=frame_ms, turns=3)
    kinds = {".webp": "webp", ".gif": "gif", ".apng": "apng", ".png": "apng"}
    return animation(pixels, frame_ms=frame_ms, kind=kinds[suffix])  # type: ignore[arg-type]


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the animated file and, unless told otherwise, every frame as a PNG file."""
    from mockup.encode.png import png
    from mockup.encode.threads import cores, pool

    target = require_ending(options.output or f"{file_stem(design.name)}-turntable.webp", SUFFIXES)
    suffix = target.suffix.lower()
    frame_ms = 1000.0 * options.turn_seconds / options.frames
    taken: list[tuple[Picture, tuple[str, ...]]] = []
    stills: list[Future[bytes]] = []
    with pool(cores()) as opened:

        def drawn() -> Iterator[NDArray[np.uint8]]:
            for frame, notes in pictures(design, options, progress):
                taken.append((frame, notes))
                if options.keep_frames:
                    stills.append(opened.submit(png, frame.pixels, dpi=frame.dpi, text=frame.facts))
                yield frame.pixels

        files = {str(target): animated(drawn(), suffix, frame_ms)}
        folder = target.with_name(f"{target.stem}-frames")
        files |= {str(folder / f"{i:03d}.png"): still.result() for i, still in enumerate(stills)}
    frames = tuple(picture for picture, _ in taken)
    facts: dict[str, Any] = {
        "turntable": {
            "file": str(target),
            "frames": options.frames,
            "frame_ms": frame_ms,
            **{key.lower(): value for key, value in frames[0].facts.items()},
        }
    }
    return Result(files=files, facts=facts, notes=taken[0][1], pictures=frames)
