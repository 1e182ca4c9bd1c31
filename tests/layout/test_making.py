"""What the builder writes down for the next one: purpose, own words, credits, further files."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.checks.report.run import run
from mockup.checks.report.sentences import what
from mockup.encode.document import Paragraph, TextTable
from mockup.layout.parse import parse
from mockup.layout.resolve import resolve
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.model.finish import Artwork
from mockup.model.making import Credit, Making
from mockup.outputs.pages.making_words import making_sections

ART = '[box]\nsize = "112x60x31"\n[[decal]]\nart = "art.png"\nwidth = 20\n'
SALE = '[making]\npurpose = "for sale"\n'
CREDIT = '[[credit]]\nfile = "art.png"\n'


def made(text: str) -> Making:
    """Return what a layout of one picture says of its making."""
    return _design(text).making


def _design(text: str) -> Design:
    blank = Artwork(name="art.png", pixels=np.zeros((20, 20, 4), np.uint8), dpi=None)
    return resolve(parse(ART + text, "layout.toml"), {"art.png": blank})


def test_every_file_of_the_pedal_has_a_credit_said_or_not():
    told = made(
        '[making]\npaint = "teal, batch 7"\ncoats = """two of primer\n\n  three of paint"""\n'
        'suppliers = ["box: the shop at the corner", "film: by post"]\nfiles = ["board.pdf"]\n'
        + CREDIT
        + 'source = "an old atlas"\nauthor = "N. N."\nterms = "in the public domain"\n'
    )
    assert told.purpose is None
    assert told.words == {
        "paint": ("teal, batch 7",),
        "coats": ("two of primer", "three of paint"),
        "suppliers": ("box: the shop at the corner", "film: by post"),
    }
    drawn = Credit(file="art.png", source="an old atlas", author="N. N.", terms="in the public domain")
    assert told.credits == (drawn, Credit(file="board.pdf"))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            '[making]\npurpose = "sale"',
            "layout.toml: [making] purpose: unknown name \"sale\"; did you mean 'for sale'?",
        ),
        ("[making]\npaint = 7", "layout.toml: [making] paint: expected text, or a list of lines, found 7"),
        ('[making]\npaint = " "', "layout.toml: [making] paint: expected text, found nothing between the quotes"),
        ("[making]\npaint = []", "layout.toml: [making] paint: expected text, found nothing between the quotes"),
        (
            '[[credit]]\nfile = "arf.png"',
            'layout.toml: [[credit]] "arf.png" file: the layout names no file "arf.png"; did you mean \'art.png\'?',
        ),
        (
            CREDIT + CREDIT,
            'layout.toml: [[credit]] "art.png" file: "art.png" has a credit already; write all of it in one table',
        ),
        ('[[credit]]\nsource = "x"', "layout.toml: [[credit]] 1 file: missing"),
    ],
)
def test_each_mistake_gives_exactly_this_line(text, line):
    with pytest.raises(InputError) as caught:
        _design(text)
    assert str(caught.value) == line


@pytest.mark.parametrize(
    ("terms", "severity"),
    [
        ("", "note"),
        ("free for personal use", "warn"),
        ("CC BY-NC 4.0", "warn"),
        ("not for sale", "warn"),
        ("in the public domain", None),
        ("my own", None),
    ],
)
def test_a_sale_wants_terms_that_allow_it(terms, severity):
    said = CREDIT + (f'terms = "{terms}"\n' if terms else "")
    found = run(_design(SALE + said), ["terms"])
    assert [each.severity for each in found] == ([severity] if severity else [])
    assert all("art.png" in what(each, "mm") and (not terms or terms in what(each, "mm")) for each in found)
    assert not run(_design(said), ["terms"])  # for oneself nobody asks


def test_the_log_has_a_row_for_each_word_and_each_file():
    told = made(SALE + 'coats = ["two", "three"]\nfiles = ["a.pdf"]\n' + CREDIT + 'author = "me"\n')
    words, credits = making_sections(told)
    assert isinstance(words.blocks[0], TextTable) and isinstance(credits.blocks[0], TextTable)
    assert words.blocks[0].rows == (("Made", "for sale"), ("Coats", "two"), ("Coats", "three"))
    bare = "not written down"
    assert credits.blocks[0].rows == (("art.png", bare, "me", bare), ("a.pdf", bare, bare, bare))
    (none,) = making_sections(made(""))
    assert none.blocks == (Paragraph(text="Not written down, for art.png."),)
    assert making_sections(Making()) == ()
