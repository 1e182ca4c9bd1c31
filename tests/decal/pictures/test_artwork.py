"""Art from files of every kind: what an image editor shows is what is printed; damage is one plain sentence."""

from __future__ import annotations

import subprocess
import sys
import zlib

import colour
import numpy as np
import picture_files as files
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, PngImagePlugin

from mockup.decal.pictures.artwork import decode
from mockup.model.errors import InputError

W, H = 24, 18


def picture(mode: str = "RGB") -> Image.Image:
    """Return a picture of four quarters: red, green, blue, and mid grey."""
    image = Image.new("RGB", (W, H), (128, 128, 128))
    image.paste((255, 0, 0), (0, 0, W // 2, H // 2))
    image.paste((0, 255, 0), (W // 2, 0, W, H // 2))
    image.paste((0, 0, 255), (0, H // 2, W // 2, H))
    return image.convert(mode)


QUARTERS = {(2, 2): (255, 0, 0), (2, W - 3): (0, 255, 0), (H - 3, 2): (0, 0, 255), (H - 3, W - 3): (128, 128, 128)}


def check_quarters(pixels: np.ndarray, tolerance: int = 0) -> None:
    assert pixels.shape == (H, W, 4)
    assert pixels.dtype == np.uint8
    for (row, column), expected in QUARTERS.items():
        assert np.abs(pixels[row, column, :3].astype(int) - expected).max() <= tolerance
    assert (pixels[..., 3] == 255).all()


def fault(data: bytes) -> str:
    with pytest.raises(InputError) as caught:
        decode(data, "art.png")
    (only,) = caught.value.faults
    assert only.file == "art.png"
    assert "\n" not in str(only)
    return str(only)


# --- formats and modes ----------------------------------------------------------------------------

LOSSLESS = {
    "png": files.saved(picture(), "PNG"),
    "png palette": files.saved(picture().quantize(), "PNG"),
    "png rgba": files.saved(picture("RGBA"), "PNG"),
    "webp": files.saved(picture(), "WEBP", lossless=True),
    "tiff": files.saved(picture(), "TIFF"),
    "tiff lzw": files.saved(picture(), "TIFF", compression="tiff_lzw"),
    "tiff deflate rgba": files.saved(picture("RGBA"), "TIFF", compression="tiff_adobe_deflate"),
    "gif": files.saved(picture().quantize(), "GIF"),
    "bmp": files.saved(picture(), "BMP"),
}


@pytest.mark.parametrize("name", LOSSLESS)
def test_lossless_formats_keep_every_pixel(name: str) -> None:
    art = decode(LOSSLESS[name], name)
    check_quarters(art.pixels)
    assert art.name == name
    assert art.notes == ()


def test_jpeg_is_near() -> None:
    check_quarters(decode(files.saved(picture(), "JPEG", quality=98, subsampling=0), "a.jpg").pixels, tolerance=4)


def test_bytes_decide_not_the_files_name() -> None:
    check_quarters(decode(LOSSLESS["bmp"], "art.jpeg").pixels)


def test_grey_of_one_two_and_eight_bits() -> None:
    grey = Image.linear_gradient("L").crop((100, 100, 130, 130))
    assert (decode(files.saved(grey, "PNG"), "a").pixels[..., 0] == np.asarray(grey)).all()
    one = grey.point(lambda value: 255 * (value > 115)).convert("1")
    for kind in ("PNG", "TIFF"):
        assert (decode(files.saved(one, kind), "a").pixels[..., 1] == np.asarray(one) * 255).all()
    two = files.png(16, 16, depth=2, colour=0, rows=bytes([0b00011011] * 4) * 16)  # 0, 1, 2, 3 of 3
    assert decode(two, "a").pixels[0, :4, 0].tolist() == [0, 85, 170, 255]


def test_sixteen_bit_grey_is_scaled_not_clipped() -> None:
    values = np.tile(np.array([0, 128, 129, 257, 32768, 65407, 65535, 1000], ">u2"), (16, 2))
    art = decode(files.png(16, 16, depth=16, colour=0, rows=values.tobytes()), "a")
    assert art.pixels[0, :8, 0].tolist() == [0, 0, 1, 1, 128, 255, 255, 4]  # value x 255 / 65535, by hand
    assert "16 bits" in art.notes[0]
    same = files.tiff(16, 16, values.astype("<u2").tobytes(), bits=[16], photometric=1)
    assert (decode(same, "a").pixels == art.pixels).all()


def test_sixteen_bit_grey_tiff_that_counts_from_white_is_turned_over() -> None:
    values = np.tile(np.array([0, 65535, 32768, 16384], "<u2"), (16, 4))
    art = decode(files.tiff(16, 16, values.tobytes(), bits=[16], photometric=0), "a")  # 0: WhiteIsZero, TIFF 6.0
    assert art.pixels[0, :4, 0].tolist() == [255, 0, 127, 191]  # (65535 - value) x 255 / 65535, by hand
    eight = files.tiff(16, 16, bytes([0, 255, 100, 16] * 64), bits=[8], photometric=0)
    assert decode(eight, "a").pixels[0, :4, 0].tolist() == [255, 0, 155, 239]


@pytest.mark.parametrize("channels", [3, 4])
def test_sixteen_bit_colour(channels: int) -> None:
    row = np.array([[65535, 0, 32768, 65535], [257, 514, 771, 32896]], np.uint16)[:, :channels]
    values = np.tile(row, (16, 8, 1))
    expected = (row // 257).tolist()
    for data in (
        files.png(16, 16, depth=16, colour={3: 2, 4: 6}[channels], rows=values.astype(">u2").tobytes()),
        files.tiff(
            16,
            16,
            values.astype("<u2").tobytes(),
            bits=[16] * channels,
            photometric=2,
            extra=[(338, 3, 2)] * (channels - 3),
        ),
    ):
        art = decode(data, "a")
        assert np.abs(art.pixels[0, :2, :channels].astype(int) - expected).max() <= 1
        assert "16 bits" in art.notes[0]


def test_ycbcr_tiff() -> None:
    # ITU-R BT.601 red: Y 76, Cb 85, Cr 255.
    data = files.tiff(16, 16, bytes([76, 85, 255]) * 256, bits=[8, 8, 8], photometric=6, extra=[(530, 3, 0x00010001)])
    assert np.abs(decode(data, "a").pixels[4, 4, :3].astype(int) - (255, 0, 0)).max() <= 2


def test_lab_tiff_against_an_outside_library() -> None:
    for lab in ((50, 0, 0), (60, 30, 20), (45, -10, -20), (100, 0, 0)):
        code = bytes((round(lab[0] * 2.55), lab[1] % 256, lab[2] % 256))  # TIFF 6.0 section 23: signed a and b
        art = decode(files.tiff(16, 16, code * 256, bits=[8, 8, 8], photometric=8), "a")
        d50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
        xyz = colour.Lab_to_XYZ([code[0] / 2.55, lab[1], lab[2]], d50)
        expected = 255 * colour.XYZ_to_sRGB(xyz, d50, chromatic_adaptation_transform="Bradford")
        assert np.abs(art.pixels[4, 4, :3] - expected).max() < 3  # Lab itself is in steps of 8 bits
        assert "Lab" in art.notes[0]


def test_samples_that_have_no_white_are_refused() -> None:
    floats = files.tiff(16, 16, np.ones(256, "<f4").tobytes(), bits=[32], photometric=1, sample_format=3)
    assert "floating-point" in fault(floats)
    assert "32-bit" in fault(files.saved(Image.new("I", (16, 16), 70000), "TIFF"))


def test_a_sound_file_that_no_reader_knows_is_not_told_to_be_exported_the_same_way_again() -> None:
    """16-bit grey with transparency (TIFF 6.0, ExtraSamples 2), which the library does not read."""
    data = files.tiff(16, 16, bytes(16 * 16 * 4), bits=[16, 16], photometric=1, extra=[(338, 3, 2)])
    said = fault(data)
    assert "its pixels are of a kind that is not read" in said
    assert "PNG with 8 bits per channel" in said


# --- transparency ---------------------------------------------------------------------------------


def test_straight_alpha_is_kept_and_hidden_colour_stays_hidden() -> None:
    pixels = np.zeros((16, 16, 4), np.uint8)
    pixels[:] = (200, 100, 50, 128)
    pixels[:8, :, 3] = 0
    for data in (
        files.saved(Image.fromarray(pixels), "PNG"),
        files.saved(Image.fromarray(pixels), "TIFF"),
        files.saved(Image.fromarray(pixels), "WEBP", lossless=True, exact=True),
    ):
        assert (decode(data, "a").pixels == pixels).all()


def test_grey_with_alpha() -> None:
    image = Image.new("LA", (16, 16), (70, 200))
    assert decode(files.saved(image, "PNG"), "a").pixels[3, 3].tolist() == [70, 70, 70, 200]


def test_transparent_keys_of_every_kind() -> None:
    key = lambda data: files.chunk(b"tRNS", data)  # noqa: E731  (ISO/IEC 15948 11.3.2.1)
    grey = files.png(16, 16, depth=8, colour=0, rows=bytes([9, 10] * 8) * 16, extra=key(b"\0\x0a"))
    assert decode(grey, "a").pixels[0, :2, 3].tolist() == [255, 0]
    deep = files.png(16, 16, depth=16, colour=0, rows=b"\x12\x34\x12\x35" * 8 * 16, extra=key(b"\x12\x35"))
    assert decode(deep, "a").pixels[0, :2, 3].tolist() == [255, 0]
    one = files.png(16, 16, depth=1, colour=0, rows=b"\xaa\xaa" * 16, extra=key(b"\0\1"))
    assert decode(one, "a").pixels[0, :2].tolist() == [[255, 255, 255, 0], [0, 0, 0, 255]]
    true = files.png(16, 16, depth=8, colour=2, rows=bytes([1, 2, 3, 4, 5, 6] * 8) * 16, extra=key(b"\0\1\0\2\0\3"))
    assert decode(true, "a").pixels[0, :2, 3].tolist() == [0, 255]
    wide = files.png(
        16,
        16,
        depth=16,
        colour=2,
        rows=bytes([1, 7, 2, 7, 3, 7, 9, 7, 9, 7, 9, 7] * 8) * 16,
        extra=key(bytes([1, 7, 2, 7, 3, 7])),
    )
    assert decode(wide, "a").pixels[0, :2, 3].tolist() == [0, 255]
    palette = files.chunk(b"PLTE", bytes([10, 20, 30, 40, 50, 60])) + key(bytes([255, 77]))
    indexed = files.png(16, 16, depth=8, colour=3, rows=bytes([0, 1] * 8) * 16, extra=palette)
    assert decode(indexed, "a").pixels[0, :2].tolist() == [[10, 20, 30, 255], [40, 50, 60, 77]]


# --- colour profiles ------------------------------------------------------------------------------


def test_srgb_profile_changes_nothing() -> None:
    for icc in (ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(), files.rgb_profile(1.0)):
        noise = Image.fromarray(np.random.default_rng(0).integers(0, 256, (40, 40, 3), dtype=np.uint8))
        art = decode(files.saved(noise, "PNG", icc_profile=icc), "a")
        is_same = (art.pixels[..., :3] == np.asarray(noise)).all()
        assert is_same == (not art.notes)
        assert is_same == (icc != files.rgb_profile(1.0))


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "WEBP"])
def test_linear_profile_is_encoded(kind: str) -> None:
    # Gamma 1: code 128 is linear 0.50196, which is 188 in sRGB (IEC 61966-2-1).
    options = {"lossless": True} if kind == "WEBP" else {}
    data = files.saved(Image.new("RGB", (16, 16), (128, 0, 255)), kind, icc_profile=files.rgb_profile(1.0), **options)
    art = decode(data, "a")
    assert np.abs(art.pixels[5, 5, :3].astype(int) - (188, 0, 255)).max() <= 1
    assert "colour profile (test)" in art.notes[0]


def test_swapped_primaries_swap_the_colours_and_keep_alpha() -> None:
    icc = files.rgb_profile(2.2, (files.GREEN, files.RED, files.BLUE))
    image = Image.new("RGBA", (16, 16), (255, 0, 0, 90))
    art = decode(files.saved(image, "PNG", icc_profile=icc), "a")
    assert np.abs(art.pixels[5, 5].astype(int) - (0, 255, 0, 90)).max() <= 2


def test_palette_goes_through_its_profile() -> None:
    image = Image.new("P", (16, 16), 0)
    image.putpalette([128, 128, 128])
    art = decode(files.saved(image, "PNG", icc_profile=files.rgb_profile(1.0)), "a")
    assert np.abs(art.pixels[5, 5, :3].astype(int) - 188).max() <= 1


def test_grey_goes_through_a_grey_and_through_a_colour_profile() -> None:
    for icc in (files.grey_profile(1.0), files.rgb_profile(1.0)):
        for image in (Image.new("L", (16, 16), 128), Image.new("LA", (16, 16), (128, 60))):
            art = decode(files.saved(image, "PNG", icc_profile=icc), "a")
            assert np.abs(art.pixels[5, 5, :3].astype(int) - 188).max() <= 1
            assert art.pixels[5, 5, 3] == (60 if image.mode == "LA" else 255)


def press(c: int, m: int, y: int, k: int) -> tuple[float, float, float]:
    """Return CIELAB of a corner of an invented press with warm paper: cyan and black are pinned."""
    if (c, m, y, k) == (1, 0, 0, 0):
        return 60.0, -20.0, -25.0
    if (c, m, y, k) == (0, 0, 0, 0):
        return 100.0, 0.0, 0.0
    return (100.0 - 25.0 * (c + m + y), 0.0, 0.0) if not k else (0.0, 0.0, 0.0)


@pytest.mark.parametrize("kind", ["TIFF", "JPEG"])
def test_cmyk_through_its_profile(kind: str) -> None:
    d50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    xyz = colour.Lab_to_XYZ([60.0, -20.0, -25.0], d50)
    cyan = 255 * colour.XYZ_to_sRGB(xyz, d50, chromatic_adaptation_transform="Bradford")
    for ink, expected in (((0, 0, 0, 0), [255] * 3), ((0, 0, 0, 255), [0] * 3), ((255, 0, 0, 0), cyan)):
        options = {"quality": 100} if kind == "JPEG" else {}
        image = Image.new("CMYK", (16, 16), ink)
        art = decode(files.saved(image, kind, icc_profile=files.table_profile("CMYK", press), **options), "a")
        assert np.abs(art.pixels[5, 5, :3] - np.asarray(expected)).max() < 3
        assert art.pixels[5, 5, 3] == 255


def test_paper_white_prints_nothing_and_the_darkest_colour_is_black() -> None:
    def faded(r: int, g: int, b: int) -> tuple[float, float, float]:
        return 18.0 + (r + g + b) * 82.0 / 3.0, 0.0, 0.0  # its black is a dark grey

    icc = files.table_profile("RGB", faded, paper=(0.80, 0.83, 0.62))  # cream: absolute colorimetric would tint it
    for code in (255, 0):
        data = files.saved(Image.new("RGB", (16, 16), (code, code, code)), "TIFF", icc_profile=icc)
        assert np.abs(decode(data, "a").pixels[5, 5, :3].astype(int) - code).max() <= 2


@pytest.mark.parametrize("kind", ["TIFF", "JPEG"])
def test_cmyk_without_a_profile_says_what_was_assumed(kind: str) -> None:
    art = decode(files.saved(Image.new("CMYK", (16, 16), (255, 0, 0, 0)), kind), "a")
    assert np.abs(art.pixels[5, 5, :3].astype(int) - (0, 255, 255)).max() <= 2
    assert "CMYK without a profile" in art.notes[0]


def test_a_profile_that_does_not_fit_is_left_aside_with_a_note() -> None:
    wrong = decode(
        files.saved(Image.new("RGB", (16, 16), (9, 99, 199)), "PNG", icc_profile=files.grey_profile(1.0)), "a"
    )
    assert wrong.pixels[5, 5, :3].tolist() == [9, 99, 199]
    assert "for grey pictures, not RGB" in wrong.notes[0]
    broken = decode(files.saved(Image.new("RGB", (16, 16), (9, 99, 199)), "PNG", icc_profile=b"nonsense" * 40), "a")
    assert broken.pixels[5, 5, :3].tolist() == [9, 99, 199]
    assert "damaged" in broken.notes[0]


# --- orientation ----------------------------------------------------------------------------------

# Exif 2.32, Orientation: where the stored picture's first row and first column lie when seen upright. So the first
# pixel, and the last pixel of the first row, lie in these corners (row, column; 0 first, -1 last).
CORNERS = {
    1: ((0, 0), (0, -1)),
    2: ((0, -1), (0, 0)),
    3: ((-1, -1), (-1, 0)),
    4: ((-1, 0), (-1, -1)),
    5: ((0, 0), (-1, 0)),
    6: ((0, -1), (-1, -1)),
    7: ((-1, -1), (0, -1)),
    8: ((-1, 0), (0, 0)),
}


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "TIFF lzw", "WEBP", "JPEG"])
@pytest.mark.parametrize("value", CORNERS)
def test_orientation_tag_turns_the_picture_upright(kind: str, value: int) -> None:
    image = Image.new("RGB", (64, 32), "white")
    image.paste("red", (0, 0, 16, 16))
    image.paste("blue", (48, 0, 64, 16))
    options: dict[str, object] = {"WEBP": {"lossless": True}, "TIFF lzw": {"compression": "tiff_lzw"}}.get(kind, {})
    if kind.startswith("TIFF"):
        options["tiffinfo"] = {0x0112: value}
    else:
        exif = Image.Exif()
        exif[0x0112] = value
        options["exif"] = exif
    dpi = {} if kind == "WEBP" else {"dpi": (300, 600)}
    art = decode(files.saved(image, kind.split()[0], **options, **dpi), "a")
    assert art.pixels.shape[:2] == ((64, 32) if value > 4 else (32, 64))
    first, second = CORNERS[value]
    assert np.abs(art.pixels[first][:3].astype(int) - (255, 0, 0)).max() < 5
    assert np.abs(art.pixels[second][:3].astype(int) - (0, 0, 255)).max() < 5
    assert any("orientation" in note for note in art.notes) == (value != 1)
    if dpi:
        assert art.dpi == pytest.approx((600, 300) if value > 4 else (300, 600), abs=0.02)


# --- resolution -----------------------------------------------------------------------------------


def test_png_resolution_counts_only_in_metres() -> None:
    metres = files.chunk(b"pHYs", (23622).to_bytes(4, "big") + (11811).to_bytes(4, "big") + b"\1")
    rows = bytes(16 * 16)
    art = decode(files.png(16, 16, depth=8, colour=0, rows=rows, extra=metres), "a")
    assert art.dpi == (pytest.approx(599.9988, abs=1e-6), pytest.approx(299.9994, abs=1e-6))  # x 0.0254, kept as read
    aspect = metres.replace(b"\1" + metres[-4:], b"\0")
    unknown = files.chunk(b"pHYs", (2).to_bytes(4, "big") + (1).to_bytes(4, "big") + b"\0")
    assert aspect != metres
    assert decode(files.png(16, 16, depth=8, colour=0, rows=rows, extra=unknown), "a").dpi is None
    assert decode(files.png(16, 16, depth=8, colour=0, rows=rows), "a").dpi is None


def test_jpeg_resolution_in_inches_in_centimetres_and_absent() -> None:
    data = files.saved(picture(), "JPEG", dpi=(600, 300))
    assert decode(data, "a").dpi == (600, 300)
    at = data.index(b"JFIF\0") + 7  # ISO/IEC 10918-5 10.1: identifier, two bytes of version, units
    assert data[at] == 1
    centimetres = data[:at] + b"\2" + data[at + 1 :]
    assert decode(centimetres, "a").dpi == (pytest.approx(1524.0), pytest.approx(762.0))
    assert decode(data[:at] + b"\0" + data[at + 1 :], "a").dpi is None
    exif = Image.Exif()
    exif[0x010E] = "no resolution in here"
    assert decode(files.saved(picture(), "JPEG", exif=exif), "a").dpi is None


def test_exif_resolution_stands_in_where_jpeg_and_webp_say_nothing_else() -> None:
    exif = Image.Exif()
    exif[0x011A], exif[0x011B], exif[0x0128] = 236.0, 118.0, 3
    for kind in ("JPEG", "WEBP"):
        dpi = decode(files.saved(picture(), kind, exif=exif), "a").dpi
        assert dpi == (pytest.approx(599.44), pytest.approx(299.72))  # x 2.54, by hand


def test_tiff_resolution_in_inches_in_centimetres_and_without_unit() -> None:
    for unit, expected in (("inch", (300.0, 600.0)), ("cm", (762.0, 1524.0)), (1, None)):
        options = {"x_resolution": 300.0, "y_resolution": 600.0}
        if unit == 1:
            options = {"tiffinfo": {282: 300.0, 283: 600.0, 296: 1}}  # TIFF 6.0: no absolute unit
        else:
            options["resolution_unit"] = unit
        dpi = decode(files.saved(picture(), "TIFF", **options), "a").dpi
        assert dpi is None if expected is None else dpi == pytest.approx(expected)


# --- several frames -------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["GIF", "PNG", "WEBP", "TIFF"])
def test_the_first_of_several_frames_is_used(kind: str) -> None:
    frames = [picture().quantize() if kind == "GIF" else picture(), Image.new("RGB", (W, H), "black")]
    options = {"lossless": True} if kind == "WEBP" else {}
    art = decode(files.saved(frames[0], kind, save_all=True, append_images=frames[1:], **options), "a")
    check_quarters(art.pixels)
    assert "2 pages" in art.notes[0] if kind == "TIFF" else "2 frames" in art.notes[0]


# --- bad input ------------------------------------------------------------------------------------


def test_empty_foreign_and_unknown_files() -> None:
    assert "is empty" in fault(b"")
    assert "is not a picture" in fault(b"hello, this is text")
    assert "is not a picture" in fault(b"RIFF\x10\0\0\0WAVEfmt ")
    assert "PDF" in fault(b"%PDF-1.7 and so on")
    assert "HEIC" in fault(b"\0\0\0\x18ftypheic")
    for text in (fault(b"%PDF-1.7"), fault(b"hello")):
        assert "PNG, JPEG, TIFF, WebP, SVG" in text


def test_sizes_are_named_with_their_limit() -> None:
    assert "40000 x 40000 px is 1600 megapixels; the limit is 60" in fault(files.png(40000, 40000, depth=8, colour=2))
    assert "7746 x 7746 px is 60.1 megapixels" in fault(files.png(7746, 7746, depth=1, colour=0))
    dot = files.saved(Image.new("RGB", (1, 1)), "PNG")
    assert "1 x 1 px is too small for art; expected at least 16 px" in fault(dot)
    assert "100 x 15 px" in fault(files.saved(Image.new("RGB", (100, 15)), "GIF"))


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF", "GIF", "BMP", "WEBP"])
def test_sizes_are_checked_in_every_format(kind: str) -> None:
    if kind == "WEBP":
        data = bytearray(files.saved(picture(), kind, lossless=True))
        data[21:25] = (8999 | 6999 << 14).to_bytes(
            4, "little"
        )  # RFC 9649 3.4: 14 bits each of width and height, less 1
    else:
        data = bytearray(files.saved(Image.new("L" if kind == "JPEG" else "1", (9000, 7000)), kind))
    assert "9000 x 7000 px is 63 megapixels" in fault(bytes(data))


NOISE = Image.fromarray(np.random.default_rng(4).integers(0, 256, (64, 48, 3), dtype=np.uint8))
CUT = {
    "png": files.saved(NOISE, "PNG"),
    "png 16 bits": files.png(32, 32, depth=16, colour=0, rows=NOISE.tobytes()[:2048]),
    "jpeg": files.saved(NOISE, "JPEG", icc_profile=files.rgb_profile(1.0), dpi=(300, 300)),
    "jpeg progressive": files.saved(NOISE, "JPEG", progressive=True),
    "tiff": files.saved(NOISE, "TIFF"),
    "tiff lzw": files.saved(NOISE, "TIFF", compression="tiff_lzw"),
    "tiff jpeg": files.saved(NOISE, "TIFF", compression="jpeg"),
    "webp": files.saved(NOISE, "WEBP"),
    "webp lossless": files.saved(NOISE, "WEBP", lossless=True),
    "gif": files.saved(NOISE, "GIF"),
    "bmp": files.saved(NOISE, "BMP"),
}


@pytest.mark.parametrize("name", CUT)
@pytest.mark.parametrize("share", [0.05, 0.3, 0.5, 0.9])
def test_files_cut_short_are_refused(name: str, share: float) -> None:
    assert "damaged or cut short" in fault(CUT[name][: int(len(CUT[name]) * share)])


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(sorted(CUT)), st.data())
def test_any_damage_gives_art_or_one_fault(name: str, data: st.DataObject) -> None:
    raw = bytearray(CUT[name])
    for _ in range(data.draw(st.integers(1, 6))):
        raw[data.draw(st.integers(0, len(raw) - 1))] = data.draw(st.integers(0, 255))
    try:
        art = decode(bytes(raw), "a")
    except InputError as error:
        assert len(error.faults) == 1
    else:
        assert art.pixels.shape[2] == 4


def test_text_inside_a_picture_cannot_fill_the_memory() -> None:
    info = PngImagePlugin.PngInfo()
    info.add_text("note", "x" * 100, zip=True)
    assert decode(files.saved(picture(), "PNG", pnginfo=info), "a").pixels.shape == (H, W, 4)
    bomb = files.chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(100_000_000)))
    assert "damaged" in fault(files.png(16, 16, depth=8, colour=0, rows=bytes(256), extra=bomb))


BOMBS = """
import base64, gzip, resource, sys, zlib
sys.path.insert(0, sys.argv[1])
import picture_files as files
from mockup.model.errors import InputError
from mockup.decal.pictures.artwork import decode

svg = '<svg xmlns="http://www.w3.org/2000/svg" width="50" height="50">{}</svg>'
big = files.png(40000, 40000, depth=1, colour=0)
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
uses = "".join(f'<g id="a{i}">' + f'<use href="#a{i - 1}"/>' * 10 + "</g>" for i in range(1, 10))
text = files.chunk(b"zTXt", b"a\\0\\0" + zlib.compress(bytes(10**8)))
bombs = [
    big,
    files.png(16, 16, depth=8, colour=0, rows=bytes(256), extra=text),
    svg.replace("50", "1e6mm").encode(),
    gzip.compress(bytes(3 * 10**8)),
    svg.format('<image href="data:image/png;base64,' + base64.b64encode(big).decode() + '"/>').encode(),
    svg.format('<defs><rect id="a0"/>' + uses + '</defs><use href="#a9"/>').encode(),
]
for bomb in bombs:
    try:
        decode(bomb, "bomb")
    except InputError as error:
        assert len(error.faults) == 1
    else:
        raise SystemExit("a bomb was read")
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="peak memory is read by a POSIX call")
def test_bombs_are_refused_in_little_memory(request: pytest.FixtureRequest) -> None:
    here = str(request.path.parent)
    done = subprocess.run([sys.executable, "-c", BOMBS, here], capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr
    grown = int(done.stdout) * (1 if sys.platform == "darwin" else 1024)
    assert grown < 700e6  # a decoded bomb would take 6.4 GB
