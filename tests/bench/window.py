"""Timings of the window as ratios to the library's bare draw of the same scene, 1280 x 800, in one run.

``python tests/bench/window.py`` measures every row, ``python tests/bench/window.py moving pick`` some of them. The
idle load and the start are those of a real window on a virtual screen (they need Xvfb and xdotool).
"""

from __future__ import annotations

import itertools
import os
import shutil
import sys
import tempfile
import threading
import time
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path, PurePath
from typing import Any

import numpy as np
from pictures import PEDAL, least, ratio, stock, three_quarter

import mockup
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import clearances
from mockup.decal.shipped_faces import USUAL
from mockup.engines.gl.context import make_current
from mockup.model.scene import Scene, Shot
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.rays import Picker, ray
from mockup.window.work.project import opened
from mockup.window.work.project_faces import adopt_face
from mockup.window.work.scene_loader import LoadResult, SceneLoader, SceneRequest

SIZE = (1280, 800)
FACE = PurePath(USUAL.file).name
FERRY = PEDAL.parents[1] / "night_ferry" / "layout.toml"  # its lettering is drawn by the program
TURNS = 6
IDLE_S = 10.0


def main(wanted: list[str]) -> None:
    """Measure the rows asked for."""
    for name, row in ROWS.items():
        if not wanted or name in wanted:
            for line in row():
                sys.stdout.write(f"{name:8s} {line}\n")
                sys.stdout.flush()


def example() -> Scene:
    """Return the scene that all rows draw."""
    return assemble(mockup.load(PEDAL), PictureRequest().lighting)


def going_round(scene: Scene, size: tuple[int, int]) -> Iterator[Shot]:
    """Yield drafts of a camera that goes round, for ever."""
    start = Orbit(distance_mm=410.0, azimuth_deg=-30.0, elevation_deg=40.0)
    step = 0
    while True:
        step += 1
        camera = start.orbited(1.5 * step, 0.0).camera()
        yield Shot(camera=camera, width_px=size[0], height_px=size[1], quality="draft")


def moving() -> Iterator[str]:
    """A frame while the camera moves, to the screen."""
    yield from _panes(1, "at most 1.5x")


def panes() -> Iterator[str]:
    """The same with four versions in four panes."""
    yield from _panes(4, "at most 3x")


def _panes(count: int, goal: str) -> Iterator[str]:
    make_current()
    from OpenGL import GL

    from mockup.engines.gl.progressive import Pane, Rect
    from mockup.engines.gl.resources import Programs
    from mockup.engines.gl.screen import Screen
    from mockup.engines.gl.session import RasterSession

    scene, programs = example(), Programs()
    columns = 2 if count == 4 else count
    size = (SIZE[0] // columns, SIZE[1] // (count // columns))
    sessions = [RasterSession(scene, programs) for _ in range(count)]
    shown = [Pane(programs) for _ in range(count)]
    screen, shots = Screen(*SIZE), going_round(scene, size)

    def ours() -> None:
        shot = next(shots)
        screen.clear((0.2, 0.2, 0.2))
        for index, (session, pane) in enumerate(zip(sessions, shown, strict=True)):
            pane.draft(session, shot)
            x, y = (index % columns) * size[0], (index // columns) * size[1]
            pane.present(screen.fb, Rect(x=x, y=y, width=size[0], height=size[1]), (0.5, 0.5, 0.5))
        GL.glFinish()

    with stock(scene, SIZE) as bare:
        bare()
        _here(ours)()
        yield ratio(*least(_here(ours), bare, turns=TURNS), goal)


def _here(draw: Callable[[], Any]) -> Callable[[], Any]:
    """Return a drawing that makes its own context current first: the library's renderer has another."""

    def drawn() -> None:
        make_current()
        draw()

    return drawn


def art() -> Iterator[str]:
    """Art saved, decoded, inked, put on the GPU and drawn: from the file's rename to the new picture."""
    make_current()
    from mockup.engines.gl.progressive import Pane
    from mockup.engines.gl.resources import Programs
    from mockup.engines.gl.session import RasterSession

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "pedal"
        shutil.copytree(PEDAL.parent, folder)
        there, arrived = threading.Event(), []

        def deliver(loaded: LoadResult) -> None:
            arrived.append(loaded)
            there.set()

        loader, project = SceneLoader(deliver), opened(folder)
        data = [(folder / "art.png").read_bytes(), _other(folder / "art.png")]
        turn = iter(range(10**6))

        def loaded() -> Scene:
            there.clear()
            beside = folder / "saving.png"
            beside.write_bytes(data[next(turn) % 2])
            beside.replace(folder / "art.png")
            loader.request(SceneRequest(project=project, contents=(PaneContent(),), is_fresh=True))
            there.wait()
            pane = arrived[-1].panes[0]
            assert pane is not None
            return pane.scene

        session = RasterSession(loaded(), Programs())
        shot = Shot(camera=three_quarter(session.scene, SIZE), width_px=SIZE[0], height_px=SIZE[1], quality="draft")
        pane = Pane(session._programs)

        def ours() -> None:
            session.update(loaded())
            pane.draft(session, shot)

        loader.jobs.idle(60.0)
        with stock(session.scene, SIZE) as bare:
            bare()
            _here(ours)()
            loader.jobs.idle(60.0)
            yield ratio(*least(_here(ours), bare, turns=TURNS), "at most 5x, decoding included")
        loader.close()


def carry() -> Iterator[str]:
    """A frame while a part is carried, the room round it measured anew in each."""
    make_current()
    from mockup.engines.gl.progressive import Pane
    from mockup.engines.gl.resources import Programs
    from mockup.engines.gl.session import RasterSession

    scene, design = example(), mockup.load(PEDAL)
    session = RasterSession(scene, Programs())
    pane = Pane(session._programs)
    shot = Shot(camera=three_quarter(scene, SIZE), width_px=SIZE[0], height_px=SIZE[1], quality="draft")
    part = next(each for each in design.parts if each.knob is not None)
    rest = replace(design, parts=tuple(each for each in design.parts if each.name != part.name))
    session.lift(part.name)
    steps = itertools.count(1)

    def ours() -> None:
        moved = replace(part, u_mm=part.u_mm + 0.1 * (next(steps) % 40))
        clearances(Built(rest), moved)
        pose = np.eye(4)
        pose[0, 3] = moved.u_mm - part.u_mm
        session.carry(pose)
        pane.draft(session, shot)

    with stock(scene, SIZE) as bare:
        bare()
        _here(ours)()
        yield ratio(*least(_here(ours), bare, turns=TURNS), "at most 1.5x")


def edits() -> Iterator[str]:
    """A part added, a knob changed, a label typed and a variant shown: from the edit to the new picture."""
    text = FERRY.read_text()
    knob = text.replace("[variants", '[[part]]\nname = "NEW"\nkind = "pot-9"\nleft = 12\ntop = 12\n[variants', 1)

    def added(step: int) -> str:
        return knob.replace("left = 12\ntop = 12", f"left = {12 + step / 10}\ntop = 12")

    def changed(step: int) -> str:
        return knob.replace("top = 12\n[", f"top = 12\nknob = {{ diameter = {14 + step / 10} }}\n[")

    def typed(step: int) -> str:
        word = f'[[label]]\ntext = "WORD{step}"\nfont = "{FACE}"\nleft = 20\ntop = 60\n'
        return text.replace("[variants", word + "[variants", 1)

    for name, make in (("part", added), ("knob", changed), ("label", typed)):
        yield f"{name:8s}" + _from_edit(make, lambda _: None)
    names = (None, *tomllib.loads(text)["variants"])
    yield "variant " + _from_edit(lambda _: text, lambda step: names[step % len(names)])


def _from_edit(text: Callable[[int], str], variant: Callable[[int], str | None]) -> str:
    """Return the line of a row: each turn asks for another text or variant, and draws what comes of it."""
    make_current()
    from mockup.engines.gl.progressive import Pane
    from mockup.engines.gl.resources import Programs
    from mockup.engines.gl.session import RasterSession

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "pedal"
        shutil.copytree(FERRY.parent, folder)
        adopt_face(folder, USUAL)
        there, arrived = threading.Event(), []

        def deliver(loaded: LoadResult) -> None:
            arrived.append(loaded)
            there.set()

        loader, project, steps = SceneLoader(deliver), opened(folder), itertools.count()

        def loaded() -> Scene:
            there.clear()
            step = next(steps)
            contents = (PaneContent(variant=variant(step)),)
            loader.request(SceneRequest(project=project, contents=contents, text=text(step)))
            there.wait()
            pane = arrived[-1].panes[0]
            assert pane is not None, arrived[-1].faults
            return pane.scene

        session = RasterSession(loaded(), Programs())
        pane = Pane(session._programs)
        shot = Shot(camera=three_quarter(session.scene, SIZE), width_px=SIZE[0], height_px=SIZE[1], quality="draft")

        def ours() -> None:
            session.update(loaded())
            pane.draft(session, shot)
            loader.jobs.idle(60.0)

        loader.jobs.idle(60.0)
        with stock(session.scene, SIZE) as bare:
            bare()
            _here(ours)()
            line = ratio(*least(_here(ours), bare, turns=TURNS), "at most 5x")
        loader.close()
    return line


def _other(path: Path) -> bytes:
    """Return the same art upside down, as a PNG file."""
    import io

    from PIL import Image

    out = io.BytesIO()
    with Image.open(path) as picture:
        picture.transpose(Image.Transpose.ROTATE_180).save(out, "PNG", dpi=picture.info.get("dpi", (600, 600)))
    return out.getvalue()


def pick() -> Iterator[str]:
    """What is under the pointer."""
    scene = example()
    picker, camera = Picker(scene.bodies), three_quarter(scene, SIZE)
    places = iter([(300.0 + 7 * k % 700, 150.0 + 5 * k % 500) for k in range(10**4)])

    def ours() -> None:
        picker.pick(ray(camera, next(places), (float(SIZE[0]), float(SIZE[1]))))

    with stock(scene, SIZE) as bare:
        bare()
        ours()
        yield ratio(*least(ours, bare, turns=TURNS), "at most 0.2x")


def idle() -> Iterator[str]:
    """Load of a window that is left alone, and how long its start took."""
    sys.path.insert(0, str(Path(__file__).parent.parent / "window"))
    import driver

    absent = driver.missing()
    if absent is not None:
        yield absent
        return
    with tempfile.TemporaryDirectory() as place, driver.virtual_screen((1300, 830)) as screen:
        began = time.perf_counter()
        window = driver.Window(screen, Path(place), str(PEDAL))
        try:
            window.ready()
            yield f"{time.perf_counter() - began:.1f} s from the command to the first picture (stated)"
            window.until(lambda now: now["is_fine"] and not now["is_checking"], "at rest", 300)
            time.sleep(3.0)
            before = _used(window.process.pid)
            time.sleep(IDLE_S)
            load = (_used(window.process.pid) - before) / IDLE_S
            yield f"{100 * load:.2f} % of a core while idle (at most 2 %)"
        finally:
            window.end()


def _used(pid: int) -> float:
    """Return the processor seconds of a process and of what it started."""
    total = 0.0
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(stat.parent.name) == pid or int(fields[1]) == pid:
            total += sum(int(each) for each in fields[11:13]) / os.sysconf("SC_CLK_TCK")
    return total


ROWS: dict[str, Callable[[], Iterator[str]]] = {
    "moving": moving,
    "panes": panes,
    "art": art,
    "carry": carry,
    "edits": edits,
    "pick": pick,
    "idle": idle,
}

if __name__ == "__main__":
    main([name for name in sys.argv[1:] if not name.startswith("-")])
