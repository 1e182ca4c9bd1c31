"""A layout saved, and merged with what others wrote into its file meanwhile."""

from __future__ import annotations

from pathlib import Path

import pytest

from mockup import api
from mockup.layout.edit import parts
from mockup.model.enclosure import faces
from mockup.model.errors import InputError
from mockup.window.work import layout_file

BLACK = (("finish", "paint"), "#000000", "paint")
TURNED = (("part", "HEAT", "rotation"), 30, "turn HEAT")


def test_saved_and_read_again_the_part_has_moved(pond: Path) -> None:
    before = api.load(pond)
    part = before.parts[0]
    side = faces(before.enclosure)[part.face]
    document = layout_file.reopened(pond)
    document = document.edited("move", parts.moved(document.raw, {part.name: (side, part.u_mm + 1.0, part.v_mm)}))
    assert document.is_changed
    saved = layout_file.save(pond, document)
    assert not saved.is_changed
    after = api.load(pond)
    assert after.parts[0].u_mm == pytest.approx(part.u_mm + 1.0, abs=0.0026)
    assert saved.undone().is_changed
    assert saved.undone().text == document.base


def test_changes_go_onto_what_another_program_wrote(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.reopened(pond).put(*TURNED)
    pond.write_text(text.replace('name = "Copper Kettle"', 'name = "Tin Kettle"').replace("left = 0.62", "left = 0.7"))
    saved = layout_file.save(pond, document)
    assert 'name = "Tin Kettle"' in saved.text
    assert "left = 0.7" in saved.text
    assert "rotation = 30" in saved.text
    assert pond.read_text() == saved.text


def test_a_part_is_found_by_its_name_where_another_came_before_it(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.reopened(pond).put(*TURNED)
    extra = '[[part]]\nname = "NEW"\nkind = "lamp-3"\n\n[[part]]\nname = "HEAT"'
    pond.write_text(text.replace('[[part]]\nname = "HEAT"', extra))
    raw = layout_file.save(pond, document).raw
    assert {part["name"]: part.get("rotation") for part in raw["part"]}["HEAT"] == 30
    assert raw["part"][0] == {"name": "NEW", "kind": "lamp-3"}


def test_the_same_value_changed_on_both_sides_is_a_conflict(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.reopened(pond).put(*BLACK)
    other = text.replace("#c9824f", "#ffffff")
    pond.write_text(other)
    with pytest.raises(InputError) as caught:
        layout_file.save(pond, document)
    assert str(caught.value) == ("layout.toml: finish paint is '#000000' here, '#ffffff' in the file; keep one of them")
    assert pond.read_text() == other
    assert layout_file.ready(pond, document, prefer="file").text == other
    assert "#000000" in layout_file.save(pond, document, prefer="mine").text


def test_a_part_that_is_gone_is_a_conflict_and_the_rest_can_be_saved(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.reopened(pond).put(*TURNED).put(*BLACK)
    pond.write_text(text.replace('name = "HEAT"', 'name = "COLD"'))
    with pytest.raises(InputError, match="part HEAT rotation is 30 here, gone from the file"):
        layout_file.save(pond, document)
    saved = layout_file.save(pond, document, prefer="mine")
    assert "#000000" in saved.text
    assert "rotation = 30" not in saved.text


def test_a_file_that_was_broken_meanwhile_is_not_written_over(pond: Path) -> None:
    document = layout_file.reopened(pond).put(*BLACK)
    pond.write_text("[box\n")
    with pytest.raises(InputError):
        layout_file.save(pond, document)
    assert pond.read_text() == "[box\n"


def test_a_link_is_followed(pond: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(pond)
    layout_file.save(link, layout_file.reopened(link).put(*BLACK))
    assert link.is_symlink()
    assert "#000000" in pond.read_text()


def test_a_file_that_is_gone_is_written_anew(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.reopened(pond).put(*BLACK)
    pond.unlink()
    assert layout_file.save(pond, document).is_changed is False
    assert pond.read_text() == text.replace("#c9824f", "#000000")


def test_what_is_no_toml_is_refused_at_once(pond):
    """The window lays itself out from the tables in every frame: a file half written by an editor ended it."""
    pond.write_text("[[box\n")
    with pytest.raises(InputError, match="not valid TOML"):
        layout_file.reopened(pond)
