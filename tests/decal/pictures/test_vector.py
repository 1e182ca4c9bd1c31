"""SVG art: true size to the pixel, closed in itself, the same on every machine."""

from __future__ import annotations

import base64
import gzip
from pathlib import Path

import numpy as np
import picture_files as files
import pytest
from PIL import Image, ImageFont

from mockup.decal.pictures.artwork import decode
from mockup.model.errors import InputError
from mockup.model.finish import Artwork

XMLNS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def svg(body: str, size: str = 'width="20mm" height="10mm"', dpi: float = 254.0, **options: object) -> Artwork:
    """Decode an SVG; at 254 dpi a millimetre is ten pixels."""
    text = f"<svg {XMLNS} {size}>{body}</svg>"
    return decode(text.encode(), "art.svg", svg_dpi=dpi, **options)  # type: ignore[arg-type]


def fault(body: str, size: str = 'width="20mm" height="10mm"') -> str:
    with pytest.raises(InputError) as caught:
        svg(body, size)
    (only,) = caught.value.faults
    assert only.file == "art.svg"
    assert "\n" not in str(only)
    return str(only)


FULL = '<rect width="100%" height="100%" fill="#102030"/>'


@pytest.mark.parametrize(
    ("size", "pixels"),
    [
        ('width="57.15mm" height="114.3mm"', (1350, 2700)),
        ('width="5.715cm" height="4.5in"', (1350, 2700)),
        ('width="216" height="432px"', (1350, 2700)),  # 96 px to the inch, CSS Values 4, 6.2
        ('width="162pt" height="27pc"', (1350, 2700)),  # 72 and 6 to the inch
        ('width="2.25in" height="4.5in" viewBox="0 0 9 18"', (1350, 2700)),
        ('viewBox="-5 -5 216 432"', (1350, 2700)),
        ('width="2.25in" viewBox="0 0 9 18"', (1350, 2700)),
        ('width="100%" height="100%" viewBox="0 0 216 432"', (1350, 2700)),
    ],
)
def test_stated_size_is_honoured_at_600_dpi(size: str, pixels: tuple[int, int]) -> None:
    art = svg(FULL, size, dpi=600)
    assert (art.width_px, art.height_px) == pixels
    assert art.dpi == (pytest.approx(600), pytest.approx(600))
    assert art.notes == ()


def test_size_that_is_no_whole_number_of_pixels_keeps_its_millimetres_and_its_edges() -> None:
    art = svg(FULL, 'width="10.13mm" height="20.33mm" viewBox="0 0 1013 2033"')
    assert (art.width_px, art.height_px) == (101, 203)
    assert art.dpi is not None
    assert (101 * 25.4 / art.dpi[0], 203 * 25.4 / art.dpi[1]) == (pytest.approx(10.13), pytest.approx(20.33))
    assert (art.pixels == (0x10, 0x20, 0x30, 255)).all()  # no half-covered rim


def test_a_point_in_millimetres_lies_on_its_pixel() -> None:
    art = svg('<rect x="12.3mm" y="4.5mm" width="1mm" height="2mm"/>')
    inside = np.argwhere(art.pixels[..., 3] == 255)
    assert inside.min(axis=0).tolist() == [45, 123]
    assert inside.max(axis=0).tolist() == [64, 132]


def test_view_box_of_another_shape_is_centred_not_stretched() -> None:
    art = svg('<rect width="10" height="10"/>', 'width="20mm" height="10mm" viewBox="0 0 10 10"')
    columns = np.flatnonzero(art.pixels[50, :, 3] == 255)
    assert (columns.min(), columns.max()) == (50, 149)  # xMidYMid meet, SVG 2 8.6


def test_alpha_is_straight_and_ground_transparent() -> None:
    art = svg('<rect width="10mm" height="10mm" fill="#c86432" fill-opacity="0.5"/>')
    assert np.abs(art.pixels[50, 50].astype(int) - (200, 100, 50, 128)).max() <= 1
    assert art.pixels[50, 150, 3] == 0


def test_style_sheet_entity_and_doctype_work() -> None:
    text = (
        '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY ink "#0000ff">]>'
        f'<svg {XMLNS} width="2mm" height="2mm"><style>.a {{ fill: red }}</style>'
        '<rect class="a" width="1mm" height="2mm"/><rect x="1mm" width="1mm" height="2mm" fill="&ink;"/></svg>'
    )
    art = decode(text.encode(), "a", svg_dpi=254)
    assert art.pixels[5, 5].tolist() == [255, 0, 0, 255]
    assert art.pixels[5, 15].tolist() == [0, 0, 255, 255]


def test_encodings_and_gzip() -> None:
    plain = f'<svg {XMLNS} width="2mm" height="2mm">{FULL}</svg>'
    expected = decode(plain.encode(), "a", svg_dpi=254).pixels
    for data in (
        b"\xef\xbb\xbf" + plain.encode(),
        ('<?xml version="1.0" encoding="utf-16"?>' + plain).encode("utf-16"),
        ('<?xml version="1.0" encoding="iso-8859-1"?><!-- \xe9 -->' + plain).encode("latin-1"),
        b"\n  " + plain.encode(),
        gzip.compress(plain.encode()),
    ):
        assert (decode(data, "a", svg_dpi=254).pixels == expected).all()


def embedded(data: bytes, kind: str = "image/png") -> str:
    link = f"data:{kind};base64,{base64.b64encode(data).decode()}"
    return f'<image width="20mm" height="10mm" preserveAspectRatio="none" xlink:href="{link}"/>'


def test_embedded_picture_is_drawn() -> None:
    art = svg(embedded(files.saved(Image.new("RGB", (20, 20), "#123456"), "PNG")))
    assert art.pixels[50, 100].tolist() == [0x12, 0x34, 0x56, 255]


def test_what_is_not_in_the_file_is_refused(tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    Image.new("RGB", (20, 20), "red").save(secret)
    for link in (str(secret), secret.as_uri(), "secret.png", "https://example.org/a.png", "//example.org/a.png"):
        for body in (
            f'<image href="{link}"/>',
            f'<image xlink:href=" {link}"/>',
            f'<filter><feImage href="{link}"/></filter>',
        ):
            assert "links to" in fault(body)
    body = '<image width="9" height="9" href="&hidden;"/>'
    text = f'<!DOCTYPE svg [<!ENTITY hidden "{secret}">]><svg {XMLNS} width="20" height="20">{body}</svg>'
    with pytest.raises(InputError, match="links to"):
        decode(text.encode(), "a")
    outside = f'<!DOCTYPE svg [<!ENTITY e SYSTEM "{secret.as_uri()}">]><svg {XMLNS} width="20" height="20">&e;</svg>'
    with pytest.raises(InputError, match="not well-formed"):
        decode(outside.encode(), "a")


def test_embedded_files_that_are_no_plain_picture_are_refused() -> None:
    inner = f'<svg {XMLNS} width="20" height="20"><image href="/secret.png"/></svg>'.encode()
    for kind in ("image/svg+xml", "image/png", "text/plain"):
        assert "embeds a picture that is neither" in fault(embedded(inner, kind))
    assert "embeds a picture that is neither" in fault('<image href="data:image/png;base64,@@"/>')
    huge = files.png(9000, 7000, depth=1, colour=0)
    assert "63 megapixels; the limit is 60" in fault(embedded(huge))


def test_text_needs_its_font() -> None:
    text = '<text x="1mm" y="8mm" font-size="8mm" font-family="Some Face">DRIVE</text>'
    assert "holds text" in fault(text)
    assert "convert the text to paths" in fault(text)
    assert svg("<text>  </text>" + FULL).pixels[5, 5, 3] == 255  # an empty text prints nothing anyway


def test_text_is_drawn_with_a_font_that_is_given(tmp_path: Path) -> None:
    font = tmp_path / "face.otf"
    font.write_bytes(ImageFont.load_default(20).font_bytes)  # type: ignore[union-attr]
    text = '<text x="1mm" y="8mm" font-size="8mm" font-family="Some Face">DRIVE</text>'
    art = svg(text, fonts=[str(font)])
    assert (art.pixels[..., 3] > 200).sum() > 500
    assert (svg(text, fonts=[str(font)]).pixels == art.pixels).all()


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ("", "states no size"),
        ('width="5em" height="5em"', "states no size"),
        ('width="100%" height="100%"', "states no size"),
        ('width="1e400mm" height="1mm"', "states no size"),
        ('width="0" height="5"', "zero or less"),
        ('width="-5mm" height="5mm"', "zero or less"),
        ('width="1e6mm" height="1e6mm"', "the limit is 60"),
        ('width="1e300mm" height="1e300mm"', "the limit is 60"),
        ('width="1mm" height="50mm"', "too small for art"),
    ],
)
def test_impossible_sizes_are_refused(size: str, words: str) -> None:
    assert words in fault(FULL, size)


def test_broken_files_say_where() -> None:
    with pytest.raises(InputError, match=r"line 2, column \d+"):
        decode(f"<svg {XMLNS}>\n<rect</svg>".encode(), "a.svg")
    with pytest.raises(InputError, match="holds <html>"):
        decode(b"<html><body/></html>", "a.svg")
    with pytest.raises(InputError, match="gzip"):
        decode(b"\x1f\x8b broken", "a.svg")
    with pytest.raises(InputError):
        decode(("<svg>" + "<g>" * 5000 + "</g>" * 5000 + "</svg>").encode(), "a.svg")
    assert "cannot be" in fault("<g>" * 3000 + "</g>" * 3000)


def test_what_cannot_be_drawn_is_noted() -> None:
    assert "foreignObject" in svg(FULL + "<foreignObject/>").notes[0]
