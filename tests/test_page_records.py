"""What a page in hand shows: today's design, a former one and what changed since, and what is kept to tell it."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

import mockup
from mockup import files, records
from mockup.fingerprint import SIGNS, fingerprint, is_slip, readings

LAYOUT = """name = "Marked"
[box]
size = "112x60x31"
[[part]]
name = "TONE"
kind = "pot-16"
left = 20
top = 30
[variants.blue]
finish.paint = "blue"
[variants.wide]
box.width = 62
"""


@pytest.fixture
def place(tmp_path: Path) -> Path:
    path = tmp_path / "layout.toml"
    path.write_text(LAYOUT)
    return path


def _printed(place: Path, variant: str | None = None) -> str:
    made = mockup.template(place, variant=variant, output=str(place.parent / "t.svg"))
    mockup.save(made)
    return str(made.facts["design"])


def test_a_page_is_known_and_what_changed_since_is_said(place: Path) -> None:
    mark = _printed(place)
    told = mockup.which(f"{mark[:3].lower()} {mark[3:]}", place)
    assert told.variants == (None, "blue")  # another paint leaves every page right
    place.write_text(LAYOUT.replace("left = 20", "left = 20.5"))
    told = mockup.which(mark, place.parent)
    assert not told.is_today and told.is_known and told.variant is None
    assert told.today == fingerprint(mockup.load(place))
    assert any("0.5 mm to the right" in each for each in told.changes), told.changes
    assert mockup.which(told.today, place).is_today


def test_a_page_of_a_variant_is_compared_with_that_variant(place: Path) -> None:
    mark = _printed(place, "wide")
    place.write_text(LAYOUT.replace("width = 62", "width = 63"))
    told = mockup.which(mark, place)
    assert told.variant == "wide" and len(told.changes) == 1 and "62" in told.changes[0] and "63" in told.changes[0]


def test_art_that_is_another_file_is_named(place: Path, tmp_path: Path) -> None:
    from PIL import Image

    place.write_text(LAYOUT.replace("[[part]]", '[[decal]]\nart = "a.png"\n[[part]]', 1))
    Image.new("RGB", (300, 300), "red").save(tmp_path / "a.png", dpi=(300, 300))
    mark = _printed(place)
    Image.new("RGB", (300, 300), "green").save(tmp_path / "a.png", dpi=(300, 300))
    assert mockup.which(mark, place).changes == ("a.png is another file now, or is gone",)
    (tmp_path / "a.png").unlink()
    place.write_text(LAYOUT)
    assert mockup.which(mark, place).changes[0] == "a.png is another file now, or is gone"


def test_records_are_written_once_and_by_two_at_a_time(place: Path) -> None:
    designs = [mockup.load(place, each) for each in (None, "wide")]
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda index: records.keep(place, [designs[index % 2]]), range(8)))
    folder = place.parent / records.FOLDER
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}
    assert {path.stem for path in before} == {fingerprint(each) for each in designs}
    records.keep(place, designs)
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()} == before


def test_pictures_examples_and_places_that_take_nothing_leave_no_record(place: Path, monkeypatch) -> None:
    design = mockup.load(place)
    records.keep(files.example_layouts()[0], [design])
    assert not (files.example_layouts()[0].parent / records.FOLDER).exists()
    (place.parent / records.FOLDER).write_text("a file where the folder would be")
    records.keep(place, [design])
    assert records.kept(place) == {}


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": 1}', '{"format": 9, "variant": 1}'])
def test_what_is_no_record_is_passed_over(place: Path, text: str) -> None:
    mark = _printed(place)
    (place.parent / records.FOLDER / f"{mark}.json").write_text(text)
    assert records.kept(place) == {}
    assert mockup.which(mark, place).is_today


def test_signs_that_look_alike_are_read_and_a_wrong_one_is_said(place: Path) -> None:
    mark = fingerprint(mockup.load(place))
    assert all(mark in readings(mark.replace(own, other)) for own, other in (("D", "O"), ("7", "1"), ("3", "8")))
    place_of = next(index for index, sign in enumerate(mark) if sign != SIGNS[0])
    wrong = mark[:place_of] + SIGNS[0] + mark[place_of + 1 :]
    assert readings(wrong) == () and is_slip(wrong, mark)
    with pytest.raises(mockup.InputError, match=f"do you mean {mark}"):
        mockup.which(wrong, place)
    with pytest.raises(mockup.InputError, match="has 3 signs, expected 6"):
        mockup.which("K7Q", place)


def test_another_pedals_page_is_said_to_be_unknown(place: Path) -> None:
    told = mockup.which("222222", place)
    assert not told.is_known and not told.is_today and told.changes == ()
