"""The store of finished pictures: whole entries or none, the least used go first, damage is a miss."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest

from mockup import cache, files, transaction
from mockup.model.errors import InputError, OutputError

NAMES = [f"{number:02x}" * 20 for number in range(1, 6)]


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> cache.Store:
    monkeypatch.setenv(files.CACHE_FOLDER, str(tmp_path / "kept"))
    monkeypatch.setenv(files.SETTINGS_FOLDER, str(tmp_path / "settings"))
    return cache.store()


def place(store: cache.Store, name: str) -> Path:
    return next(store.folder.rglob(f"{name}*"))


def test_an_entry_comes_back_as_it_was(store: cache.Store) -> None:
    assert store.get(NAMES[0]) is None
    store.put(NAMES[0], b"")
    store.put(NAMES[1], bytes(range(256)))
    assert (store.get(NAMES[0]), store.get(NAMES[1])) == (b"", bytes(range(256)))
    assert store.size()[0] == 2


@pytest.mark.parametrize(
    "damage", [lambda data: data[:-1], lambda data: data[:40], lambda data: b"", lambda data: data[:-3] + b"abc"]
)
def test_a_damaged_entry_is_none_and_can_be_written_again(store: cache.Store, damage) -> None:  # type: ignore[no-untyped-def]
    store.put(NAMES[0], b"picture")
    path = place(store, NAMES[0])
    path.write_bytes(damage(path.read_bytes()))
    assert store.get(NAMES[0]) is None
    store.put(NAMES[0], b"picture")
    assert store.get(NAMES[0]) == b"picture"


def test_the_least_used_go_first_and_what_is_in_use_stays(store: cache.Store) -> None:
    for age, name in enumerate(NAMES):
        store.put(name, bytes(1000))
        os.utime(place(store, name), (1000.0 + age, 1000.0 + age))
    assert store.get(NAMES[0]) is not None  # used now: the newest of all
    each = place(store, NAMES[0]).stat().st_size
    assert store.trim(3 * each, spared={NAMES[1]}) == 2
    assert [store.get(name) is not None for name in NAMES] == [True, True, False, False, True]


def test_clearing_leaves_files_that_are_not_its_own(store: cache.Store) -> None:
    store.put(NAMES[0], b"picture")
    foreign = store.folder / "ab" / "notes.txt"
    foreign.parent.mkdir()
    foreign.write_text("mine")
    assert store.clear() == 1
    assert foreign.exists()
    assert store.size() == (0, 0)


def test_what_a_killed_run_left_half_written_goes_and_what_is_being_written_stays(
    store: cache.Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.put(NAMES[0], b"picture")
    folder = place(store, NAMES[0]).parent
    dead = folder / ".mockup-0123456789ab.part"
    (dead / "new").mkdir(parents=True)
    (dead / "lock").touch()
    (dead / "new" / f"{NAMES[0]}.kept").write_bytes(b"pict")
    real = transaction._mark

    def trimmed_meanwhile(staging: transaction._Staging) -> None:
        store.trim(10**9)
        assert (staging.folder / "new" / f"{NAMES[0]}.kept").exists(), "its writer is still at it"
        real(staging)

    monkeypatch.setattr(transaction, "_mark", trimmed_meanwhile)
    store.put(NAMES[0], b"another")
    assert not dead.exists()
    assert store.get(NAMES[0]) == b"another"


def test_a_folder_that_cannot_be_written_is_one_line(store: cache.Store) -> None:
    store.folder.parent.mkdir(exist_ok=True)
    store.folder.write_text("a file where the folder should be")
    with pytest.raises(OutputError):
        store.put(NAMES[0], b"picture")
    with pytest.raises(OutputError, match=r"cannot be kept there; name another folder in MOCKUP_CACHE$"):
        store.require()
    assert store.get(NAMES[0]) is None
    assert (store.size(), store.clear(), store.trim(1)) == ((0, 0), 0, 0)


def test_trying_whether_anything_can_be_kept_leaves_nothing(store: cache.Store) -> None:
    store.require()
    assert store.size() == (0, 0)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("500MB", 500_000_000),
        ("2 gb", 2 * 10**9),
        ("1.5G", 1_500_000_000),
        ("3000000", 3_000_000),
        ("5000000b", 5_000_000),
    ],
)
def test_limit_is_kept(store: cache.Store, text: str, size: int) -> None:
    assert cache.limit() == cache.USUAL_LIMIT
    assert cache.set_limit(text) == size
    assert cache.limit() == size


@pytest.mark.parametrize("text", ["", "lots", "10", "-5MB", "5 XB", "0MB"])
def test_what_is_no_limit_is_one_line(store: cache.Store, text: str) -> None:
    with pytest.raises(InputError, match="write for example 500MB"):
        cache.set_limit(text)


def test_broken_settings_leave_the_usual_limit(store: cache.Store) -> None:
    files.write_all({files.cache_settings_file(): b'{"limit_bytes": "lots"}'})
    assert cache.limit() == cache.USUAL_LIMIT
    files.write_all({files.cache_settings_file(): b"["})
    assert cache.limit() == cache.USUAL_LIMIT


def test_a_lower_limit_takes_effect_at_once(store: cache.Store) -> None:
    for name in NAMES:
        store.put(name, bytes(400_000))
    cache.set_limit("1MB")
    assert store.size()[0] == 2  # 2 x 0.4 MB fit into 1 MB, 3 do not


def test_names_depend_on_the_programs_own_source(monkeypatch: pytest.MonkeyPatch) -> None:
    before = cache.key("same")
    source = [*files.program_files()]
    assert any(name.endswith(".frag") for name, _ in source), "shaders count"
    assert not any(name.startswith("cli/") for name, _ in source)
    cache.program.cache_clear()
    monkeypatch.setattr(files, "program_files", lambda: iter([*source[:-1], (source[-1][0], b"changed")]))
    try:
        assert cache.key("same") != before
    finally:
        cache.program.cache_clear()


def test_the_command_shows_clears_and_limits(store: cache.Store) -> None:
    from click.testing import CliRunner

    from mockup.cli import cli

    store.put(NAMES[0], bytes(5000))
    shown = CliRunner().invoke(cli, ["cache"]).output.splitlines()
    assert shown[0] == str(store.folder)
    assert shown[1].startswith("1 entry, 5.0")
    told = json.loads(CliRunner().invoke(cli, ["cache", "--json"]).output)
    assert (told["entries"], told["limit_bytes"]) == (1, 10**9)
    assert CliRunner().invoke(cli, ["cache", "limit", "20MB"]).output == "at most 20 MB are kept\n"
    assert CliRunner().invoke(cli, ["cache", "clear"]).output == "removed 1 entry\n"
    assert store.size() == (0, 0)


def test_where_nothing_can_be_kept_a_run_has_a_store_of_its_own_and_says_so_once(store: cache.Store) -> None:
    assert cache.usable() == (store, ())
    shutil.rmtree(store.folder)
    store.folder.write_text("a file where the folder should be")
    passing, notes = cache.usable()
    passing.put(NAMES[0], b"picture")
    assert passing.get(NAMES[0]) == b"picture"
    assert len(notes) == 1
    assert str(store.folder) in notes[0]
    assert "MOCKUP_CACHE" in notes[0]
    assert not store.folder.is_dir()


def test_a_setting_nested_without_end_is_no_setting(store: cache.Store) -> None:
    place = files.cache_settings_file()
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text('{"limit_bytes":' + "[" * 100_000 + "]" * 100_000 + "}")
    assert cache.limit() == cache.USUAL_LIMIT
