"""White on the decal sheet: a page of its own, or a separation that other programs read as one."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pypdf
import pytest
from PIL import Image
from pypdf.generic import DictionaryObject

from mockup import api
from mockup.model.design import Design
from mockup.model.errors import InputError
from mockup.outputs import sheet


def pedal(process: str) -> Design:
    pixels = np.zeros((60, 40, 4), np.uint8)
    pixels[10:30, 5:35] = (250, 250, 250, 255)
    pixels[40:50, 5:15] = (200, 30, 30, 128)
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", dpi=(60, 60))
    layout = f'[box]\nsize = "112x60x31"\n[[decal]]\nart = "a.png"\nprocess = "{process}"\n'
    return api.loads(layout, {"a.png": out.getvalue()})


def pages(design: Design, **options: object) -> list[pypdf.PageObject]:
    made = sheet.make(design, sheet.Options(output="s.pdf", **options))  # type: ignore[arg-type]
    return list(pypdf.PdfReader(io.BytesIO(made.files["s.pdf"])).pages)


def pictures(page: pypdf.PageObject) -> Iterator[DictionaryObject]:
    for each in page["/Resources"]["/XObject"].values():  # type: ignore[index]
        if each.get_object()["/Subtype"] == "/Image":
            yield each.get_object()


def test_white_is_a_page_of_its_own_after_the_colours() -> None:
    design = pedal("white-toner")
    colours, white = pages(design)
    (picture,) = pictures(white)
    got = np.frombuffer(picture.get_data(), np.uint8).reshape(60, 40, 3)  # type: ignore[attr-defined]
    assert (got == 255 - design.decals[0].art.pixels[..., 3:]).all()
    assert "WHITE: black here is printed in white" in white.extract_text().replace("\n", " ")
    assert "page of its own" in colours.extract_text().replace("\n", " ")


def test_the_separation_is_the_arts_alpha_and_overprints() -> None:
    """ISO 32000-1: 8.6.6.4 /Separation, its tint 1 where all of the white goes; 8.6.7 /op; 8.9.5.1 one component."""
    design = pedal("print-service")
    (page,) = pages(design)
    (white,) = (each for each in pictures(page) if each["/ColorSpace"][0] == "/Separation")
    space = white["/ColorSpace"]
    assert space[1] == "/White"
    assert space[2] == "/DeviceRGB"
    function = space[3].get_object()
    assert (function["/FunctionType"], function["/Domain"], function["/C0"]) == (2, [0, 1], [1, 1, 1])
    got = np.frombuffer(white.get_data(), np.uint8).reshape(60, 40)  # type: ignore[attr-defined]
    assert (got == design.decals[0].art.pixels[..., 3]).all()
    states = [each.get_object() for each in page["/Resources"]["/ExtGState"].values()]  # type: ignore[index]
    assert any(each.get("/op") for each in states)


def test_mirror_and_both_take_the_white_along() -> None:
    design = pedal("white-toner")
    first, second = pages(design, white="both", mirror=True)
    alpha = design.decals[0].art.pixels[:, ::-1, 3]
    (page,) = pictures(second)
    assert (np.frombuffer(page.get_data(), np.uint8).reshape(60, 40, 3)[..., 0] == 255 - alpha).all()  # type: ignore[attr-defined]
    assert sorted(str(each["/ColorSpace"][0]) for each in pictures(first)) == ["/ICCBased", "/Separation"]


def test_an_inkjet_and_none_print_no_white() -> None:
    assert len(pages(pedal("inkjet"))) == len(pages(pedal("white-toner"), white="none")) == 1
    two = replace(pedal("white-toner"), decals=(*pedal("white-toner").decals, *pedal("inkjet").decals))
    assert len(pages(two)) == 3  # of one film, but of two processes: each on pages of its own


def test_a_png_has_no_separation() -> None:
    with pytest.raises(InputError, match="a PNG holds no separation"):
        sheet.make(pedal("print-service"), sheet.Options(output="s.png", white="separation"))


def test_a_test_piece_has_its_white_too() -> None:
    assert len(pages(pedal("white-toner"), test_piece=True)) == 2
    assert len(pages(pedal("toner"), test_piece=True)) == 1


def test_ink_is_not_matched_where_white_lies_under_a_part() -> None:
    design = pedal("white-toner")
    (decal,) = design.decals
    parted = replace(design, decals=(replace(decal, white_under=decal.art),))
    with pytest.raises(InputError, match="white lies under a part of"):
        pages(parted, match=True)
