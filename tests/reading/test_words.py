"""Lettering is found, read and measured on every ground; what is no lettering is not. Places are as they were drawn."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

sys.path.append(str(Path(__file__).parent))  # for sheets_of_words, which is no test
from sheets_of_words import DPI, Sheet, found, negatives, places, positives, read

from mockup.memo import MEMORY
from mockup.reading import letters, network
from mockup.reading.words import Word, is_word, shrink_of, words

SHEETS = {each.name: each for each in (*positives(), *negatives())}
IN_SUITE = ("pale bars", "white", "photo")  # the long table: tests/bench/lettering.py


def test_the_model_is_here() -> None:
    assert network.unavailable() == ""


@pytest.mark.parametrize("name", IN_SUITE)
def test_words_are_read_on_every_ground(name: str) -> None:
    sheet = SHEETS[name]
    assert len(found(sheet)) >= len(sheet.places) - 1
    assert len(read(sheet)) <= len(sheet.places)


def test_words_that_stand_on_their_head_are_read() -> None:
    """Such as the names of jacks behind the pedal, for whoever bends over it."""
    upright, pixels = read(SHEETS["pale bars"]), SHEETS["pale bars"].art.pixels
    over = type(SHEETS["pale bars"].art)(name="over", pixels=np.ascontiguousarray(pixels[::-1, ::-1]))
    turned = words(over, shrink_of(DPI / 25.4))
    assert sorted(each.text for each in turned) == sorted(each.text for each in upright)
    assert [each.box.turn_deg for each in turned] == pytest.approx([180.0] * len(upright), abs=2)
    for each, other in zip(reversed(turned), upright, strict=True):
        assert each.text == other.text
        assert each.box.x == pytest.approx(pixels.shape[1] - other.box.x, abs=2)
        assert each.box.y == pytest.approx(pixels.shape[0] - other.box.y, abs=2)


@pytest.mark.parametrize("name", [each for each in SHEETS if each.startswith("no words")][1:])
def test_what_is_no_lettering_is_not_read(name: str) -> None:
    assert [each.text for each in read(SHEETS[name])] == []


def test_a_box_is_as_large_as_the_letters() -> None:
    """Capitals were drawn 2.6 mm high: within two pixels of 300 dpi, by the alpha that they were drawn with."""
    sheet = SHEETS["pale bars"]
    for word in read(sheet):
        if word.text.isupper() and not set(word.text) & set("OUSG"):  # round letters stand over
            assert word.box.height / DPI * 25.4 == pytest.approx(2.6, abs=2 * 25.4 / DPI)


@pytest.mark.parametrize(
    ("text", "sure", "wanted"),
    [("GAIN", 0.71, True), ("GAIN", 0.6, False), ("ON", 0.75, False), ("ON", 0.85, True), ("IO", 0.9, False)]
    + [("OOO", 0.9, False), ("10", 0.92, False), ("10", 0.94, True), ("A", 0.99, False), ("音量", 0.99, False)],
)
def test_what_counts_as_a_word(text: str, sure: float, wanted: bool) -> None:
    assert is_word(text, sure) is wanted


class Box(dict[tuple[str, str], bytes]):
    """A shelf in memory."""

    def recall(self, maker: str, of: str) -> bytes | None:
        return self.get((maker, of))

    def keep(self, maker: str, of: str, body: bytes) -> None:
        self[maker, of] = body


def test_what_was_read_is_kept_and_not_read_again(monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Box()
    monkeypatch.setattr(MEMORY, "shelf", shelf)
    art = Sheet("bare", next(positives()).art, places()).art
    small = type(art)(name=art.name, pixels=np.ascontiguousarray(art.pixels[: len(art.pixels) // 4]))
    first = words(small, 0.68)
    assert len(shelf) == 1
    MEMORY.clear()
    monkeypatch.setattr(network, "find", lambda _: pytest.fail("read again"))
    again = words(small, 0.68)
    assert [plain(each) for each in again] == [plain(each) for each in first] != []


def plain(word: Word) -> tuple[object, ...]:
    box = word.box
    return word.text, word.sure, box.x, box.y, box.width, box.height, box.turn_deg, word.mask.tobytes()


def test_without_the_model_nothing_is_read_and_it_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    from art_desk import Desk, decal, pedal, run

    monkeypatch.setattr(network, "_WEIGHTS", "no_such_package")
    network._networks.cache_clear()
    try:
        assert "no_such_package" in network.unavailable()
        (told,) = run(pedal(decal(Desk(150).text("DRIVE", 29, 46))), ["unread_lettering"])
        assert told.severity == "note"
        assert told.title == "Lettering was not read"
    finally:
        network._networks.cache_clear()
        MEMORY.clear()


def test_the_plate_round_a_word_is_not_taken_for_its_letters() -> None:
    """Letters and their plate read alike; the letters are the ones that do not fill their box."""
    block = np.ones((40, 160), np.bool_)
    for left in (12, 62, 112):
        block[8:32, left : left + 30] = False  # three letters as holes
    assert list(letters._inner(np.pad(block, 12))) == []
    assert len(list(letters._inner(np.pad(~block, 12)))) == 1


def test_heavy_letters_by_themselves_are_no_plates() -> None:
    """A B of 40 by 56 pixels whose bowls are holes of 20 by 14: its own box, to the pixel on either side."""
    sheet = np.full((120, 100, 3), 255, np.uint8)
    sheet[32:88, 30:70] = 20
    sheet[40:54, 40:60] = sheet[64:78, 40:60] = 255
    quad = network.Quad(x=50.0, y=60.0, width=40.0, height=56.0)
    found = letters.nearest(Image.fromarray(sheet), quad)
    assert found is not None
    assert (found.box.width, found.box.height) == pytest.approx((40.0, 56.0), abs=2.0)
