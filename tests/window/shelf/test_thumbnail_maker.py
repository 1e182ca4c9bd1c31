"""Thumbnails are made newest need first, kept by their content, and never drawn while the user is at work."""

import shutil
import time

import numpy as np
import pytest

from mockup import cache, knobs
from mockup.finishes import sheens
from mockup.hardware import kinds
from mockup.model.finish import Finish
from mockup.window.shelf import maker
from mockup.window.shelf.maker import ThumbnailMaker, name_of
from mockup.window.shelf.subjects import KnobSubject, PartSubject, PedalSubject, SheenSubject, Thumbnail
from mockup.window.work.project import opened
from mockup.worker import WorkerGoneError

SMALL = (40, 30)


def knob(style, size=SMALL):
    return Thumbnail(subject=KnobSubject(knob=knobs.default(style)), size=size)


@pytest.fixture(autouse=True)
def own_store(tmp_path, monkeypatch):
    monkeypatch.setenv("MOCKUP_CACHE", str(tmp_path / "cache"))


@pytest.fixture
def making(monkeypatch):
    """A maker whose process only notes what it was asked for and sends a grey back."""
    from mockup.encode.png import png

    asked, found, busy = [], [], [False]

    class Process:
        def __init__(self, **_):
            pass

        def ask(self, _function, wanted):
            asked.append(wanted)
            if wanted.size == (13, 13):
                raise WorkerGoneError("died")
            return png(np.full((*wanted.size[::-1], 3), 90, np.uint8))

        def close(self):
            pass

    monkeypatch.setattr(maker, "Worker", Process)
    made = ThumbnailMaker(found.append, lambda: busy[0])
    yield made, asked, found, busy
    made.close()


def until(is_so, seconds=10.0):
    end = time.monotonic() + seconds
    while not is_so():
        assert time.monotonic() < end
        time.sleep(0.01)


def test_the_newest_need_comes_first_and_is_kept_on_disk(making):
    made, asked, found, busy = making
    busy[0] = True
    for frame, style in enumerate(("barrel", "dome", "bar")):
        made.want(knob(style), (frame, 0))
    made.want(knob("stepped"), (2, -1))  # the same frame, further down
    time.sleep(0.2)
    assert not asked  # nothing is drawn while the user is at work
    busy[0] = False
    until(lambda: len(found) == 4)
    assert [each.subject.knob.style for each in asked] == ["bar", "stepped", "dome", "barrel"]
    assert all(each.pixels.shape == (30, 40, 3) for each in found)
    busy[0] = True
    made.want(knob("dome"), (3, 0))
    until(lambda: len(found) == 5)  # from disk, even now
    assert len(asked) == 4
    assert cache.store().get(found[-1].name) is not None


def test_what_nobody_shows_any_more_is_dropped(making):
    made, asked, found, busy = making
    busy[0] = True
    made.want(knob("barrel"), (1, 0))
    made.want(knob("dome"), (2, 0))
    made.forget(before=2)
    busy[0] = False
    until(lambda: found)
    time.sleep(0.1)
    assert [each.subject.knob.style for each in asked] == ["dome"]


def test_what_cannot_be_drawn_is_said_and_the_rest_goes_on(making, tmp_path):
    made, _, found, _ = making
    (tmp_path / "layout.toml").write_text("[box]\nsize = 3\n")
    broken = PedalSubject(project=opened(tmp_path / "layout.toml"), text="[box]\nsize = 3\n")
    made.want(Thumbnail(subject=broken), (1, 0))
    made.want(knob("bar", (13, 13)), (1, -1))
    made.want(knob("bar"), (1, -2))
    until(lambda: len(found) == 3)
    assert [each.pixels is None for each in found] == [True, True, False]


def test_a_name_follows_everything_that_is_shown(examples, tmp_path):
    folder = tmp_path / "pond"
    shutil.copytree(examples / "copper_kettle", folder)
    text = (folder / "layout.toml").read_text()

    def pedal(text, variant=None):
        return name_of(Thumbnail(subject=PedalSubject(project=opened(folder), text=text, variant=variant)))

    first = pedal(text)
    assert pedal(text) == first
    assert pedal(text + "# a word\n") != first
    art = next(path for path in folder.iterdir() if path.suffix in (".svg", ".png") and path.name in text)
    art.write_bytes(art.read_bytes() + b"\n")
    assert pedal(text) != first

    pot = kinds()["pot-16"]
    names = {
        name_of(Thumbnail(subject=PartSubject(kind=pot))),
        name_of(Thumbnail(subject=PartSubject(kind=pot, knob=knobs.default("dome")))),
        name_of(Thumbnail(subject=PartSubject(kind=pot, beside=(kinds()["pot-24"],)))),
        name_of(Thumbnail(subject=SheenSubject(finish=Finish(paint=(1, 0, 0), sheen=sheens()["gloss"])))),
        name_of(Thumbnail(subject=SheenSubject(finish=Finish(paint=(1, 0, 0), sheen=sheens()["satin"])))),
        name_of(knob("dome")),
        name_of(knob("dome", (80, 60))),
    }
    assert len(names) == 7
