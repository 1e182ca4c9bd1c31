"""A small series: what each pedal's lettering says, and which mistakes are told."""

from __future__ import annotations

from importlib import resources

import pytest

import mockup
from mockup import api
from mockup.decal.typeface import Typeface, read
from mockup.layout.parse import parse
from mockup.layout.resolve import resolve
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.outputs.pages.making_words import making_sections

LETTERS = '[box]\nsize = "112x60x31"\n[lettering]\nfont = "face.ttf"\n[[label]]\ntext = "No. {serial} {who}"\n'
COPIES = (
    '[[copy]]\nto = "Ann"\ndate = 2026-11-28\nfields = { who = "A" }\n'
    '[[copy]]\nserial = "B7"\nfields = { who = "B" }\n'
    '[[copy]]\nfields = { who = "C" }\n'
)
FONT = (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()


@pytest.fixture(scope="module")
def face() -> Typeface:
    """Return a font."""
    return read(FONT, "face.ttf")


def _design(text: str, face: Typeface, copy: int = 0) -> Design:
    return resolve(parse(text, "layout.toml"), {}, fonts={"face.ttf": face}, copy=copy)


def test_each_copy_says_its_own(face: Typeface) -> None:
    made = [_design(LETTERS + COPIES, face, number) for number in range(3)]
    assert [each.labels[0].text for each in made] == ["No. 1 A", "No. B7 B", "No. 3 C"]
    assert all(each.making.is_numbered for each in made)
    assert not (made[0].decals[0].art.pixels == made[1].decals[0].art.pixels).all()
    (table,) = making_sections(made[0].making)[0].blocks
    assert table.head == ("Serial number", "Date", "To", "Who")
    assert table.rows == (("1", "2026-11-28", "Ann", "A"), ("B7", "", "", "B"), ("3", "", "", "C"))


def test_braces_are_letters_where_there_is_no_series(face: Typeface) -> None:
    plain = LETTERS.replace("No. {serial} {who}", "{X}")
    assert _design(plain, face).labels[0].text == "{X}"
    assert not _design(plain.replace("{X}", "SEA") + COPIES, face).making.is_numbered


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            LETTERS,
            'layout.toml: [[label]] "No. {serial} {who}" text: {serial} is filled in from [[copy]] tables, and there '
            "is none; write a [[copy]] table for each pedal of the series",
        ),
        (
            LETTERS + COPIES.replace('fields = { who = "C" }', ""),
            'layout.toml: [[label]] "No. {serial} {who}" text: copy 3 has nothing for {who}; add it to its fields; '
            "use one of: date, serial",
        ),
        (
            LETTERS.replace("who", "date") + COPIES,
            'layout.toml: [[label]] "No. {serial} {date}" text: copy 2 has nothing for {date}; give that copy a date',
        ),
        (
            LETTERS + COPIES.replace("B7", "3"),
            'layout.toml: [[copy]] 3 serial: another copy has the serial number "3"; give each copy a '
            "number of its own",
        ),
    ],
)
def test_each_mistake_gives_exactly_this_line(text: str, line: str, face: Typeface) -> None:
    with pytest.raises(InputError) as caught:
        _design(text, face)
    assert str(caught.value) == line


def test_the_sheet_has_one_decal_for_each_copy_or_none(tmp_path) -> None:
    layout = tmp_path / "layout.toml"
    layout.write_text(LETTERS + COPIES)
    (tmp_path / "face.ttf").write_bytes(FONT)
    with pytest.raises(InputError, match=r"has 3 \[\[copy\]\] tables, and 4 copies are asked for"):
        mockup.sheet(layout, copies=4)
    made = mockup.sheet(layout, copies=3, dpi=100, date="")
    assert len(made.facts["decals"]) == 3 and not made.facts["more_copies_fit"]
    assert made.made_of is not None and len(made.made_of.designs) == 1
    with pytest.raises(InputError, match="the copies differ in their lettering"):
        mockup.sheet(api.load(layout), copies=3)  # a design knows one copy: three alike would be wrong
