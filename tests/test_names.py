"""Names of pedals, parts and files on their way into file names, pages and lines to type."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from command import typed

import mockup
from mockup.model.text import in_shell
from mockup.options import file_stem

LAYOUT = """
name = "NAME"
[box]
size = "112x60x31"
[[part]]
name = "BASS/TREBLE"
kind = "pot-16"
"""


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Tidewater", "tidewater"),
        ("Night Ferry 2", "night-ferry-2"),
        ("Чайка", "чайка"),
        ("潮 騒", "潮-騒"),
        ("Crème Brûlée", "crème-brûlée"),
        ("cre\u0300me", "crème"),  # one way of writing an accent, whatever the name's own
        ("कामना", "कामना"),  # its vowels are marks, which belong to the word
        ("BASS/TREBLE", "bass-treble"),
        ("../../x", "x"),
        ("★", "black-star"),  # its name in Unicode
        ("con", "con-pedal"),  # a device on Windows
    ],
)
def test_a_pedal_s_name_is_a_file_name_in_its_own_alphabet(name: str, stem: str) -> None:
    assert file_stem(name) == stem


def test_names_that_differ_give_files_that_differ() -> None:
    names = ["海", "山", "★", "☆", "Ж", "Щ", "x" * 300, "x" * 301, "é", "e", "!", "?", "1", "2"]
    stems = [file_stem(name) for name in names]
    assert len(set(stems)) == len(names)
    assert all(len(stem.encode()) <= 120 for stem in stems)


@pytest.mark.parametrize("name", ["layout.toml", "my pedal", "it's", "-x", "$HOME", "a;b", 'say "sea"', "海"])
@pytest.mark.skipif(sys.platform == "win32", reason="asks a POSIX shell")
def test_a_path_to_type_reaches_the_program_as_it_is(name: str) -> None:
    typed = in_shell(name)
    done = subprocess.run(["sh", "-c", f"printf %s {typed}"], capture_output=True, text=True, check=True)
    assert Path(done.stdout) == Path(name)
    assert not shlex.split(typed)[0].startswith("-")


def test_a_slash_in_a_part_s_name_stays_on_every_page(tmp_path: Path) -> None:
    """Template, log and the scene's bodies: BASS/TREBLE is one part and not a list of two words."""
    design = mockup.loads(LAYOUT)
    (page,) = mockup.template(design, output="a.svg").files.values()
    table = mockup.template(design, output="a.pdf").facts
    assert "BASS, TREBLE" not in page.decode()
    assert "BASS/TREBLE/bushing" in str(table)
    assert {body.part for body in mockup.build(design).bodies if body.name.startswith("bore:")} == {"BASS/TREBLE"}


@pytest.mark.gl
@pytest.mark.slow
def test_a_log_calls_the_hole_by_its_part(tmp_path: Path) -> None:
    shot = {"size": (64, 64), "frames": 0, "quality": "draft", "turn_size": (64, 64)}
    page = next(iter(mockup.log(mockup.loads(LAYOUT), output="a.md", **shot).files.values())).decode()
    assert "BASS/TREBLE, bushing" in page
    assert "BASS, TREBLE" not in page


@pytest.mark.parametrize("folder", ["my pedal", "-x", "海"])
def test_the_line_to_try_next_can_be_typed(tmp_path: Path, folder: str) -> None:
    done = typed("new", "--", folder, cwd=tmp_path)
    words = shlex.split(done.stderr.partition("now try: ")[2])
    assert words[:2] == ["mockup", "still"]
    assert (tmp_path / words[2]).is_file()
    assert not words[2].startswith("-")


def test_two_projects_in_one_folder_replace_nothing_in_silence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As typed: two projects of one name; what the second takes from the first is said once, a repeat is not."""
    monkeypatch.setenv("MOCKUP_SETTINGS", str(tmp_path / "settings"))
    for folder in ("one", "two", "海", "山"):
        (tmp_path / folder).mkdir()
        name = folder if len(folder) == 1 else "Sea"
        (tmp_path / folder / "layout.toml").write_text(LAYOUT.replace("NAME", name))

    def said(folder: str) -> str:
        done = typed("template", f"{folder}/layout.toml", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        return done.stderr

    assert "showed" not in said("one") + said("one")
    assert f"note: sea-template.pdf showed {tmp_path / 'one' / 'layout.toml'} until now" in said("two")
    assert "showed" not in said("two") + said("海") + said("山")
    assert {each.name for each in tmp_path.glob("*.pdf")} == {f"{stem}-template.pdf" for stem in ("sea", "海", "山")}


@pytest.mark.gl
def test_a_comparison_is_the_first_layout_s_whatever_its_folder_is_called(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As typed: what stands behind an @ is a variant only where no such file is there."""
    monkeypatch.setenv("MOCKUP_SETTINGS", str(tmp_path / "settings"))
    for folder in ("me@home", "two"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "layout.toml").write_text(LAYOUT.replace("NAME", folder))

    def said(*words: str) -> str:
        done = typed(*words, "-o", "x.pdf", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        return done.stderr

    said("compare", "me@home/layout.toml", "two/layout.toml", "--size", "64x64")
    assert f"note: x.pdf showed {tmp_path / 'me@home' / 'layout.toml'} until now" in said("template", "two/layout.toml")
