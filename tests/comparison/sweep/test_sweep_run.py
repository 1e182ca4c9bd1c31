"""Sweeps: what is made, what is made again and what is not, and how they stop."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from sweep_bench import project

from mockup import files
from mockup.comparison.sweep import axes, job
from mockup.comparison.sweep import run as sweep
from mockup.comparison.sweep.options import SweepOptions
from mockup.layout.edit.assignment import Assignment, assign
from mockup.layout.resolve import resolve
from mockup.layout_source import LayoutSource, layout_source
from mockup.model.digest import digest
from mockup.model.errors import InputError
from mockup.picture import framing

pytestmark = pytest.mark.slow

SMALL = SweepOptions(size=(96, 72), quality="draft", processes=1)
LIMIT_S = 120.0


@pytest.fixture
def layout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(files.CACHE_FOLDER, str(tmp_path / "kept"))
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    return project(tmp_path)


@pytest.fixture
def pedal(layout: Path) -> LayoutSource:
    return layout_source(layout)


def paints(text: str) -> tuple[axes.Combination, ...]:
    return axes.combinations([axes.axis("--paint", "finish.paint", text)])


def entries(folder: Path) -> dict[str, int]:
    """Return the kept files and the numbers that the system knows them by: one that is written again gets another."""
    found = {}
    for place, _, names in os.walk(folder):  # which leaves out what vanishes meanwhile
        for name in names:
            with contextlib.suppress(FileNotFoundError):
                if name.endswith(".kept") and ".part" not in place:  # where a killed run was writing
                    found[name] = (Path(place) / name).stat().st_ino
    return found


@pytest.mark.gl
def test_black_words_read_on_white_and_not_on_black_and_nothing_is_made_twice(pedal: LayoutSource) -> None:
    made = sweep.sweep(pedal, paints("black,white,#777777"), SMALL)
    assert (made.candidates[0].caption, made.candidates[0].verdict) == ("white", "all read")
    assert made.candidates[-1].caption == "black"
    assert made.candidates[-1].verdict == "not all"
    assert {subject.name: why for subject, why in made.candidates[-1].trouble} == {
        "TONE": "too faint",
        "LOW": "too faint",
    }
    assert made.drawn == 3
    pictures = {each.caption: job.picture(made.store, each.names.pictures[0]) for each in made.candidates}
    assert {each.shape for each in pictures.values() if each is not None} == {(72, 96, 3)}
    means = {name: float(each.mean()) for name, each in pictures.items() if each is not None}
    assert means["black"] < means["#777777"] < means["white"]

    again = sweep.sweep(pedal, paints("black,white,navy,#777777"), SMALL)
    assert again.drawn == 1
    navy = next(each for each in again.candidates if each.caption == "navy")
    place = next(again.store.folder.rglob(f"{navy.names.pictures[0]}*"))
    place.write_bytes(place.read_bytes()[:-5])
    mended = sweep.sweep(pedal, paints("black,white,navy,#777777"), replace(SMALL, sort="given"))
    assert mended.drawn == 1
    assert [each.caption for each in mended.candidates] == ["black", "white", "navy", "#777777"]
    assert np.array_equal(
        job.picture(mended.store, navy.names.pictures[0]), job.picture(made.store, navy.names.pictures[0])
    )


@pytest.mark.gl
def test_another_size_view_or_look_is_another_picture_of_the_same_figures(pedal: LayoutSource) -> None:
    first = sweep.sweep(pedal, paints("white"), SMALL).candidates[0].names
    proof = replace(SMALL, look="proof")
    for other in (replace(SMALL, size=(72, 96)), replace(SMALL, view=("above",)), proof):
        names = sweep.sweep(pedal, paints("white"), other).candidates[0].names
        assert names.pictures != first.pictures
        assert names.figures == first.figures


@pytest.mark.gl
def test_views_are_kept_one_by_one(pedal: LayoutSource) -> None:
    """Another view makes its own pictures and leaves the others; of two views the one that is missing is made."""
    one = sweep.sweep(pedal, paints("white,black"), SMALL)
    before = entries(one.store.folder)
    both = sweep.sweep(pedal, paints("white,black"), replace(SMALL, view=("three-quarter", "above")))
    assert both.drawn == 2
    assert [sight.view for sight in both.sights] == ["three-quarter", "above"]
    later = entries(both.store.folder)
    assert before.items() <= later.items() and len(later) == len(before) + 2
    names = both.candidates[0].names.pictures
    shapes = {picture.shape for name in names if (picture := job.picture(both.store, name)) is not None}
    assert len(set(names)) == 2 and shapes == {(72, 96, 3)}
    next(both.store.folder.rglob(f"{names[1]}*")).unlink()
    del later[f"{names[1]}.kept"]
    mended = sweep.sweep(pedal, paints("white,black"), replace(SMALL, view=("above", "three-quarter")))
    assert mended.drawn == 1
    assert later.items() <= entries(mended.store.folder).items()
    assert mended.candidates[0].names.pictures == names[::-1]


def test_views_of_a_sweep_are_as_wide_as_each_other_and_none_larger_than_its_share(pedal: LayoutSource) -> None:
    points = framing.extents([pedal.drawn], ("three-quarter", "above", "near"))
    for count, side in ((12, 640), (13, 480)):  # the longer side of a picture by how many there are
        sights = sweep._sights(SweepOptions(view=tuple(points)), points, count)
        assert len({sight.width_px for sight in sights}) == 1
        assert max(max(sight.width_px, sight.height_px) for sight in sights) == pytest.approx(side, abs=2)
        assert all(sight.width_px % 2 == 0 == sight.height_px % 2 for sight in sights)


@pytest.mark.gl
def test_what_goes_wrong_with_one_pedal_is_said_of_it_alone(
    pedal: LayoutSource, monkeypatch: pytest.MonkeyPatch
) -> None:
    work = job.work

    def clumsy(task: job.Job) -> tuple[str, ...]:
        if task.design.finish.paint == (0.0, 0.0, 0.0):
            raise RuntimeError("the lamp\nfell over")
        return work(task)

    monkeypatch.setattr(job, "work", clumsy)
    made = sweep.sweep(pedal, paints("black,white"), SMALL)
    assert [(each.caption, each.failure) for each in made.candidates] == [
        ("white", ""),
        ("black", "the lamp fell over"),
    ]


def test_every_value_is_tried_before_anything_is_drawn(pedal: LayoutSource, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        sweep.sweep(pedal, paints("white,wite,teal,tael"), SMALL)
    lines = str(caught.value).splitlines()
    assert [line.split(":")[0] for line in lines] == ["--paint wite", "--paint tael"]
    assert not (tmp_path / "kept").exists()


def test_paint_on_bare_metal_is_refused(pedal: LayoutSource) -> None:
    bare = axes.combinations(
        [axes.axis("--paint", "finish.paint", "white,teal"), axes.axis("--sheen", "finish.sheen", "bare")]
    )
    with pytest.raises(InputError, match="shows no paint; add a sheen"):
        sweep.sweep(pedal, bare, SMALL)


def test_a_finish_changed_alone_is_what_the_whole_layout_makes_of_it(layout: Path) -> None:
    """The short cut for paints gives the same design as reading everything again."""
    for variant in (None, "red"):
        pedal = layout_source(layout, variant)
        for key, value in (("finish.paint", "teal"), ("finish.sheen", "bare"), ("finish.ink_strength", "1.3")):
            changes = [Assignment(key=key, value=value, origin="--set")]
            whole = resolve(assign(pedal.layout, variant, changes), pedal.art, variant, called=layout.parent.name)
            assert digest(pedal.design(changes)) == digest(whole)


def test_a_new_piece_of_art_is_read_when_it_is_named(pedal: LayoutSource) -> None:
    with pytest.raises(InputError, match=r"'other\.png' is not in the layout's folder"):
        pedal.design([Assignment(key="decal.art", value="other.png", origin="--set decal.art=other.png")])


@pytest.mark.gl
@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not known there")
def test_a_sweep_that_is_stopped_or_killed_goes_on_where_it_was(layout: Path, tmp_path: Path) -> None:
    """Eight paints: stopped with Ctrl-C, killed outright, then finished; no picture is made twice."""
    colours = "white,silver,gray,red,green,navy,teal,olive"
    command = [
        *(sys.executable, "-m", "mockup", "compare", str(layout), "--paint", colours),
        *("--size", "160x120", "--quality", "draft", "-o", str(tmp_path / "sheet.png"), "--json"),
    ]
    kept = tmp_path / "kept"

    def started(at_least: int) -> subprocess.Popen[str]:
        run = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
        )
        limit = time.monotonic() + LIMIT_S
        while len(entries(kept)) < at_least and run.poll() is None:
            assert time.monotonic() < limit
            time.sleep(0.02)
        assert run.poll() is None, "it was done before it could be stopped"
        return run

    run = started(2)
    os.killpg(run.pid, signal.SIGINT)  # as a terminal does: everybody in the group gets it
    _, said = run.communicate(timeout=LIMIT_S)
    assert run.returncode == 130, said
    assert said.count("\n") == 1
    assert "are kept, and the same command carries on from there" in said
    before = entries(kept)
    assert 2 <= len(before) < 16

    run = started(len(before) + 2)
    os.killpg(run.pid, signal.SIGKILL)
    run.communicate(timeout=LIMIT_S)
    later = entries(kept)
    assert before.items() <= later.items(), "something finished was made again"
    assert not (tmp_path / "sheet.png").exists()
    # A pedal's figures are kept after its picture, so they tell how many pedals are whole; the kill parts some.
    whole = sum(b'"figures"' in path.read_bytes() for path in kept.glob("??/*.kept"))

    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=LIMIT_S)
    told = json.loads(done.stdout)
    assert later.items() <= entries(kept).items(), "something finished was made again"
    assert len(entries(kept)) == 16
    assert told["drawn_now"] == 8 - whole >= 1
    assert len(told["candidates"]) == 8
    assert (tmp_path / "sheet.png").exists()
