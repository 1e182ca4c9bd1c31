"""Which pedals a command line names, what they are called, and what is refused in one line."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from pedal_bench import PLAIN, project

from mockup.cli import cli
from mockup.comparison.columns import columns, pedals
from mockup.model.errors import InputError

VARIANTS = (
    PLAIN + '\n[variants.night]\nfinish = { paint = "#26324a" }\n[variants.dawn]\nfinish = { paint = "#e0b0a0" }\n'
)


def named(*words: str) -> list[tuple[str, str | None]]:
    return [(each.path.parent.name, each.variant) for each in pedals(words)]


def labels(*words: str) -> list[str]:
    return [column.label for column in columns(pedals(words))]


@pytest.fixture
def layout(tmp_path: Path) -> str:
    return str(project(tmp_path / "tide", VARIANTS))


@pytest.fixture
def other(tmp_path: Path) -> str:
    return str(project(tmp_path / "ebb", PLAIN))


def test_one_file_stands_for_itself_and_all_its_variants(layout: str) -> None:
    assert named(layout) == [("tide", None), ("tide", "night"), ("tide", "dawn")]
    assert labels(layout) == ["as designed", "night", "dawn"]


def test_a_star_is_every_variant_and_several_files_are_themselves(layout: str, other: str) -> None:
    assert named(f"{layout}@*") == [("tide", "night"), ("tide", "dawn")]
    assert named(layout, other) == [("tide", None), ("ebb", None)]
    assert named(f"{layout}@dawn", layout, f"{layout}@") == [("tide", "dawn"), ("tide", None), ("tide", None)]


def test_captions_tell_all_pedals_apart(layout: str, other: str) -> None:
    assert labels(layout, other) == ["as designed (tide)", "as designed (ebb)"]
    assert labels(layout, layout) == ["as designed (1 of 2)", "as designed (2 of 2)"]
    assert labels(f"{layout}@night", other) == ["night", "as designed"]


def test_a_path_may_hold_the_sign_itself(tmp_path: Path) -> None:
    strange = str(project(tmp_path / "me@home", VARIANTS))
    assert named(strange) == [("me@home", None), ("me@home", "night"), ("me@home", "dawn")]
    assert named(f"{strange}@night", strange) == [("me@home", "night"), ("me@home", None)]


def test_art_that_is_the_same_is_held_once(layout: str, other: str) -> None:
    held = {id(column.design.decals[0].art.pixels) for column in columns(pedals([layout, f"{layout}@night", other]))}
    assert len(held) == 1


def test_too_few_and_too_many(layout: str, other: str) -> None:
    for words in ([], [f"{layout}@night"], [other], [f"{other}@*"], [layout] * 13):
        with pytest.raises(InputError) as caught:
            pedals(words)
        assert len(caught.value.faults) == 1
    assert "13 pedals are too many for one sheet, which shows 12" in str(caught.value)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["{layout}@noon"], "has no variant"),
        (["nowhere.toml", "{layout}"], "there is no such file"),
        (["{layout}", "--view", "behind"], "--view: there is no view 'behind'"),
        (["{layout}", "-o", "x.bmp"], "--output: 'x.bmp' has an unknown ending"),
        (["{layout}", "-o", "x.png", "-o", "x.png"], "--output: 'x.png' is named twice"),
        (["{layout}", "-o", "x.html", "--light", "cutout"], "--light: 'cutout' has no ground"),
        (["{layout}", "--size", "wide"], "--size: 'wide' is not a size"),
        (["{layout}", "--page", "10x10"], "--page: a page of 10 x 10 mm is out of range"),
        (["{layout}", "--turntable", "x.mov"], "--turntable: 'x.mov' has an unknown ending"),
        (["{layout}", "--turntable", "x.gif", "--frames", "1"], "--frames: 1 is out of range"),
        (["{layout}", "--background", "sparkling"], "--background: "),
    ],
)
def test_bad_input_is_one_line_before_anything_is_rendered(
    words: list[str], said: str, layout: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    given = [word.format(layout=layout) for word in words]
    if len([word for word in given if word.endswith(("toml", "noon"))]) == 1 and "noon" in given[0]:
        given.append(layout)
    done = CliRunner().invoke(cli, ["compare", *given])
    assert isinstance(done.exception, InputError), done.output
    assert len(str(done.exception).splitlines()) == 1
    assert said in str(done.exception)
    assert not list(tmp_path.glob("x.*"))
