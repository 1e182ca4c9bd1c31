"""Write the finished pedal as a 3D model file (GLB: metres, y up, art inside)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mockup import __version__
from mockup.encode.gltf import METRES_PER_MM, TEXTURE_PX, glb
from mockup.fingerprint import fingerprint
from mockup.lights import presets
from mockup.model.design import Design
from mockup.options import MIN_SIDE_PX, Progress, Result, bad_option, file_stem, option, require_ending, silent
from mockup.scene.assemble import assemble

_MAX_PX = 16384  # the largest texture that every OpenGL 4.1 driver takes: OpenGL 4.1 core, table 6.46, from memory


@dataclass(frozen=True, kw_only=True)
class Options:
    """How fine the art may be, and where to put the file."""

    texture: int = option(TEXTURE_PX, "largest side of the art in the file, in pixels")
    output: str | None = option(None, "file to write (.glb)", short="o", suffixes=(".glb",))


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return one GLB file: every surface of the pedal, lid on, grouped as box, lid, hardware and inside."""
    path = str(require_ending(options.output or f"{file_stem(design.name)}.glb", (".glb",)))
    if not MIN_SIDE_PX <= options.texture <= _MAX_PX:
        raise bad_option("texture", f"{options.texture} is out of range", f"give {MIN_SIDE_PX} to {_MAX_PX} pixels")
    progress(0, 1, "model")
    data, notes = model(design, texture_px=options.texture)
    progress(1, 1, "model")
    facts: dict[str, Any] = {"file": path, "bytes": len(data), "metres per millimetre": METRES_PER_MM}
    return Result(files={path: data}, facts={"model": facts}, notes=notes)


def model(design: Design, *, texture_px: int = TEXTURE_PX) -> tuple[bytes, tuple[str, ...]]:
    """Return a design as a GLB file, and notes on what is odd about it."""
    scene = assemble(design, presets()["bench"])
    called = f"{design.name} ({design.variant})" if design.variant else design.name
    called += f", design {fingerprint(design)}"
    return glb(scene, name=called, generator=f"mockup {__version__}", texture_px=texture_px), scene.notes
