"""The manual says what is so: every command in it runs, every layout loads, every script ends."""

from __future__ import annotations

import re
import shlex
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

import mockup
from mockup import api, manual
from mockup.arrange.layouts.list_file import wanted
from mockup.cli import cli
from mockup.engines.gl.settings import EFFORTS
from mockup.layout import parse

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parent.parent
PAGES = sorted((ROOT / "mockup" / "manual").glob("*.md"))
TEXTS = [*PAGES, ROOT / "README.md"]
LIST_PAGE = "arrange"  # the page whose TOML is a list of controls
PAINTS = "name,colour\nButter,#f4e08a\nTeal,#2a6f6b\n"
SMALL = {
    "still": ["--size", "96x72", "--quality", "draft"],
    "share": ["--size", "96x72", "--turn-size", "96x72", "--quality", "draft", "--frames", "3"],
    "turntable": ["--size", "96x72", "--quality", "draft", "--frames", "3"],
    "compare": ["--size", "96x72", "--quality", "draft"],
    "log": ["--size", "96x72", "--quality", "draft", "--frames", "0"],
    "model": ["--texture", "64"],
    "arrange": ["--no-picture", "--count", "2"],
    "--turntable": ["--frames", "3"],
    "--wander": ["--samples", "2"],
}  # what is added to a command, or to one with such a flag, so that it takes little time
UNSEEN = {
    "view": "opens a window and waits",
    "demo": "takes a minute; tests/test_cli.py runs it",
    "beside": "wants a photograph of a pedal that was built; tests/comparison/test_beside.py draws one",
    "calibrate paint": "wants a photograph of a painted box; tests/test_calibrate_command.py draws one",
    "calibrate fit": "wants a strip that was printed and measured; tests/test_calibrate_command.py has one",
}  # parsed, not run


def blocks(path: Path, language: str) -> Iterator[str]:
    """Yield the text of each code block in a language."""
    yield from re.findall(rf"^```{language}\n(.*?)^```", path.read_text(), re.MULTILINE | re.DOTALL)


def commands(path: Path) -> list[list[str]]:
    """Return every line that begins with the command's name, as its arguments."""
    lines = (line for block in blocks(path, "sh") for line in block.splitlines())
    return [words[1:] for line in lines if (words := shlex.split(line, comments=True))[:1] == ["mockup"]]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in, with kept pictures and printers of its own; pictures get a draft's work."""
    monkeypatch.setitem(EFFORTS, "normal", EFFORTS["draft"])
    monkeypatch.setattr("mockup.engines.gl.context.is_software", lambda: False)  # where stills are not path traced
    monkeypatch.setattr(
        "mockup.workers.cores", lambda: 1
    )  # a process for each would take longer to start than its work
    monkeypatch.chdir(tmp_path)
    for name in ("XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "own"))
    (tmp_path / "paints.csv").write_text(PAINTS)
    return tmp_path


def test_the_code_of_a_page_is_found() -> None:
    """A wrong pattern would find nothing and pass."""
    assert ["new", "tidewater"] in commands(ROOT / "README.md")
    assert sum(len(commands(path)) for path in PAGES) > 25
    assert sum(len(list(blocks(path, "toml"))) for path in TEXTS) >= 4
    assert sum(len(list(blocks(path, "python"))) for path in TEXTS) >= 2


@pytest.mark.gl
@pytest.mark.slow
@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_every_command_runs(path: Path, bench: Path) -> None:
    for words in filter(None, commands(path)):  # alone it opens a window and waits, as "view" does
        if any(" ".join(words).startswith(name) for name in UNSEEN):
            with cli.make_context("mockup", list(words), resilient_parsing=True) as group:
                _, command, rest = cli.resolve_command(group, list(words))
                assert command is not None
                command.make_context(words[0], rest, parent=group)
            continue
        try:
            small = [word for name, more in SMALL.items() if name in words for word in more]
            cli.main([*words, *small], prog_name="mockup", standalone_mode=False)
        except click.exceptions.Exit as left:
            assert left.exit_code == 0, words


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_every_layout_is_one(path: Path) -> None:
    for text in blocks(path, "toml"):
        if path.stem == LIST_PAGE:
            assert wanted(text, path.name).groups
        else:
            assert parse.parse(text, path.name).file.box is not None


@pytest.mark.gl
@pytest.mark.slow
def test_every_script_runs(bench: Path) -> None:
    """One after the other, as they stand on the page; pictures small."""
    api.new(bench / "tidewater")
    for path in TEXTS:
        names: dict[str, object] = {}
        for code in blocks(path, "python"):
            exec(code.replace("1200, 1200", "96, 96").replace("frames=24", "frames=3, size=(96, 72)"), names)


def test_pages_are_short_and_have_a_title() -> None:
    for path in PAGES:
        lines = path.read_text().splitlines()
        assert re.fullmatch(r"# \S.*", lines[0]), path.name
        assert len(lines) <= 80, path.name
    assert len((ROOT / "README.md").read_text().splitlines()) <= 150


def test_readme_links_to_every_page_and_to_nothing_that_is_not_there() -> None:
    readme = (ROOT / "README.md").read_text()
    links = set(re.findall(r"\]\(([^)#]+)\)", readme))
    assert {f"mockup/manual/{path.name}" for path in PAGES} <= links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_topics_are_the_pages() -> None:
    assert set(manual.topics()) == {path.stem for path in PAGES}
    assert manual.topics()["decals"] == "The decal sheet"
    with pytest.raises(KeyError):
        manual.page("../../README")


def test_a_page_in_the_terminal_has_no_marks() -> None:
    for topic in manual.topics():
        text = manual.plain(topic)
        prose = "\n".join(line for line in text.splitlines() if not line.startswith("    "))
        assert not re.search(r"^#|`|\]\(", prose, re.MULTILINE), topic
        assert max(len(line) for line in text.splitlines()) <= 110, topic
        assert text.count("]]") == manual.page(topic).count("]]"), f"{topic}: the name of a table is whole"
        assert text.count("[[") == text.count("]]"), topic
    assert manual.plain("drilling").startswith("DRILLING: TEMPLATE, PLAN, JIG AND GUIDE\n\n    mockup new tidewater\n")


def test_help_lists_shows_and_refuses(capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["help"], prog_name="mockup", standalone_mode=False)
    assert "drilling" in capsys.readouterr().out
    cli.main(["help", "safety"], prog_name="mockup", standalone_mode=False)
    assert capsys.readouterr().out == manual.plain("safety")
    with pytest.raises(mockup.InputError, match=r"help: there is no page 'drill'; did you mean 'drilling'\?"):
        cli.main(["help", "drill"], prog_name="mockup", standalone_mode=False)


def test_pages_are_packed_with_the_package() -> None:
    packed = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]["mockup"]
    assert "manual/*.md" in packed
