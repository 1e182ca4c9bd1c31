"""Unsaved changes survive a crash and go away when they are saved or dropped; recent projects."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mockup import files
from mockup.colour import rgb
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.errors import InputError, OutputError
from mockup.window.work import layout_file, recovery
from mockup.window.work.recovery import Keeper

PAINT, HEAT = ("finish", "paint"), ("part", "HEAT", "rotation")
BLACK, TURNED = (PAINT, "#000000", "paint"), (HEAT, 30, "turn HEAT")


def test_unsaved_changes_are_offered_when_the_same_file_is_opened_again(pond: Path) -> None:
    document = layout_file.reopened(pond).put(*BLACK).put(*TURNED)
    recovery.keep(pond, document)
    offered = recovery.offered(pond)
    assert offered is not None
    again = offered.onto(layout_file.reopened(pond))
    assert again.text == document.text
    assert again.is_changed
    assert again.undone().text == again.disk
    assert pond.read_text() == again.disk


def test_what_was_saved_or_undone_is_not_kept(pond: Path) -> None:
    document = layout_file.reopened(pond).put(*BLACK)
    recovery.keep(pond, document)
    recovery.keep(pond, document.undone())
    assert recovery.offered(pond) is None
    recovery.keep(pond, document)
    recovery.keep(pond, layout_file.save(pond, document))
    assert recovery.offered(pond) is None


def test_what_was_dropped_is_not_offered(pond: Path) -> None:
    recovery.keep(pond, layout_file.reopened(pond).put(*BLACK))
    recovery.drop(pond)
    assert recovery.offered(pond) is None
    recovery.drop(pond)


def test_undoing_past_a_save_is_kept_too(pond: Path) -> None:
    text = pond.read_text()
    document = layout_file.save(pond, layout_file.reopened(pond).put(*BLACK)).undone()
    assert document.is_changed
    recovery.keep(pond, document)
    offered = recovery.offered(pond)
    assert offered is not None
    assert offered.onto(layout_file.reopened(pond)).text == text


def test_each_file_has_its_own(pond: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(pond.read_text())
    recovery.keep(pond, layout_file.reopened(pond).put(*BLACK))
    assert recovery.offered(other) is None


def test_the_file_changed_meanwhile(pond: Path) -> None:
    text = pond.read_text()
    recovery.keep(pond, layout_file.reopened(pond).put(*BLACK))
    pond.write_text(text.replace("left = 0.62", "left = 0.7"))
    offered = recovery.offered(pond)
    assert offered is not None
    merged = offered.onto(layout_file.reopened(pond)).text
    assert "left = 0.7" in merged
    assert "#000000" in merged
    pond.write_text(text.replace("#c9824f", "#ffffff"))
    with pytest.raises(InputError, match="keep one of them"):
        offered.onto(layout_file.reopened(pond))
    assert "#000000" in offered.onto(layout_file.reopened(pond), prefer="mine").text
    assert not offered.onto(layout_file.reopened(pond), prefer="file").is_changed


def kept_file(pond: Path) -> Path:
    recovery.keep(pond, layout_file.reopened(pond).put(*BLACK))
    (found,) = files.recent_file().parent.glob("unsaved/*.json")
    return found


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_damaged_records_are_not_offered_and_never_raise(pond: Path, data: st.DataObject) -> None:
    path = kept_file(pond)
    whole = path.read_bytes()
    cut = data.draw(st.integers(0, len(whole)))
    path.write_bytes(whole[:cut] + data.draw(st.binary(max_size=4)))
    offered = recovery.offered(pond)
    if offered is not None:
        assert [str(each) for each in offered.changes] == ["finish paint = #000000"]
    recovery.drop(pond)


@pytest.mark.parametrize("key", ["before", "text"])
@pytest.mark.parametrize("value", [[], 3, None, {}, [{"place": []}], True, "[finish", "finish = 1\nfinish = 2"])
def test_records_of_another_shape_are_not_offered(pond: Path, key: str, value: object) -> None:
    path = kept_file(pond)
    path.write_text(json.dumps({**json.loads(path.read_text()), key: value}))
    assert recovery.offered(pond) is None


@pytest.mark.parametrize("record", [[], 3, None, {"format": 1}, {"format": 2}])
def test_records_without_texts_are_not_offered(pond: Path, record: object) -> None:
    kept_file(pond).write_text(json.dumps(record))
    assert recovery.offered(pond) is None


def test_a_keeper_keeps_the_newest_a_moment_later(pond: Path) -> None:
    keeper = Keeper(after_s=0.05)
    document = layout_file.reopened(pond)
    for step in range(30):
        document = document.put(HEAT, step + 1, "turn HEAT")
        keeper.changed(pond, document)
    assert keeper.jobs.idle(5.0)
    offered = recovery.offered(pond)
    assert offered is not None
    assert [str(each) for each in offered.changes] == ["part HEAT rotation = 30"]
    keeper.close()


def test_closing_a_keeper_keeps_what_waits(pond: Path) -> None:
    keeper = Keeper(after_s=60.0)
    keeper.changed(pond, layout_file.reopened(pond).put(*BLACK))
    keeper.close()
    assert recovery.offered(pond) is not None


def test_what_cannot_be_kept_is_told_once(pond: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: object) -> None:
        raise OutputError("the disk is full")

    monkeypatch.setattr(files, "write_all", full)
    told: list[str] = []
    keeper = Keeper(told.append, after_s=0.0)
    for colour in ((0, 0, 0), (1, 1, 1)):
        keeper.changed(pond, layout_file.reopened(pond).put(PAINT, rgb.to_hex(colour), "paint"))
        assert keeper.jobs.idle(5.0)
    keeper.close()
    assert told == ["Unsaved changes cannot be kept for a crash: the disk is full"]


def test_recent_projects_newest_first_at_most_twelve_and_existing(tmp_path: Path) -> None:
    assert recovery.recent() == ()
    paths = [tmp_path / f"{number}.toml" for number in range(14)]
    for path in paths:
        path.write_text("")
        recovery.remember(path)
    recovery.remember(paths[5])
    wanted = [paths[5], *(path for path in reversed(paths) if path != paths[5])][:12]
    assert list(recovery.recent()) == [path.resolve() for path in wanted]
    wanted[0].unlink()
    assert list(recovery.recent()) == [path.resolve() for path in wanted[1:]]


@pytest.mark.parametrize("text", ["", "{", "[]", '{"layouts": 3}', '{"layouts": [3, null]}', "\x00"])
def test_a_damaged_list_is_empty(text: str) -> None:
    files.recent_file().parent.mkdir(parents=True, exist_ok=True)
    files.recent_file().write_text(text)
    assert recovery.recent() == ()


def test_a_kept_document_is_put_back_with_its_line_ends(pond: Path) -> None:
    pond.write_bytes(b"\xef\xbb\xbf" + pond.read_bytes().replace(b"\n", b"\r\n"))
    recovery.keep(pond, layout_file.reopened(pond).put(*TURNED))
    offered = recovery.offered(pond)
    assert offered is not None
    document = offered.onto(layout_file.reopened(pond))
    assert isinstance(document, LayoutDocument)
    layout_file.save(pond, document)
    data = pond.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\n") == data.count(b"\r\n")


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere such names cannot be made")
def test_a_project_whose_name_is_no_text_is_remembered_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    folder = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9"))
    folder.mkdir()
    layout = folder / "layout.toml"
    layout.write_text("[box]\nsize = '112x60x31'\n")
    recovery.remember(layout)
    assert recovery.recent() == (layout,)
    document = layout_file.reopened(layout).put(*BLACK)
    recovery.keep(layout, document)
    offered = recovery.offered(layout)
    assert offered is not None
    assert offered.text == document.text
