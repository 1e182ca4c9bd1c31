"""What can be opened, and what hangs on which file."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from mockup import api
from mockup.model.errors import InputError
from mockup.window.work import project
from mockup.window.work.assets import Assets

BOX = '[box]\nsize = "112x60x31"\n'


def test_a_layout_file_is_opened_by_its_name_or_its_folder(tmp_path: Path) -> None:
    (tmp_path / "layout.toml").write_text(BOX)
    (tmp_path / "other.toml").write_text(BOX)
    assert project.opened(tmp_path).layout == tmp_path / "layout.toml"
    assert project.opened(tmp_path / "other.toml").layout == tmp_path / "other.toml"
    assert project.opened(tmp_path).title == tmp_path.name


def test_the_only_file_with_a_box_counts(tmp_path: Path) -> None:
    (tmp_path / "pedal.toml").write_text(BOX)
    (tmp_path / "parts.toml").write_text('[[kind]]\nname = "x"\n')
    (tmp_path / "broken.toml").write_text("[box\n")
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe")
    assert project.opened(tmp_path).layout.name == "pedal.toml"


@pytest.mark.parametrize(
    ("files", "told"),
    [([], "holds no layout file"), (["a.toml", "b.toml"], "holds several layouts: a.toml, b.toml")],
)
def test_no_layout_or_several_are_told_in_one_line(tmp_path: Path, files: list[str], told: str) -> None:
    for name in files:
        (tmp_path / name).write_text(BOX)
    with pytest.raises(InputError, match=told) as caught:
        project.opened(tmp_path)
    assert "\n" not in str(caught.value)


def test_a_path_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        project.opened(tmp_path / "nowhere.toml")


def test_every_file_that_matters_is_watched(examples: Path) -> None:
    place = project.opened(examples / "lantern_moth")
    layout = Assets().layout(place.layout.read_text(), place)
    names = {path.name for path in project.watched(place, project.assets(layout))}
    assert names == {"layout.toml", "built.toml", "parts.toml", "paints.csv", "printers.json", "art.png"}


def test_candidate_paints_are_told_once_in_file_order(examples: Path) -> None:
    raw = tomllib.loads((examples / "night_ferry" / "layout.toml").read_text())
    assert [(paint.name, paint.colour) for paint in project.paints(raw)] == [
        ("Night Ferry", pytest.approx((0xA9 / 255, 0xD3 / 255, 0xC6 / 255))),
        ("storm", pytest.approx((0xC7 / 255, 0xCF / 255, 0xD6 / 255))),
    ]
    text = '[finish]\npaint = "red"\n[variants.a]\nfinish = { paint = "#F00" }\n[variants.b]\nfinish = { paint = 3 }\n'
    assert [paint.name for paint in project.paints(tomllib.loads(text))] == ["this layout"]
    assert project.paints({"finish": 3, "variants": [1]}) == ()


def test_what_is_read_for_the_window_is_what_the_program_reads(examples: Path) -> None:
    from mockup.window.work.assets import Assets

    place = project.opened(examples / "copper_kettle")
    mine_files = Assets()
    text = mine_files.text(place)
    for variant in (None, *api.variants(place.layout)):
        mine, wanted = mine_files.design(text, place, variant), api.load(place.layout, variant)
        assert (mine.name, mine.finish, mine.enclosure) == (wanted.name, wanted.finish, wanted.enclosure)
        assert [(part.name, part.u_mm, part.v_mm) for part in mine.parts] == [
            (part.name, part.u_mm, part.v_mm) for part in wanted.parts
        ]
        assert (mine.decals[0].art.pixels == wanted.decals[0].art.pixels).all()


def test_paints_of_the_layout_come_before_those_of_a_list() -> None:
    raw = {"finish": {"paint": "#102030"}, "variants": {"dusk": {"finish": {"paint": "teal"}}}}
    listed = "name,colour,sheen\nMoss,#3a5f2b,matte\nTwice,#102030\nno colour\nRust, #9a4a22\n"
    found = project.paints(raw, listed)
    assert [paint.name for paint in found] == ["this layout", "dusk", "Moss", "Rust"]


def test_a_list_of_paints_is_offered_as_far_as_it_can_be_read() -> None:
    listed = "Sea\x1b green,#2a6f6b\n" + "x" * 200_000 + ",#00ff00\nRed,#ff0000"
    assert [paint.name for paint in project.paints({}, listed)] == ["Sea? green"]
