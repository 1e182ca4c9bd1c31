"""A page of a pedal that cannot be built says so: template, sheet and jig, from Python and the command line."""

import io
import zipfile

import numpy as np
import pypdf
import pytest
from command import typed

import mockup
from mockup.encode.png import png
from mockup.outputs.pages.open_stops import mark

STOP = """
[box]
size = "112x60x31"
[finish]
paint = "white"
[[part]]
name = "A"
kind = "pot-16"
left = 20
top = 25
[[part]]
name = "B"
kind = "pot-16"
left = 28
top = 25
[[decal]]
art = "art.png"
width = 20
top = 70
"""
SOUND = STOP.replace("left = 28", "left = 42")


ACCEPTED = STOP + "".join(
    f"""
[[accept]]
check = "{check}"
subjects = ["A", "B"]
why = "One of them is left out at the bench"
"""
    for check in ("bodies", "knob-gaps", "knob-overlaps", "seats")
)


def design(text):
    ink = np.zeros((480, 480, 4), np.uint8)
    ink[80:400, 80:400] = (20, 20, 20, 255)
    return mockup.loads(text, {"art.png": png(ink, dpi=600)})


def stops(text):
    return sum(each.severity == "stop" for each in mockup.check(design(text)))


def words(result):
    pages = pypdf.PdfReader(io.BytesIO(next(iter(result.files.values())))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_layouts_are_what_they_are_for():
    assert stops(STOP) >= 1  # two 16 mm pots 8 mm apart stand in one place
    assert stops(SOUND) == 0


@pytest.mark.parametrize(("count", "said"), [(0, ""), (1, "with 1 open stop"), (2, "with 2 open stops")])
def test_it_counts_as_one_counts(count, said):
    assert mark(count) == said


@pytest.mark.parametrize("name", ["template", "sheet", "jig"])
def test_an_accepted_stop_is_not_open(name):
    assert stops(ACCEPTED) >= stops(STOP)  # the checks still find them; open, what has one cause is one
    assert all(each.accepted for each in mockup.check(design(ACCEPTED)) if each.severity == "stop")
    made = getattr(mockup, name)(design(ACCEPTED))
    assert not any("open stop" in note for note in made.notes)
    if name != "jig":
        assert "open stop" not in words(made).casefold()


@pytest.mark.parametrize("name", ["template", "sheet"])
def test_pages_say_how_many_stops_are_open(name):
    count = stops(STOP)
    made = getattr(mockup, name)(design(STOP))
    assert mark(count).casefold() in words(made).casefold()
    assert any(mark(count) in note for note in made.notes)
    sound = getattr(mockup, name)(design(SOUND))
    assert "open stop" not in words(sound).casefold()
    assert not any("open stop" in note for note in sound.notes)


def test_tiled_paper_says_it_in_its_column_too():
    made = mockup.template(design(STOP), page="140x200", faces="each")
    pages = pypdf.PdfReader(io.BytesIO(next(iter(made.files.values())))).pages
    for page in pages:
        assert "open stop" in " ".join(page.extract_text().split())


def test_a_jig_is_engraved_with_it_and_named_after_it():
    count = stops(STOP)
    made = mockup.jig(design(STOP), output="x.3mf")
    assert f"{count} STOP{'' if count == 1 else 'S'} OPEN" in made.facts["engraved"]
    with zipfile.ZipFile(io.BytesIO(made.files["x.3mf"])) as packed:
        model = next(name for name in packed.namelist() if name.endswith(".model"))
        assert mark(count) in packed.read(model).decode()
    assert not any("OPEN" in word for word in mockup.jig(design(SOUND), output="x.3mf").facts["engraved"])


@pytest.mark.slow
def test_the_command_line_says_it_too(tmp_path):
    (tmp_path / "layout.toml").write_text(STOP[: STOP.index("[[decal]]")])
    done = typed("template", "layout.toml", "-o", "page.pdf", cwd=tmp_path)
    assert "open stop" in done.stderr
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "page.pdf").pages)
    assert "open stop" in " ".join(text.split())
