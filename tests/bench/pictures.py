"""Timings and differences of the pictures, as ratios measured side by side in one run.

``python tests/bench/pictures.py`` measures every row, ``python tests/bench/pictures.py draft still`` some of
them; the rows are the functions in `ROWS`. With ``--keep``, `engines` writes the picture pairs and their
differences as ``bench-NAME.png``. A ratio is of the least of several turns, the two sides taking
turns: in processor seconds of the whole process (software GL draws on several threads), with seconds by the
clock beside it. On a busy machine the first is the steadier one.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from engine_pairs import UNTUNED, VIEW, pair, sheet, three_quarter

import mockup
from mockup.decal.composite import composite
from mockup.model.mesh import joined
from mockup.model.scene import Camera, Scene, Shot
from mockup.outputs import turntable
from mockup.picture.options import PictureRequest
from mockup.picture.studio import studio
from mockup.scene.assemble import assemble
from mockup.scene.views import VIEWS

ROOT = Path(__file__).parent.parent.parent
DRAFT = PictureRequest(engine="raster", quality="draft")
PEDAL = ROOT / "examples" / "lantern_moth" / "layout.toml"
TURNS = 4
_KEPT: list[Any] = []  # pyrender's renderers: one that goes closes the display for all


class Time(NamedTuple):
    """Seconds of the processor and by the clock."""

    cpu: float
    clock: float


def main(wanted: list[str]) -> None:
    """Measure the rows asked for."""
    for name, row in ROWS.items():
        if not wanted or name in wanted:
            for line in row():
                sys.stdout.write(f"{name:10s} {line}\n")
                sys.stdout.flush()


def least(*sides: Callable[[], Any], turns: int = TURNS) -> list[Time]:
    """Return the least time of each side, all sides taking turns."""
    found: list[list[Time]] = [[] for _ in sides]
    for _ in range(turns):
        for side, times in zip(sides, found, strict=True):
            cpu, clock = time.process_time(), time.perf_counter()
            side()
            times.append(Time(time.process_time() - cpu, time.perf_counter() - clock))
    return [Time(min(t.cpu for t in times), min(t.clock for t in times)) for times in found]


def ratio(ours: Time, theirs: Time, goal: str) -> str:
    """Return one line: the ratio, both times, the goal."""
    return (
        f"{ours.cpu / theirs.cpu:5.2f}x processor, {ours.clock / theirs.clock:5.2f}x clock"
        f"   ({ours.cpu:.3f} s against {theirs.cpu:.3f} s; {goal})"
    )


@contextmanager
def stock(scene: Scene, size: tuple[int, int]) -> Iterator[Callable[[], Any]]:
    """Open pyrender's own renderer on the same meshes: stock shader, three lights, no shadows."""
    from mockup.engines.gl.context import make_current

    make_current()
    os.environ.setdefault("PYOPENGL_PLATFORM", "egl")  # pyrender's own renderer asks for it by this name
    import pyrender

    world = pyrender.Scene(ambient_light=(0.3, 0.3, 0.3))
    by_look: dict[tuple[Any, ...], list[Any]] = {}
    for body in scene.bodies:
        if len(body.mesh.faces):
            by_look.setdefault((body.group, id(body.material), body.mesh.uv is not None), []).append(body)
    for bodies in by_look.values():
        look, mesh = bodies[0].material, joined(body.mesh for body in bodies)
        picture, uv = None, None
        if look.texture is not None and mesh.uv is not None:
            picture = pyrender.Texture(source=look.texture.pixels, source_channels="RGB")
            uv = (look.texture.normalised(mesh.uv) * (1, -1) + (0, 1)).astype(np.float32)
        material = pyrender.MetallicRoughnessMaterial(
            baseColorFactor=(*look.base_color, 1.0) if picture is None else (1.0, 1.0, 1.0, 1.0),
            metallicFactor=look.metallic, roughnessFactor=look.roughness, baseColorTexture=picture,
        )  # fmt: skip
        world.add(pyrender.Mesh([pyrender.Primitive(
            positions=mesh.vertices.astype(np.float32), normals=mesh.normals.astype(np.float32),
            indices=mesh.faces.astype(np.uint32), texcoord_0=uv, material=material, mode=4,
        )]))  # fmt: skip
    ground = np.array([(-250, -250, 0), (250, -250, 0), (250, 250, 0), (-250, 250, 0)], np.float32)
    world.add(pyrender.Mesh([pyrender.Primitive(
        positions=ground, normals=np.tile(np.float32((0, 0, 1)), (4, 1)), mode=4,
        indices=np.array([(0, 1, 2), (0, 2, 3)], np.uint32), material=pyrender.MetallicRoughnessMaterial(),
    )]))  # fmt: skip
    for box in scene.lighting.boxes:
        world.add(pyrender.DirectionalLight(intensity=3.0), pose=Camera(eye=box.centre, target=(0, 0, 0)).basis())
    camera = three_quarter(scene, size)
    node = pyrender.PerspectiveCamera(np.radians(camera.fov_deg), znear=100.0, zfar=2000.0)
    world.add(node, pose=camera.basis())
    renderer = pyrender.OffscreenRenderer(*size)
    _KEPT.append(renderer)
    yield lambda: renderer.render(world)


def draft() -> Iterator[str]:
    """Draft pass and warm draft frame against the library's stock shader on the same meshes."""
    design = mockup.load(PEDAL)
    with studio(design, DRAFT) as room:
        rows = (((1280, 960), False, "pass: at most 1.2x"), ((960, 720), True, "warm: at most 1.5x"))
        for size, is_whole, goal in rows:
            camera = three_quarter(room.scene, size)
            turns = iter(range(1000))
            shot = Shot(camera=camera, width_px=size[0], height_px=size[1], quality="draft")

            def ours(size=size, camera=camera, turns=turns, shot=shot, is_whole=is_whole) -> None:  # type: ignore[no-untyped-def]
                if is_whole:
                    room.shoot(VIEWS[VIEW], camera, size, DRAFT, turn_deg=10.0 * next(turns))
                else:
                    room.session.render(shot)

            with stock(room.scene, size) as bare:
                bare()
                ours()
                yield f"{size[0]}x{size[1]} " + ratio(*least(ours, bare), goal)


def turn() -> Iterator[str]:
    """A turntable's 36 frames, layout file to pixels, against 36 bare frames."""
    size = (960, 720)

    def ours() -> None:
        for _ in turntable.pictures(mockup.load(PEDAL), turntable.Options(size=size)):
            pass

    scene = assemble(mockup.load(PEDAL), PictureRequest().lighting)
    with stock(scene, size) as bare:
        bare()
        yield ratio(*least(ours, lambda: [bare() for _ in range(36)], turns=1), "at most 3.5x")
    code = (
        "import mockup; from mockup.outputs import turntable\n"
        f"for _ in turntable.pictures(mockup.load({str(PEDAL)!r}), turntable.Options()): pass\n"
        "import resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    yield f"peak memory {int(done.stdout) / 1e6:.2f} GB (at most 1 GB)"


def still() -> Iterator[str]:
    """A whole still command at normal quality against 64 samples of a path trace of the same scene."""
    command = [sys.executable, "-m", "mockup", "still", str(PEDAL), "--size", "1280x960", "-o", "still.png"]

    def run(*more: str) -> Time:
        from tempfile import TemporaryDirectory

        with TemporaryDirectory() as folder:
            before, clock = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
            subprocess.run([*command[:-1], f"{folder}/still.png", *more], check=True, capture_output=True, cwd=ROOT)
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        return Time(used, time.perf_counter() - clock)

    yield ratio(run("--quality", "normal"), run("--engine", "traced", "--quality", "final"), "at most 0.15x")


def engines() -> Iterator[str]:
    """Raster against a path trace, on pedals that were not tuned on; and a still at normal quality against it."""
    means, few = [], []
    for name in UNTUNED:
        found = pair(name, with_few=True)
        assert found.few is not None
        means.append(found.gap[found.pedal])
        few.append(found.few[found.pedal])
        yield f"{name}: raster {found.line}; traced at normal quality {few[-1].mean():.2f}"
        if "--keep" in sys.argv:
            sheet([found]).save(f"bench-{name}.png")
    every = np.concatenate(means)
    yield f"raster: mean {every.mean():.2f}, median {np.median(every):.2f} (at most 3.0 and 2.0)"
    yield f"traced at normal quality: mean {np.concatenate(few).mean():.2f} (at most 2.0)"


def ink() -> Iterator[str]:
    """Composing 1500 x 2850 pixels of art against copying them."""
    design = mockup.load(PEDAL)
    art = design.decals[0].art
    ours, copy = least(lambda: composite(design.decals[0], design.finish), lambda: art.pixels.copy())
    yield f"{art.width_px}x{art.height_px} " + ratio(ours, copy, f"{ours.clock * 1000:.0f} ms here; 100 ms-class")


def speed() -> Iterator[str]:
    """Frames a second of a turntable at 1920 x 1440, and of copying frames back alone: for a machine with a GPU."""
    size, count = (1920, 1440), 12
    for quality in ("draft", "normal"):
        with studio(mockup.load(PEDAL), replace(DRAFT, quality=quality)) as room:
            from OpenGL import GL

            from mockup.engines.gl.screen import Screen

            session: Any = room.session
            camera = three_quarter(room.scene, size)
            shots = [
                Shot(camera=camera, width_px=size[0], height_px=size[1], quality=quality, turn_deg=10.0 * i)
                for i in range(count)
            ]
            facts, screen = room.take(shots[0], VIEW).facts, Screen(*size)

            def drawn(session=session, shots=shots, finish=GL.glFinish) -> None:  # type: ignore[no-untyped-def]
                for shot in shots:
                    session._drawn(shot)
                finish()

            def whole(room=room, shots=shots) -> None:  # type: ignore[no-untyped-def]
                for _ in room.series(shots, VIEW):
                    pass

            def back(screen=screen) -> None:  # type: ignore[no-untyped-def]
                for _ in range(count):
                    screen.read()

            fps = [count / each.clock for each in least(whole, drawn, back, turns=2)]
            screen.delete()
        turn = 6 * count  # with fewer, most of it would be the making of the scene
        options = turntable.Options(engine="raster", quality=quality, size=size, frames=turn, keep_frames=False)
        (filed,) = least(lambda options=options: turntable.make(mockup.load(PEDAL), options), turns=1)  # type: ignore[misc]
        yield (
            f"{quality}: {fps[0]:.1f} encoded frames a second, {fps[1]:.1f} drawn, {fps[2]:.1f} copied back alone, "
            f"{turn / filed.clock:.1f} in an animated file of {turn}; {facts['gl']}"
        )


ROWS: dict[str, Callable[[], Iterator[str]]] = {
    "draft": draft,
    "turn": turn,
    "still": still,
    "engines": engines,
    "ink": ink,
    "speed": speed,
}

if __name__ == "__main__":
    main([name for name in sys.argv[1:] if not name.startswith("-")])
