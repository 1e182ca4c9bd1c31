"""What the command line can do, Python can: every output is a function, typed, and its defaults make sound files."""

from __future__ import annotations

import ast
import inspect
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

sys.path.append(str(Path(__file__).parent))  # for python_stub, which is no test
from python_stub import STUB, door, stub

import mockup
from mockup import api, calibrate
from mockup.cli import cli
from mockup.engines.gl.settings import EFFORTS
from mockup.files import CACHE_FOLDER
from mockup.model.errors import InputError
from mockup.options import UNASKED, option_fields, require_choices
from mockup.outputs import OUTPUTS, offers

pytestmark = pytest.mark.slow

NO_DOOR = {
    "view",
    "shortcut",
    "cache",
}  # the window is a door itself, the menu's entry leads to it; what is kept on disk is no builder's business
# `help` is a word of the language, `arrange` a room of the package, `built` says little without its verb
DOOR = {"help": "manual", "arrange": "propose", "built": "as_built"}

# How a file of each kind begins, by its format's own definition: PNG (ISO/IEC 15948 5.2), JPEG (ITU-T T.81 B.1.1.3),
# RIFF/WebP, GIF (GIF89a 17), PDF (ISO 32000 7.5.2), ZIP for 3MF (APPNOTE 4.3.7), glTF 2.0 binary header, XML, HTML.
MAGIC = {
    ".png": b"\x89PNG\r\n\x1a\n",
    ".jpg": b"\xff\xd8\xff",
    ".webp": b"RIFF",
    ".gif": b"GIF8",
    ".pdf": b"%PDF-",
    ".svg": b"<",
    ".3mf": b"PK\x03\x04",
    ".glb": b"glTF",
    ".html": b"<!DOCTYPE html>",
    ".md": b"# ",
}
QUICK = {
    "turntable": {"frames": 6},
    "log": {"frames": 6},
    "share": {"frames": 2, "size": (320, 240)},
}  # what else would take long
STL_HEAD, STL_FACE = 84, 50  # bytes of a binary STL's head and of each triangle; the count stands at byte 80


@pytest.fixture(scope="module")
def layout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small project as `mockup new` starts one: art, parts and a variant."""
    folder = tmp_path_factory.mktemp("doors") / "tidewater"
    mockup.new(folder)
    return folder / "layout.toml"


def test_every_command_is_a_function_or_a_module_of_them() -> None:
    commands = {DOOR.get(name, name).replace("-", "_") for name in cli.list_commands(None)}  # type: ignore[arg-type]
    assert commands - NO_DOOR - set(mockup.__all__) == set()
    asked = {name.replace("-", "_") for name in cli.get_command(None, "calibrate").list_commands(None)}  # type: ignore
    assert {name for name in asked if not callable(getattr(calibrate, name, None))} == {"list"}
    assert callable(calibrate.printers), "what `calibrate list` prints; list is a word of the language"


@pytest.mark.parametrize("name", cli.list_commands(None))  # type: ignore[arg-type]
def test_every_command_prints_its_help(name: str) -> None:
    done = CliRunner().invoke(cli, [name, "--help"])
    assert done.exit_code == 0, done.output
    assert done.output.startswith(f"Usage: cli {name} ")
    if name in OUTPUTS.names():
        for field in option_fields(OUTPUTS.load(name).Options):
            assert (field.flag in done.output) == (field.reads not in UNASKED)


@pytest.mark.parametrize("name", OUTPUTS.names())
def test_every_output_is_a_documented_function_with_its_options(name: str) -> None:
    made = getattr(mockup, name.replace("-", "_"))
    fields = option_fields(OUTPUTS.load(name).Options)
    assert fields, "an output has options: at least where it goes"
    assert callable(made)
    function = api.door(name) if inspect.ismodule(made) else made
    signature = inspect.signature(function)
    for field in fields:
        assert signature.parameters[field.name].default == field.default
        assert f"{field.name}: {field.help}" in str(function.__doc__)
        assert field.help.strip(), f"{field.flag} has no help"


@pytest.mark.parametrize("name", OUTPUTS.names())
def test_every_output_takes_its_defaults_and_refuses_what_is_no_choice(name: str) -> None:
    options = OUTPUTS.load(name).Options
    require_choices(options())
    for field in option_fields(options):
        if field.choices:
            wrong = ("no such",) if field.is_many else "no such"
            with pytest.raises(InputError, match=f"^{field.flag}: there is no .* 'no such'"):
                require_choices(options(**{field.name: wrong}))


def test_tools_see_the_types_of_every_function() -> None:
    """The stub says what the plug-ins say; one that is newer than the stub has the general type until it is renewed."""
    written = {
        each.name: ast.dump(each) for each in ast.parse(STUB.read_text()).body if isinstance(each, ast.FunctionDef)
    }
    renewed = {each.name: ast.dump(each) for each in ast.parse(stub()).body if isinstance(each, ast.FunctionDef)}
    stale = [name for name, text in written.items() if renewed.get(name) != text]
    assert not stale, "run: python tests/python_stub.py"
    assert "__getattr__" in written
    assert all(ast.parse(door(name)) for name in OUTPUTS.names())


def test_outputs_are_listed_with_their_options_for_a_window() -> None:
    listed = {each.name: each for each in offers()}
    assert set(listed) == set(OUTPUTS.names())
    template = {each.name: each for each in listed["template"].options}
    assert template["units"].choices == ("mm", "in")
    assert template["page"].default == "a4"
    assert all(each.about.endswith(".") for each in listed.values())


@pytest.mark.gl
@pytest.mark.slow
@pytest.mark.parametrize("name", OUTPUTS.names())
def test_every_output_makes_sound_files_of_its_defaults(
    name: str, layout: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A call of the Python door makes the plug-in with its defaults; pictures get a draft's work, a turn few frames."""
    monkeypatch.setenv(CACHE_FOLDER, str(tmp_path / "kept"))
    monkeypatch.setitem(EFFORTS, "normal", EFFORTS["draft"])
    monkeypatch.setattr("mockup.engines.gl.context.is_software", lambda: False)  # where stills are not path traced
    made = getattr(mockup, name.replace("-", "_"))(layout, **QUICK.get(name, {}))
    assert made.files, "nothing was made"
    assert made.facts
    for path, data in made.files.items():
        suffix = Path(path).suffix.lower()
        assert data, f"{path} is empty"
        if suffix == ".stl":
            assert len(data) == STL_HEAD + STL_FACE * int.from_bytes(data[80:84], "little") > STL_HEAD
        else:
            assert data.startswith(MAGIC.get(suffix, b"")), f"{path} does not begin as such a file does"
    written = mockup.save(made, tmp_path)
    assert [path.read_bytes() for path in written] == list(made.files.values())


def test_a_design_that_is_loaded_takes_no_variant(layout: Path) -> None:
    with pytest.raises(InputError, match=r"^--variant: goes with a layout file"):
        mockup.template(mockup.load(layout), variant="night")


def test_a_picture_is_asked_for_in_one_way_with_one_message() -> None:
    """The same mistake is answered in the same words, whichever door it comes through."""
    said = set()
    for command in (["still"], ["turntable"], ["log"], ["compare", "--view", "above"], ["compare", "--film", "clear"]):
        with pytest.raises(InputError) as caught:
            CliRunner().invoke(
                cli, [*command, "layout.toml", "--light", "bnch"], catch_exceptions=False, standalone_mode=False
            )
        said.add(str(caught.value).replace("light with a ground", "light"))
    with pytest.raises(InputError) as caught:
        mockup.PictureRequest(light="bnch")
    assert said == {str(caught.value)} == {"--light: there is no light 'bnch'; did you mean 'bench'?"}


def test_a_finding_is_said_and_mended_in_python() -> None:
    """Two holes of 7.5 mm whose middles are 8.5 mm apart leave 1 mm of metal, half of what is wanted."""
    text = 'name = "Pair"\n[box]\nsize = "112x60x31"\n'
    for name, left in (("A", 20), ("B", 28.5)):
        text += f'[[part]]\nname = "{name}"\nkind = "pot-16"\ntop = 30\nleft = {left}\n'
    (found,) = mockup.check(mockup.loads(text), ["webs"])
    assert mockup.sentences(found)[0].startswith("Thin metal between holes: the holes of A and B leave 1 mm ")
    assert " leave 0.039 in " in mockup.sentences(found, "in")[0]
    assert found.edits
    mended = mockup.apply(text, found.edits, "layout.toml")
    assert mended != text
    assert mockup.check(mockup.loads(mended), ["webs"]) == ()


def test_several_views_are_a_list_or_a_tuple_and_one_is_a_word() -> None:
    from mockup.picture.options import PictureRequest

    asked = [PictureRequest(view=views).view for views in ("above", ["above", "player"], ("above", "player"))]
    assert asked == [("above",), ("above", "player"), ("above", "player")]
