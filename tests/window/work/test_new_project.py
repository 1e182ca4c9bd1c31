"""A new pedal: its folder's name suits every system, its layout is read back as it was chosen, examples are copied."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

import mockup
from mockup import files
from mockup.enclosure.sizes import SIZES
from mockup.layout.starter import bare_text
from mockup.model.enclosure import Enclosure
from mockup.model.errors import OutputError
from mockup.window.work import new_project
from mockup.window.work.new_project import begin, free_folder, pedal_name, shelf_folder, take_apart

SHELL = (231 / 255, 205 / 255, 198 / 255)


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Chalk River", "Chalk River"),
        ("A/B: <two> \\ sides?", "A B two sides"),  # what Windows forbids in names
        ("  ...  ", "My pedal"),
        ("NUL", "NUL pedal"),  # a device's name on Windows
        ("Räuber – 3", "Räuber – 3"),
        ("", "My pedal"),
    ],
)
def test_folders_are_called_after_the_pedal(tmp_path, name, folder):
    assert free_folder(tmp_path, name) == tmp_path / folder
    (tmp_path / folder).mkdir()
    assert free_folder(tmp_path, name) == tmp_path / f"{folder} 2"


@given(name=st.text(max_size=200))
def test_any_name_makes_a_folder_inside_its_parent(tmp_path_factory, name):
    parent = tmp_path_factory.getbasetemp()
    folder = free_folder(parent, name)
    assert folder.parent == parent
    assert folder.name
    assert not set(folder.name) & set('<>:"/\\|?*')


@pytest.mark.parametrize("size", [*SIZES])
def test_a_bare_box_is_read_back_as_it_was_chosen(tmp_path, size):
    layout = begin('Say "hi"\n', bare_text('Say "hi"', size, SHELL), tmp_path)
    design = mockup.load(layout)
    assert design.name == 'Say "hi"'
    assert design.parts == ()
    assert (design.enclosure.length_mm, design.enclosure.width_mm) == (SIZES[size].length_mm, SIZES[size].width_mm)
    assert design.finish.paint == pytest.approx(SHELL)
    assert begin("Say", bare_text("Say", size, SHELL), tmp_path).parent.name == "Say"


def test_own_measures_in_inches_are_written_in_inches(tmp_path):
    box = Enclosure(length_mm=127.0, width_mm=76.2, height_mm=38.1)  # 5 x 3 x 1 1/2 in, 25.4 mm each
    layout = begin("Own", bare_text("Own", box, SHELL, "in"), tmp_path)
    raw = tomllib.loads(layout.read_text())
    assert (raw["units"], raw["box"]) == ("in", {"length": 5.0, "width": 3.0, "height": 1.5})
    design = mockup.load(layout)
    read = (design.enclosure.length_mm, design.enclosure.width_mm, design.enclosure.height_mm)
    assert read == pytest.approx((127.0, 76.2, 38.1))


def test_where_pedals_go_is_remembered(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "documents_folder", lambda: tmp_path / "Documents")
    assert shelf_folder() == tmp_path / "Documents" / "Pedals"
    (tmp_path / "bench").mkdir()
    new_project.remember_shelf_folder(tmp_path / "bench")
    assert shelf_folder() == tmp_path / "bench"
    (tmp_path / "bench").rmdir()  # a stick that was pulled out
    assert shelf_folder() == tmp_path / "Documents" / "Pedals"
    files.write_all({files.places_file(): b"[]"})
    assert shelf_folder() == tmp_path / "Documents" / "Pedals"


def test_every_example_is_taken_apart_as_a_whole(tmp_path):
    layouts = files.example_layouts()
    assert len(layouts) >= 15
    for layout in layouts:
        copy = take_apart(layout, tmp_path)
        assert copy.parent.name == pedal_name(layout)
        assert copy.read_bytes() == layout.read_bytes()
        mine, theirs = mockup.load(copy), mockup.load(layout)
        assert [each.art.name for each in mine.decals] == [each.art.name for each in theirs.decals]
        assert not list(copy.parent.glob("*.py"))
    assert take_apart(layouts[0], tmp_path).parent.name == f"{pedal_name(layouts[0])} 2"


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(OutputError):
        begin("X", bare_text("X", "92x38x31", SHELL), tmp_path / "file")
