"""Art and fonts come in through a process of their own: whatever a file does is one line, and the program goes on."""

from __future__ import annotations

import signal
import struct
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import mockup
from mockup import reader
from mockup.decal.pictures import artwork
from mockup.model.errors import InputError

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="30mm" viewBox="0 0 200 200">'


def svg(body: str) -> bytes:
    return f"{HEAD}{body}</svg>".encode()


@pytest.fixture(autouse=True)
def patient(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Give drawings three seconds, and forget afterwards what was fatal."""
    monkeypatch.setattr(reader, "DRAWING_S", 3.0)
    yield
    reader._fatal.clear()


def fault(data: bytes, name: str = "art.svg") -> str:
    with pytest.raises(InputError) as caught:
        reader.picture(data, name)
    (only,) = caught.value.faults
    assert "\n" not in str(only)
    return str(only)


def test_a_picture_is_the_same_as_when_read_here_and_the_same_object_each_time(examples: Path) -> None:
    data = (examples / "lantern_moth" / "art.png").read_bytes()
    there, here = reader.picture(data, "art.png"), artwork.decode(data, "art.png")
    assert (there.pixels == here.pixels).all()
    assert (there.name, there.dpi, there.notes) == (here.name, here.dpi, here.notes)
    assert reader.picture(bytes(bytearray(data)), "art.png") is there
    assert reader.is_known(data, "art.png")
    with pytest.raises(ValueError, match="read-only"):
        there.pixels[0, 0] = 0


def test_a_fault_is_told_as_it_is() -> None:
    assert fault(b"<svg") == "art.svg: is not well-formed SVG (line 1, column 1); export it again"


BOMBS = {
    "patterns": '<defs><pattern id="p0" width="1" height="1" patternUnits="userSpaceOnUse"><rect/></pattern>'
    + "".join(
        f'<pattern id="p{i}" width="1" height="1" patternUnits="userSpaceOnUse">'
        + f'<rect width="1" height="1" fill="url(#p{i - 1})"/>' * 10
        + "</pattern>"
        for i in range(1, 9)
    )
    + '</defs><rect width="200" height="200" fill="url(#p8)"/>',
    "filter": '<filter id="f"><feTurbulence baseFrequency=".5"/>'
    + '<feMorphology operator="dilate" radius="60"/>' * 20
    + '</filter><rect width="200" height="200" filter="url(#f)"/>',
}


@pytest.mark.slow
@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_is_stopped_told_in_one_line_and_not_tried_again(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reader, "DRAWING_S", 0.5)
    line = fault(svg(BOMBS[name]))
    assert line == "art.svg: cannot be drawn: it took longer than 0.5 s; export it as plain SVG or as PNG"
    monkeypatch.setattr(reader._WORKER, "ask_within", lambda *_: pytest.fail("it was tried again"))
    assert fault(svg(BOMBS[name])) == line


def test_nesting_has_a_limit_and_below_it_everything_is_drawn() -> None:
    """250 groups ended the program (SIGSEGV) while the library drew with the stack that threads usually have."""
    deep = '<g opacity="0.99">' * 400 + '<rect width="200" height="200"/>' + "</g>" * 400
    small = HEAD.replace("30mm", "1mm").replace("</svg>", "")
    assert reader.picture(f"{small}{deep}</svg>".encode(), "art.svg").pixels[8, 8, 3] > 0
    assert fault(svg("<g>" * 600 + "</g>" * 600)).startswith("art.svg: cannot be drawn: it nests 601 groups deep")
    assert "it nests 100001 groups deep" in fault(svg("<g>" * 100_000 + "</g>" * 100_000))


@pytest.mark.skipif(sys.platform == "win32", reason="no signals there")
@pytest.mark.parametrize(
    ("number", "words"),
    [(signal.SIGABRT, "needs more than 3 GB of memory"), (signal.SIGSEGV, "nested or refer to each other too deeply")],
)
def test_a_crash_is_one_line_and_the_next_file_is_read(
    number: int, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The crash is played: no file is known that still makes one."""
    worker = reader._WORKER
    real = worker.ask_within
    monkeypatch.setattr(worker, "ask_within", lambda seconds, *_: real(seconds, signal.raise_signal, number))
    assert words in fault(svg(f"<desc>{number}</desc>"))
    monkeypatch.undo()
    assert reader.picture(svg('<rect width="9" height="9"/>'), "art.svg").width_px == 709  # 30 mm at 600 dpi


def test_where_no_process_can_be_begun_it_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise OSError("no more processes")

    reader.stop()
    monkeypatch.setattr(subprocess, "Popen", refused)
    assert fault(svg("<desc>lonely</desc>")) == "art.svg: cannot be drawn: no process can be begun (no more processes)"
    monkeypatch.undo()
    assert reader.picture(svg("<desc>lonely</desc>"), "art.svg").width_px == 709


def test_a_font_comes_through_the_same_door() -> None:
    from mockup import fonts

    data = fonts.data(is_bold=True)
    face = reader.font(data, "bold.ttf")
    assert face.data == data
    assert face.units_per_em == struct.unpack_from(">H", data, data.index(b"\x5f\x0f\x3c\xf5") + 6)[0]  # head table
    with pytest.raises(InputError, match=r"^bad\.ttf: is not a font"):
        reader.font(data[:1000], "bad.ttf")


def test_python_and_its_threads_share_one_reader(examples: Path) -> None:
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(mockup.load, [examples / "lantern_moth" / "layout.toml"] * 4))
    assert len({id(each.decals[0].art) for each in found}) == 1
