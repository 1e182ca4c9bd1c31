"""Loading off the event loop: the newest wish wins, broken files keep the last picture, nothing is made twice."""

from __future__ import annotations

import io
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from mockup import reader
from mockup.layout.edit import parts
from mockup.memo import MEMORY
from mockup.model.enclosure import faces
from mockup.window.pane_content import PaneContent
from mockup.window.work import project, scene_loader
from mockup.window.work.layout_file import reopened
from mockup.window.work.scene_loader import LoadResult, SceneLoader, SceneRequest

pytestmark = pytest.mark.slow

LAYOUT = """\
name = "Small"
[box]
size = "112x60x31"
[finish]
paint = "#a9d3c6"
[[decal]]
art = "art.png"
[[part]]
name = "TONE"
kind = "pot-16"
left = 15
top = 20
[[part]]
name = "GAIN"
kind = "pot-16"
right = 15
top = 20
[[part]]
name = "LAMP"
kind = "lamp-3"
top = 40
[variants.dusk]
finish = { paint = "#223344" }
"""


def art(colour: tuple[int, int, int], spot: bool = False) -> bytes:
    pixels = np.zeros((420, 220, 4), np.uint8)
    pixels[100:300, 50:150] = (*colour, 255)
    if spot:
        pixels[10:20, 10:20] = (0, 0, 0, 255)
    data = io.BytesIO()
    Image.fromarray(pixels).save(data, "PNG", dpi=(100, 100))
    return data.getvalue()


@pytest.fixture
def place(tmp_path: Path) -> project.Project:
    (tmp_path / "layout.toml").write_text(LAYOUT)
    (tmp_path / "art.png").write_bytes(art((200, 30, 30)))
    return project.opened(tmp_path)


class Desk:
    """A loader whose results come back one by one."""

    def __init__(self) -> None:
        self.results: list[LoadResult] = []
        self.loader = SceneLoader(self._take, patience_s=0.3)
        self.seconds = self._asked = 0.0

    def _take(self, loaded: LoadResult) -> None:
        self.results.append(loaded)
        self.seconds = time.perf_counter() - self._asked

    def load(
        self, place: project.Project, *contents: PaneContent, text: str | None = None, is_fresh: bool = False
    ) -> LoadResult:
        count = len(self.results)
        wish = SceneRequest(project=place, contents=contents or (PaneContent(),), text=text, is_fresh=is_fresh)
        self._asked = time.perf_counter()
        number = self.loader.request(wish)
        assert self.loader.jobs.idle(30)
        assert len(self.results) == count + 1
        assert self.results[-1].number == number
        return self.results[-1]


@pytest.fixture
def desk() -> Iterator[Desk]:
    MEMORY.clear()
    desk = Desk()
    yield desk
    desk.loader.close()


def bodies(loaded: LoadResult, pane: int = 0) -> dict[tuple[str, int], object]:
    shown = loaded.panes[pane]
    assert shown is not None
    return {(body.name, index): body for index, body in enumerate(shown.scene.bodies)}


def meshes(loaded: LoadResult, pane: int = 0) -> dict[tuple[str, int], int]:
    return {key: id(body.mesh) for key, body in bodies(loaded, pane).items()}  # type: ignore[attr-defined]


def texture(loaded: LoadResult, pane: int = 0) -> object:
    (found,) = [b.material.texture for b in bodies(loaded, pane).values() if b.material.texture]  # type: ignore[attr-defined]
    return found


def test_a_project_is_loaded_with_all_that_the_panel_shows(desk: Desk, place: project.Project) -> None:
    loaded = desk.load(place, PaneContent(), PaneContent(variant="dusk", look="proof"))
    assert loaded.faults == ()
    assert loaded.variants == ("dusk",)
    assert [paint.name for paint in loaded.paints] == ["Small", "dusk"]
    assert {path.name for path in loaded.files} == {
        "layout.toml",
        "built.toml",
        "parts.toml",
        "printers.json",
        "paints.csv",
        "art.png",
    }
    first, second = loaded.panes
    assert first is not None
    assert second is not None
    assert (first.design.variant, second.design.variant) == (None, "dusk")
    assert first.picker.bodies


def test_the_same_wish_again_gives_the_same_scene(desk: Desk, place: project.Project) -> None:
    first, again = desk.load(place), desk.load(place)
    assert first.panes[0] is again.panes[0]
    fresh = desk.load(place, is_fresh=True)
    assert fresh.panes[0] is first.panes[0]


def test_a_moved_part_makes_only_itself_and_its_hole_new(desk: Desk, place: project.Project) -> None:
    before = desk.load(place)
    pane = before.panes[0]
    assert pane is not None
    document = reopened(place.layout)
    there = (faces(pane.design.enclosure)["top"], 17.0, 20.0)
    document = document.edited("move", parts.moved(document.raw, {"TONE": there}))
    after = desk.load(place, text=document.text)
    old, new = meshes(before), meshes(after)
    assert old.keys() == new.keys()
    changed = {name for name, index in old if old[name, index] != new[name, index]}
    # A hole's own rim is a few triangles, which the cut may list in another content.
    assert {name for name in changed if not name.startswith(("TONE", "bore:"))} == {"top", "inner"}
    assert any(name.startswith("TONE") for name in changed)
    assert texture(before) is texture(after)
    moved = after.panes[0]
    assert moved is not None
    assert moved.design.parts[0].u_mm == 17.0


def test_saved_art_makes_only_the_texture_new(desk: Desk, place: project.Project) -> None:
    before = desk.load(place)
    (place.folder / "art.png").write_bytes(art((30, 30, 200)))
    after = desk.load(place, is_fresh=True)
    assert meshes(before) == meshes(after)
    assert texture(before) is not texture(after)


def test_art_saved_without_a_change_makes_nothing_new(desk: Desk, place: project.Project) -> None:
    before = desk.load(place)
    with Image.open(place.folder / "art.png") as image:
        image.save(place.folder / "art.png", compress_level=1, dpi=(100, 100))
    assert texture(before) is texture(desk.load(place, is_fresh=True))


def test_art_touched_up_in_one_place_is_as_if_made_anew(desk: Desk, place: project.Project) -> None:
    desk.load(place)
    (place.folder / "art.png").write_bytes(art((200, 30, 30), spot=True))
    retouched = texture(desk.load(place, is_fresh=True))
    other = Desk()
    anew = texture(other.load(place))
    other.loader.close()
    assert (retouched.pixels == anew.pixels).all()  # type: ignore[attr-defined]
    assert retouched.u_mm == anew.u_mm  # type: ignore[attr-defined]


def test_light_and_toggles_keep_the_meshes(desk: Desk, place: project.Project) -> None:
    before = desk.load(place)
    for content in (PaneContent(light="stage"), PaneContent(has_clear_coat=False), PaneContent(background="#112233")):
        after = desk.load(place, content)
        assert meshes(after) == meshes(before)
    without = desk.load(place, PaneContent(has_decal=False))
    assert meshes(without) == meshes(before)
    assert not any(b.material.texture for b in bodies(without).values())  # type: ignore[attr-defined]


def test_turned_over_and_back_the_meshes_are_the_same_again(desk: Desk, place: project.Project) -> None:
    first = desk.load(place, PaneContent(is_flipped=True))
    second = desk.load(place, PaneContent(is_flipped=True, light="stage"))
    assert meshes(first) == meshes(second)


BROKEN = {
    "no TOML": "[box\n",
    "no UTF-8": b"\xff\xfe\x00",
    "nothing": "",
    "wrong value": LAYOUT.replace("left = 15", 'left = "wide"'),
    "part off the face": LAYOUT.replace("left = 15", "left = 150"),
    "art that is not there": LAYOUT.replace("art.png", "gone.png"),
    "a kind that is not there": LAYOUT.replace("lamp-3", "lamp-4711"),
    "no variant any more": LAYOUT.replace("[variants.dusk]", "[variants.dawn]"),
}


@pytest.mark.parametrize("how", BROKEN)
def test_a_broken_layout_keeps_the_last_good_picture_and_says_why_in_one_line(
    desk: Desk, place: project.Project, how: str
) -> None:
    content = PaneContent(variant="dusk" if "variant" in how else None)
    good = desk.load(place, content)
    bad = BROKEN[how]
    place.layout.write_bytes(bad if isinstance(bad, bytes) else bad.encode())
    loaded = desk.load(place, content, is_fresh=True)
    assert loaded.faults
    assert all("\n" not in line and line for line in loaded.faults)
    last, shown = good.panes[0], loaded.panes[0]
    assert last is not None
    assert shown is not None
    assert shown.scene is last.scene
    assert place.layout in loaded.files
    place.layout.write_text(LAYOUT)
    mended = desk.load(place, content, is_fresh=True)
    assert mended.faults == ()
    assert mended.panes[0] is last


def test_art_that_is_half_written_is_tried_again_until_it_is_whole(desk: Desk, place: project.Project) -> None:
    desk.load(place)
    whole = art((10, 200, 10))
    (place.folder / "art.png").write_bytes(whole[: len(whole) // 2])
    timer = threading.Timer(0.12, (place.folder / "art.png").write_bytes, (whole,))
    timer.start()
    loaded = desk.load(place, is_fresh=True)
    assert 0.05 < desk.seconds < 5
    timer.join()
    assert loaded.faults == ()


def test_art_that_stays_broken_is_told_after_a_moment(desk: Desk, place: project.Project) -> None:
    desk.load(place)
    (place.folder / "art.png").write_bytes(art((1, 2, 3))[:100])
    loaded = desk.load(place, is_fresh=True)
    assert len(loaded.faults) == 1
    assert "art.png" in loaded.faults[0]
    assert desk.seconds >= 0.3
    assert loaded.panes[0] is not None


def test_nothing_good_yet_shows_nothing(desk: Desk, place: project.Project) -> None:
    place.layout.write_text("[box\n")
    loaded = desk.load(place)
    assert loaded.panes == (None,)
    assert len(loaded.faults) == 1


def test_one_broken_version_leaves_the_others_alone(desk: Desk, place: project.Project) -> None:
    text = LAYOUT + '[[variants.dusk.part]]\nname = "TONE"\nleft = 500\n'
    loaded = desk.load(place, PaneContent(), PaneContent(variant="dusk"), text=text)
    first, second = loaded.panes
    assert first is not None
    assert second is None
    assert len(loaded.faults) == 1


def test_whatever_goes_wrong_is_told_and_the_thread_goes_on(
    desk: Desk, place: project.Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = desk.load(place)

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("by accident\nin two lines")

    with monkeypatch.context() as patched:
        patched.setattr(scene_loader, "assemble", broken)
        loaded = desk.load(place, PaneContent(light="stage"))
        assert len(loaded.faults) == 1
        assert "ZeroDivisionError" in loaded.faults[0]
        assert "\n" not in loaded.faults[0]
        shown, last = loaded.panes[0], good.panes[0]
        assert shown is not None
        assert last is not None
        assert shown.scene is last.scene
    assert desk.load(place, PaneContent(light="stage")).faults == ()


def test_the_newest_wish_wins(place: project.Project) -> None:
    got: list[LoadResult] = []
    gate, busy = threading.Event(), threading.Event()

    def deliver(loaded: LoadResult) -> None:
        got.append(loaded)
        busy.set()
        gate.wait(10)

    loader = SceneLoader(deliver)
    numbers = [loader.request(SceneRequest(project=place, contents=(PaneContent(),)))]
    assert busy.wait(30)
    started = time.perf_counter()
    numbers += [loader.request(SceneRequest(project=place, contents=(PaneContent(),))) for _ in range(20)]
    assert time.perf_counter() - started < 0.5, "asking never waits"
    gate.set()
    assert loader.jobs.idle(30)
    loader.close()
    assert [each.number for each in got] == [numbers[0], numbers[-1]]


def test_other_versions_are_made_ready_meanwhile(desk: Desk, place: project.Project) -> None:
    desk.load(place)
    first = desk.seconds
    desk.load(place, PaneContent(variant="dusk"))
    assert desk.seconds < 0.2 * first


def test_another_project_starts_anew(desk: Desk, place: project.Project, tmp_path: Path) -> None:
    desk.load(place)
    folder = tmp_path / "other"
    folder.mkdir()
    (folder / "layout.toml").write_text("[box\n")
    loaded = desk.load(project.opened(folder))
    assert loaded.panes == (None,)
    assert loaded.variants == ()


def test_closing_ends_the_thread(place: project.Project) -> None:
    loader = SceneLoader(lambda _: None)
    loader.request(SceneRequest(project=place, contents=(PaneContent(),)))
    loader.close()
    assert not [each for each in threading.enumerate() if each.name == "loading" and each is loader._latest._thread]


VECTOR = '<svg xmlns="http://www.w3.org/2000/svg" width="55mm" height="105mm"><path d="M0 0h20v20z"/></svg>'


def test_vectors_come_coarse_at_once_and_fine_a_moment_later(desk: Desk, place: project.Project) -> None:
    """55 mm at 300 and 600 dots per inch are 650 and 1299 pixels; the film is 55 mm wide both times."""
    (place.folder / "art.svg").write_text(VECTOR)
    place.layout.write_text(LAYOUT.replace("art.png", "art.svg"))
    number = desk.loader.request(SceneRequest(project=place, contents=(PaneContent(),)))
    assert desk.loader.jobs.idle(30)
    first, second = desk.results
    assert (first.number, second.number) == (number, number)
    assert (first.is_coarse, second.is_coarse) == (True, False)
    wide = []
    for loaded in (first, second):
        pane = loaded.panes[0]
        assert pane is not None
        (decal,) = pane.design.decals
        wide.append(decal.art.width_px)
        assert decal.width_mm == pytest.approx(55.0, abs=1e-6)
    assert wide == [650, 1299]
    assert desk.load(place).panes[0] is second.panes[0], "fine from then on"


def test_art_that_ends_its_reader_is_one_line_and_never_read_in_the_window_itself(
    desk: Desk, place: project.Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nested with care, it would end this very process: see `tests/decal/pictures/test_vector.py`."""
    here: list[str] = []
    monkeypatch.setattr(reader.artwork, "decode", lambda data, name, **_: here.append(name))
    (place.folder / "art.svg").write_text(
        VECTOR.replace("<path", "<g>" * 600 + "<path").replace("</svg>", "</g>" * 600 + "</svg>")
    )
    place.layout.write_text(LAYOUT.replace("art.png", "art.svg"))
    desk.loader.request(SceneRequest(project=place, contents=(PaneContent(),)))
    assert desk.loader.jobs.idle(30)
    assert len(desk.results) == 1
    assert desk.results[0].faults[0].startswith("art.svg: cannot be drawn: it nests 602 groups deep")
    assert here == []
    monkeypatch.undo()
    (place.folder / "art.svg").write_text(VECTOR)
    desk.loader.request(SceneRequest(project=place, contents=(PaneContent(),), is_fresh=True))
    assert desk.loader.jobs.idle(30)
    assert desk.results[-1].faults == ()
    (place.folder / "art.svg").write_text(VECTOR[:40])
    broken = desk.load(place, is_fresh=True)
    assert len(broken.faults) == 1
    assert "art.svg" in broken.faults[0]
    assert broken.panes[0] is not None
