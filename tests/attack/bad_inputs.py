"""Bad inputs one by one: what each lays into a folder, and the command that meets it."""

from __future__ import annotations

import io
import os
import random
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from mutations import LAYOUT, SVG, picture

from mockup import archive

MANY = 20_000
CHECK = ("check", "layout.toml", "--only", "margins")


@dataclass(frozen=True, kw_only=True)
class Bad:
    """What is laid into a folder that holds a sound project, the command, and the status it must end with."""

    lay: Callable[[Path], None]
    args: tuple[str, ...] = CHECK
    status: int | None = 2
    out: str = ""


def _text(name: str, text: str | bytes) -> Callable[[Path], None]:
    data = text if isinstance(text, bytes) else text.encode("utf-8", "surrogateescape")
    return lambda folder: (folder / name).write_bytes(data) and None


def _layout(change: Callable[[str], str]) -> Callable[[Path], None]:
    return _text("layout.toml", change(LAYOUT))


def _fifo(name: str) -> Callable[[Path], None]:
    def lay(folder: Path) -> None:
        (folder / name).unlink(missing_ok=True)
        os.mkfifo(folder / name)

    return lay


def _link(name: str, target: str) -> Callable[[Path], None]:
    def lay(folder: Path) -> None:
        (folder / name).unlink(missing_ok=True)
        (folder / name).symlink_to(target)

    return lay


def _art(name: str, data: bytes) -> Callable[[Path], None]:
    def lay(folder: Path) -> None:
        (folder / name).write_bytes(data)
        (folder / "layout.toml").write_text(LAYOUT.replace("art.png", name))

    return lay


def _pack(names: tuple[str, ...], layout: str = "layout.toml") -> Callable[[Path], None]:
    return _text("sea.zip", archive.archive(dict.fromkeys(names, LAYOUT.encode()), layout))


def _bomb(folder: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        with zipped.open("layout.toml", "w", force_zip64=True) as entry:
            for _ in range(600):
                entry.write(bytes(2**20))
        zipped.writestr("manifest.json", "{}")
    (folder / "sea.zip").write_bytes(out.getvalue())


def _empty_folder(folder: Path) -> None:
    (folder / "empty").mkdir()


def _nothing(_folder: Path) -> None:
    pass


def _noise(seed: int, size: int) -> bytes:
    return random.Random(seed).randbytes(size)


_PNG = picture("PNG")
_UNPACK = ("unpack", "sea.zip", "-o", "back")
_SWEEP = ("compare", "layout.toml", "--paint", "paints.csv", "-o", "a.json")

BAD: dict[str, Bad] = {
    "sound": Bad(lay=_nothing, status=None),
    "no layout": Bad(lay=_nothing, args=("check", "none.toml")),
    "name with NUL's like": Bad(lay=_nothing, args=("check", "a\x01b.toml")),
    "name too long": Bad(lay=_nothing, args=("check", "x" * 5000)),
    "folder without a layout": Bad(lay=_empty_folder, args=("check", "empty")),
    "folder for a file": Bad(lay=_nothing, args=("unpack", ".")),
    "layout is a pipe": Bad(lay=_fifo("layout.toml")),
    "art is a pipe": Bad(lay=_fifo("art.png")),
    "parts are a pipe": Bad(lay=_fifo("parts.toml")),
    "paints are a pipe": Bad(lay=_fifo("paints.csv"), args=_SWEEP),
    "layout is a device": Bad(lay=_link("layout.toml", "/dev/zero")),
    "art is a device": Bad(lay=_link("art.png", "/dev/zero")),
    "parts are a device": Bad(lay=_link("parts.toml", "/dev/zero")),
    "layout links to itself": Bad(lay=_link("layout.toml", "layout.toml")),
    "art links to itself": Bad(lay=_link("art.png", "art.png")),
    "art links away": Bad(lay=_link("art.png", "/etc/hostname")),
    "nested lists": Bad(lay=_layout(lambda text: text + "x = " + "[" * MANY)),
    "one dotted key": Bad(lay=_layout(lambda text: "a." * MANY + "b = 1\n" + text)),
    "many dotted keys": Bad(lay=_layout(lambda text: "".join(f"a{i}.b = 1\n" for i in range(MANY)) + text)),
    "many faulty parts": Bad(lay=_layout(lambda text: text + "[[part]]\n" * MANY)),
    "4000 mistakes": Bad(lay=_layout(lambda text: text + "[[part]]\nx = 1\n" * 2_000)),
    "a long name": Bad(lay=_layout(lambda text: text.replace('"Sea"', '"' + "x" * 100_000 + '"'))),
    "a long key": Bad(lay=_layout(lambda text: "x" * 100_000 + " = 1\n" + text)),
    "a long number": Bad(lay=_layout(lambda text: text.replace("= 19", "= " + "9" * 5000))),
    "control characters": Bad(lay=_layout(lambda text: text.replace('"TONE"', '"\\u001b[2J\\u0007"'))),
    "not UTF-8": Bad(lay=_text("layout.toml", b"name = '\xe9'")),
    "UTF-16": Bad(lay=_text("layout.toml", LAYOUT.encode("utf-16"))),
    "empty layout": Bad(lay=_text("layout.toml", "")),
    "zeros": Bad(lay=_text("layout.toml", bytes(100_000))),
    "noise": Bad(lay=_text("layout.toml", _noise(1, 50_000))),
    "a picture as layout": Bad(lay=_text("layout.toml", _PNG)),
    "empty art": Bad(lay=_text("art.png", b"")),
    "noise as art": Bad(lay=_text("art.png", _noise(2, 50_000))),
    "half a picture": Bad(lay=_text("art.png", _PNG[: len(_PNG) // 2])),
    "a nested drawing": Bad(lay=_art("art.svg", SVG.replace("SEA", "").replace("<g ", "<g>" * 600 + "<g ").encode())),
    "a drawing with entities": Bad(
        lay=_art(
            "art.svg",
            (
                '<!DOCTYPE svg [<!ENTITY a "ha">'
                + "".join(f'<!ENTITY a{i} "{f"&a{i - 1 if i else str()};" * 10}">' for i in range(12))
                + ']><svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><text>&a11;</text></svg>'
            ).encode(),
        )
    ),
    "a wide filter": Bad(lay=_art("art.svg", SVG.replace('Deviation="3"', 'Deviation="1e9"').encode()), status=None),
    "a font that is none": Bad(
        lay=lambda folder: (
            _layout(lambda text: text + '[lettering]\nfont = "f.ttf"\nsize = 3\n[[label]]\ntext = "A"\n')(folder),
            _text("f.ttf", _noise(3, 9000))(folder),
        )[0]
    ),
    "an endless field": Bad(lay=_text("paints.csv", "Sea," + "#" * 300_000), args=_SWEEP),
    "many bad rows": Bad(lay=_text("paints.csv", "Sea, nocolour\n" * 5000), args=_SWEEP),
    "readings that are none": Bad(lay=_text("r.toml", LAYOUT), args=("calibrate", "fit", "r.toml", "--name", "x")),
    "a pack that is none": Bad(lay=_text("sea.zip", _noise(4, 9000)), args=_UNPACK),
    "a pack that climbs": Bad(lay=_pack(("layout.toml", "../up.txt")), args=_UNPACK),
    "a pack of twins": Bad(lay=_pack(("layout.toml", "é.png", "e\u0301.png")), args=_UNPACK),
    "a pack of cases": Bad(lay=_pack(("layout.toml", "a.png", "A.png")), args=_UNPACK),
    "a pack with a device": Bad(lay=_pack(("layout.toml", "aux.png")), args=_UNPACK),
    "a pack with a file for a folder": Bad(lay=_pack(("layout.toml", "a", "a/b")), args=_UNPACK),
    "a pack without a layout": Bad(lay=_pack(("art.png",)), args=_UNPACK),
    "a pack that swells": Bad(lay=_bomb, args=_UNPACK),
    "a pack over a project": Bad(lay=_pack(("layout.toml",)), args=("unpack", "sea.zip", "-o", ".")),
    "output is a folder": Bad(lay=_nothing, args=("template", "layout.toml", "-o", ".")),
    "output is a device": Bad(lay=_nothing, args=("template", "layout.toml", "-o", "/dev/null")),
    "output below a file": Bad(lay=_nothing, args=("template", "layout.toml", "-o", "art.png/a.pdf")),
    "output too long": Bad(lay=_nothing, args=("template", "layout.toml", "-o", "x" * 300 + ".pdf")),
    "output twice": Bad(lay=_nothing, args=("template", "layout.toml", "-o", "a/../a/./\x07.doc")),
    "a full disk behind print": Bad(lay=_nothing, out="/dev/full", status=None),
    "no such command": Bad(lay=_nothing, args=("x" * 5000,)),
    "no such option": Bad(lay=_nothing, args=("check", "layout.toml", "--" + "x" * 5000)),
    "a huge picture": Bad(lay=_nothing, args=("still", "layout.toml", "--size", "9" * 400 + "x1")),
}


def lay_sound(folder: Path) -> None:
    """Make a folder with a sound project in it."""
    folder.mkdir()
    (folder / "layout.toml").write_text(LAYOUT)
    (folder / "art.png").write_bytes(_PNG)


def raw_folder(root: Path) -> Path:
    """Return a sound project in a folder whose name is no text."""
    path = Path(os.fsdecode(os.fsencode(root) + b"/sea\xff\xfe\x1b[2J"))
    lay_sound(path)
    return path
