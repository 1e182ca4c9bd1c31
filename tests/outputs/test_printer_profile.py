"""A printer's own ICC profile through the decal sheet: embedded whole, and colours the same to those that read it.

The profile is of the printer class, with tables both ways, for a made-up printer: RGB of gamma 1.6 in primaries
wider than sRGB's. Its readers are pypdf and PDFium (pages) and Pillow (pictures).
"""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Sequence

import numpy as np
import pypdf
import pypdfium2
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageCms

from mockup import api
from mockup.model.design import Design
from mockup.outputs import sheet

Floats = NDArray[np.float64]

D50 = np.array([0.9642, 1.0, 0.8249])  # ICC.1:2022 7.2.16
GAMMA = 1.6
PRIMARIES = np.array([[0.6097, 0.2053, 0.1492], [0.3111, 0.6257, 0.0632], [0.0195, 0.0609, 0.7446]])
"""Columns are red, green, blue in D50 XYZ, scaled below to add up to white; wider than sRGB's, from memory."""
TO_XYZ = PRIMARIES * np.linalg.solve(PRIMARIES, D50)
PATCHES = ((255, 255, 255), (0, 0, 0), (128, 128, 128), (200, 60, 40), (60, 160, 80), (40, 60, 170), (240, 200, 60))
PATCH_PX = 40
LAYOUT = """
[box]
size = "112x60x31"
[finish]
paint = "#c8a23a"
[[decal]]
art = "art.png"
"""


def _lab(xyz: Floats) -> Floats:
    ratio = xyz / D50
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)  # CIE 15, L*a*b*
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def _xyz(lab: Floats) -> Floats:
    y = (lab[..., 0] + 16) / 116
    f = np.stack([y + lab[..., 1] / 500, y, y - lab[..., 2] / 200], axis=-1)
    return np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * D50


def _table(side: int, values: Callable[[Floats], Floats]) -> bytes:
    """Return a lut16Type (ICC.1:2001-04 6.5.7) of three channels into three, straight curves round one grid."""
    steps = np.linspace(0.0, 1.0, side)
    grid = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1)
    codes = np.rint(np.clip(values(grid), 0.0, 1.0) * 65535).astype(">u2").tobytes()
    unit = b"".join(struct.pack(">i", round(each * 65536)) for each in np.eye(3).ravel())
    straight = struct.pack(">HH", 0, 65535) * 3
    return b"mft2\0\0\0\0" + bytes((3, 3, side, 0)) + unit + struct.pack(">HH", 2, 2) + straight + codes + straight


def _from_pcs(code: Floats) -> Floats:
    """Return CIELAB of 16-bit codes as shares of 65535: 0xFF00 is L* 100, 0x8000 is a* 0 (ICC.1:2001-04 A.4)."""
    return code * 65535 / 256 * (100 / 255, 1, 1) - (0, 128, 128)


def _to_pcs(lab: Floats) -> Floats:
    return (lab + (0, 128, 128)) * 256 / 65535 * (255 / 100, 1, 1)


def printer_profile() -> bytes:
    """Return the profile's bytes (version 2, class prtr, RGB, connection space Lab)."""

    def read(rgb: Floats) -> Floats:
        return _to_pcs(_lab(rgb**GAMMA @ TO_XYZ.T))

    def printed(code: Floats) -> Floats:
        return np.clip(_xyz(_from_pcs(code)) @ np.linalg.inv(TO_XYZ).T, 0.0, 1.0) ** (1 / GAMMA)

    back, forth = _table(17, read), _table(33, printed)
    white = b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(each * 65536)) for each in D50)
    words = b"desc\0\0\0\0" + struct.pack(">I", 13) + b"made-up inkjet"[:12] + b"\0" + b"\0" * 78
    tags: Sequence[tuple[bytes, bytes]] = [
        (b"desc", words),
        (b"cprt", b"text\0\0\0\0none\0"),
        (b"wtpt", white),
        *((name, back) for name in (b"A2B0", b"A2B1")),
        *((name, forth) for name in (b"B2A0", b"B2A1")),
    ]
    index, body, start = struct.pack(">I", len(tags)), b"", 128 + 4 + 12 * len(tags)
    for name, data in tags:
        index += name + struct.pack(">II", start + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    head = struct.pack(">I4sI4s4s4s", start + len(body), b"\0" * 4, 0x02400000, b"prtr", b"RGB ", b"Lab ")
    head += b"\0" * 12 + b"acsp" + b"\0" * 28 + white[8:]
    return head.ljust(128, b"\0") + index + body


@pytest.fixture(scope="module")
def icc() -> bytes:
    data = printer_profile()
    profile = ImageCms.ImageCmsProfile(io.BytesIO(data)).profile
    assert (profile.device_class, profile.xcolor_space.strip(), profile.connection_space.strip()) == (
        "prtr",
        "RGB",
        "Lab",
    )
    return data


@pytest.fixture(scope="module")
def design() -> Design:
    pixels = np.repeat(np.array(PATCHES, np.uint8)[None], PATCH_PX, axis=1).reshape(1, -1, 3)
    out = io.BytesIO()
    Image.fromarray(np.repeat(pixels, PATCH_PX, axis=0)).save(out, "PNG", dpi=(300, 300))
    return api.loads(LAYOUT, {"art.png": out.getvalue()})


def made(design: Design, name: str, icc: bytes | None) -> bytes:
    given = None if icc is None else ("inkjet.icc", icc)
    (data,) = sheet.make(design, sheet.Options(output=name, page="100x150", icc=given)).files.values()
    return data


def test_page_holds_the_profile_whole_and_its_own_numbers(design: Design, icc: bytes) -> None:
    (image,) = pypdf.PdfReader(io.BytesIO(made(design, "s.pdf", icc))).pages[0]["/Resources"]["/XObject"].values()
    stream = image.get_object()
    assert stream["/ColorSpace"][0] == "/ICCBased"
    assert stream["/ColorSpace"][1].get_object().get_data() == icc
    got = np.frombuffer(stream.get_data(), np.uint8).reshape(PATCH_PX, -1, 3)[PATCH_PX // 2, PATCH_PX // 2 :: PATCH_PX]
    # By hand: sRGB's D50 XYZ (IEC 61966-2-1 and Bradford, rounded as ICC profiles hold it) into the printer's RGB.
    srgb = np.array([[0.4360, 0.3851, 0.1431], [0.2225, 0.7169, 0.0606], [0.0139, 0.0971, 0.7141]])
    code = np.array(PATCHES) / 255
    linear = np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)
    wanted = np.clip(linear @ srgb.T @ np.linalg.inv(TO_XYZ).T, 0, 1) ** (1 / GAMMA) * 255
    assert got.astype(float) == pytest.approx(wanted, abs=3.0)  # 33 grid steps and 8 bits
    assert np.abs(got.astype(float) - PATCHES).max() > 15  # it is no sRGB
    assert tuple(got[0]) == (255, 255, 255)  # bare film


@pytest.mark.parametrize("has_profile", [True, False], ids=["printer's", "sRGB"])
def test_page_shows_the_arts_colours(design: Design, icc: bytes, has_profile: bool) -> None:
    """PDFium reads the profile and draws the page for a screen: there the art has its own colours again."""
    document = pypdfium2.PdfDocument(made(design, "s.pdf", icc if has_profile else None))
    page = document[0]
    (image,) = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE])
    left, bottom, right, top = (each / 72 * 300 for each in image.get_bounds())
    drawn = page.render(scale=300 / 72, rev_byteorder=True).to_numpy()[..., :3]
    high = page.get_height() / 72 * 300
    document.close()
    if right - left > top - bottom:
        row = round(high - (top + bottom) / 2)
        seen = [drawn[row, round(left + (i + 0.5) * PATCH_PX)] for i in range(len(PATCHES))]
    else:
        column = round((left + right) / 2)
        seen = [drawn[round(high - top + (i + 0.5) * PATCH_PX), column] for i in range(len(PATCHES))]
    assert np.array(seen, float) == pytest.approx(np.array(PATCHES, float), abs=5.0)


def test_picture_holds_the_profile_whole(design: Design, icc: bytes) -> None:
    data = made(design, "s.png", icc)
    assert data.count(b"iCCP") == 1 and b"sRGB" not in data[:200]
    with Image.open(io.BytesIO(data)) as image:
        assert image.info["icc_profile"] == icc
        profile = ImageCms.ImageCmsProfile(io.BytesIO(image.info["icc_profile"]))
        shown = np.asarray(ImageCms.profileToProfile(image, profile, ImageCms.createProfile("sRGB"), outputMode="RGB"))
    plain = made(design, "s.png", None)
    assert b"sRGB" in plain[:200] and b"iCCP" not in plain
    with Image.open(io.BytesIO(plain)) as image:
        wanted = np.asarray(image.convert("RGB"))
    assert shown.shape == wanted.shape
    for patch in PATCHES:
        is_patch = (wanted == patch).all(axis=2)
        assert is_patch.sum() >= PATCH_PX * PATCH_PX
        assert np.median(shown[is_patch], axis=0) == pytest.approx(np.array(patch, float), abs=5.0)
