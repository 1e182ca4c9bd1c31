"""What was loaded, told of art of every kind drawn on the spot, and what is wrong with it."""

from __future__ import annotations

import dataclasses
import io
from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageCms, ImageDraw, ImageFilter

import mockup
from mockup.decal.account import Account, Trouble, accounts
from mockup.layout.edit.apply import apply
from mockup.model.design import Design
from mockup.model.errors import InputError

# By hand: 60 x 112 mm at the rim, drawn in on each side by (31 - 1.8) tan 1 deg = 0.510 mm; the edge of 1.5 mm rounds
# off 1.5 tan 44.5 deg = 1.474 mm of what is left. So the top's flat is 56.03 x 108.03 mm.
BOX = 'name = "Night Owl"\n[box]\nsize = "112x60x31"\n'


def picture(
    mm: tuple[float, float] = (52.0, 100.0),
    dpi: float | None = 300.0,
    *,
    ground: str = "#ffffff00",
    kind: str = "PNG",
    mode: str = "RGBA",
    pixels_at: float = 300.0,
    then: Callable[[Image.Image], Image.Image] | None = None,
    **more: object,
) -> bytes:
    """Lines, a word's worth of bars and a disc, `pixels_at` dots per inch large, in a file that claims `dpi`."""
    size = (round(mm[0] * pixels_at / 25.4), round(mm[1] * pixels_at / 25.4))
    image = Image.new("RGBA", size, ground)
    pen = ImageDraw.Draw(image)
    step = max(size[0] // 24, 4)
    for index in range(2, 22):
        pen.rectangle((index * step, size[1] // 3, index * step + step // 2, size[1] // 2), fill="#101010")
    pen.ellipse((size[0] // 3, size[1] * 2 // 3, size[0] * 2 // 3, size[1] * 2 // 3 + size[0] // 3), fill="#101010")
    image = then(image) if then is not None else image
    if mode != "RGBA":
        flat = Image.new("RGB", size, "white")
        flat.paste(image, mask=image.getchannel("A"))
        image = flat.convert(mode)
    out = io.BytesIO()
    image.save(out, kind, **({"dpi": (dpi, dpi)} if dpi else {}), **more)
    return out.getvalue()


def design(data: bytes, keys: str = "", name: str = "art.png", box: str = BOX) -> Design:
    return mockup.loads(f'{box}[[decal]]\nart = "{name}"\n{keys}', {name: data})


def told(data: bytes, keys: str = "", name: str = "art.png") -> Account:
    (account,) = accounts(design(data, keys, name))
    return account


def line(account: Account, name: str) -> str:
    return next(each.text for each in account.lines if each.name == name)


def trouble(account: Account) -> Trouble:
    (found,) = account.troubles
    return found


def cured(data: bytes, keys: str = "", name: str = "art.png") -> Account:
    """The account after the one trouble's edits were made in the layout's text."""
    text = f'{BOX}[[decal]]\nart = "{name}"\n{keys}'
    edits = trouble(told(data, keys, name)).edits
    assert edits
    (account,) = accounts(mockup.loads(apply(text, edits, "layout.toml"), {name: data}))
    return account


class TestLines:
    def test_pixels_resolution_and_size_on_the_face(self) -> None:
        account = told(picture())
        assert line(account, "Pixels") == "614 x 1181"  # 52 and 100 mm at 300 dpi, rounded
        assert line(account, "Resolution") == "300 dpi, by the PNG's own tag"
        assert line(account, "Size") == "52.0 x 100.0 mm, 2.05 x 3.94 in"
        assert not account.troubles

    @pytest.mark.parametrize(
        ("kind", "mode", "where"),
        [
            ("PNG", "RGBA", "the PNG's own tag"),
            ("JPEG", "RGB", "the JPEG's header"),
            ("TIFF", "RGB", "the TIFF's own tag"),
        ],
    )
    def test_where_the_resolution_is_written(self, kind: str, mode: str, where: str) -> None:
        account = told(picture(kind=kind, mode=mode))
        assert line(account, "Resolution") == f"300 dpi, by {where}"
        assert line(account, "Drawn in").startswith(f"{kind}, RGB, 8 bits")

    def test_the_layout_sizes_what_the_file_sizes_otherwise(self) -> None:
        assert (
            line(told(picture(), "width = 26"), "Resolution") == "600 dpi as the layout sizes it; the file says 300 dpi"
        )
        account = told(picture(dpi=None), "width = 52")
        assert line(account, "Resolution") == "300 dpi as the layout sizes it; the file does not say"

    @pytest.mark.parametrize(
        ("mode", "word"), [("L", "grey"), ("P", "palette"), ("1", "black and white"), ("CMYK", "CMYK")]
    )
    def test_the_numbers_of_the_file(self, mode: str, word: str) -> None:
        kind = "TIFF" if mode == "CMYK" else "PNG"
        said = line(told(picture(kind=kind, mode=mode)), "Drawn in")
        assert f", {word}, " in said
        assert ("1 bit;" if mode == "1" else "8 bits;") in said

    def test_a_profile_is_named_and_what_was_done_with_it_is_shown(self) -> None:
        profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
        account = told(picture(kind="PNG", icc_profile=profile))
        assert "sRGB" in line(account, "Drawn in").partition("; ")[2]
        account = told(picture(kind="PNG", icc_profile=b"no profile at all"))
        assert line(account, "Note") == "Its colour profile is damaged and was ignored."
        assert "taken as sRGB" in line(account, "Drawn in")

    def test_an_orientation_tag_is_told(self) -> None:
        exif = Image.Exif()
        exif[0x0112] = 6  # Exif 2.32 4.6.4 A: turned a quarter
        account = told(picture((100.0, 52.0), kind="JPEG", mode="RGB", exif=exif.tobytes()))
        assert line(account, "Pixels") == "614 x 1181"
        assert "orientation tag" in line(account, "Note")

    def test_transparency_is_a_share(self) -> None:
        assert line(told(picture(ground="#ffffff")), "Clear") == "no, every pixel is opaque"
        clear = line(told(picture()), "Clear")
        assert 50 < float(clear.partition(" %")[0]) < 95

    @pytest.mark.parametrize(
        ("ground", "said"),
        [("#ffffff00", "clear, shows the paint"), ("#ffffff", "white, prints nothing"),
         ("#fefdfa", "nearly white: 254 253 250"), ("#faf8f0", "nearly white: 250 248 240"),
         ("#204080", "one flat colour, blue: 32 64 128")],
    )  # fmt: skip
    def test_the_ground(self, ground: str, said: str) -> None:
        found = line(told(picture(ground=ground)), "Ground")
        assert found.split(",")[0] == said.split(",")[0]
        assert found.rpartition(": ")[2] == said.rpartition(": ")[2]

    def test_a_photograph_has_no_ground_and_many_inks(self) -> None:
        noise = np.random.default_rng(5).uniform(0, 255, (24, 14, 3)).astype(np.uint8)
        image = Image.fromarray(noise).resize((614, 1181), Image.Resampling.BICUBIC)
        out = io.BytesIO()
        image.save(out, "PNG", dpi=(300, 300))
        account = told(out.getvalue())
        assert line(account, "Ground") == "none, the art runs to its edges"
        assert line(account, "Inks").startswith("many")

    def test_inks_in_plain_words(self) -> None:
        assert line(told(picture()), "Inks") == "black"

    def test_soft_and_enlarged_art_is_told(self) -> None:
        def enlarged(image: Image.Image) -> Image.Image:
            small = image.resize((image.width // 3, image.height // 3))
            return small.resize(image.size, Image.Resampling.NEAREST)

        assert line(told(picture(ground="#ffffff")), "Sharpness") == "as sharp as its pixels"
        assert "3.0 times over" in line(told(picture(ground="#ffffff", then=enlarged)), "Sharpness")
        soft = told(picture(ground="#ffffff", then=lambda image: image.filter(ImageFilter.GaussianBlur(1.5))))
        # The step response of a Gaussian rises at most 1 / (sigma sqrt(2 pi)) a pixel: 3.8 pixels.
        assert float(line(soft, "Sharpness").removeprefix("soft: edges ").split()[0]) == pytest.approx(3.8, abs=0.4)

    def test_lines_are_sharp_at_any_size(self) -> None:
        svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="100mm"><path d="M9 9h90v9h-90z"/></svg>'
        account = told(svg, name="art.svg")
        assert line(account, "Pixels") == "lines, sharp at any size"
        assert line(account, "Resolution") == "drawn at 600 dpi, sized by the drawing's own size"

    def test_lettering_of_the_tools_own_is_not_loaded(self) -> None:
        plain = design(picture())
        blank = dataclasses.replace(plain.decals[0].art, file=None)
        assert not accounts(dataclasses.replace(plain, decals=(dataclasses.replace(plain.decals[0], art=blank),)))


class TestNearlyWhite:
    @pytest.mark.parametrize("ground", ["#fefdfa", "#faf8f0", "#f0eee6"])
    def test_one_order_makes_it_print_nothing(self, ground: str) -> None:
        found = trouble(told(picture(ground=ground)))
        assert (found.name, found.doing) == ("nearly white", "Treat as white")
        account = cured(picture(ground=ground))
        assert not account.troubles
        assert line(account, "Ground") == "clear, shows the paint"
        assert "as the layout says" in line(account, "Note")

    def test_a_scan_with_grain_takes_its_own_tolerance(self) -> None:
        def grainy(image: Image.Image) -> Image.Image:
            pixels = np.asarray(image.convert("RGB")).astype(np.int64)
            noise = np.random.default_rng(2).normal(0, 3, pixels.shape)
            grain = np.clip(pixels + noise, 0, 255).astype(np.uint8)
            return Image.fromarray(grain).convert("RGBA")

        scan = picture(ground="#e4e2da", then=grainy)
        found = trouble(told(scan))
        (edit,) = found.edits
        assert 27 < edit.value <= 64  # 228 is 27 below white, and three sigma of grain are 9 more
        assert line(cured(scan), "Ground") == "clear, shows the paint"

    def test_what_is_a_colour_stays(self) -> None:
        before = design(picture(ground="#faf8f0"))
        after = design(picture(ground="#faf8f0"), 'white = "near"')
        ink = np.all(before.decals[0].art.pixels[..., :3] == 16, axis=2)
        assert ink.any()
        assert (after.decals[0].art.pixels[ink] == before.decals[0].art.pixels[ink]).all()
        assert (after.decals[0].art.pixels[~ink][:, 3] == 0).all()

    @pytest.mark.parametrize(("value", "said"), [("true", "near"), ("0", "near"), ("65", "64"), ('"nearly"', "near")])
    def test_other_values_are_refused_in_a_line(self, value: str, said: str) -> None:
        with pytest.raises(InputError, match=said):
            design(picture(), f"white = {value}")

    def test_white_and_clear_grounds_are_in_order(self) -> None:
        assert not told(picture(ground="#ffffff")).troubles
        assert not told(picture()).troubles


class TestSize:
    def test_larger_than_the_flat(self) -> None:
        big = picture((57.2, 110.2))
        found = trouble(told(big))
        assert found.name == "larger"
        assert found.what == "it is 57.2 x 110.2 mm, the flat of the top face is 56.0 x 108.0 mm"
        account = cured(big)
        assert not account.troubles
        wide, high = (float(each) for each in line(account, "Size").partition(" mm")[0].split(" x "))
        # By hand: 56.03 / 57.2 = 0.9796 and 108.03 / 110.2 = 0.9803, so the width decides, rounded down to 56.0.
        assert (wide, high) == (56.0, pytest.approx(110.2 * 56.0 / 57.2, abs=0.1))

    def test_twice_the_size_says_the_dpi_that_fits(self) -> None:
        found = trouble(told(picture((104.0, 200.0), dpi=150.0, pixels_at=150.0)))
        # 104 mm at 150 dpi are 614 pixels; 108.03 / 200 of 104 mm is 56.2, so the width's 56.0 decides: 278.5 dpi.
        assert "56.0 mm wide (278 dpi)" in found.order

    def test_turned_by_a_quarter(self) -> None:
        across = picture((100.0, 52.0))
        found = trouble(told(across))
        assert (found.name, found.doing) == ("turned", "Turn it")
        account = cured(across)
        assert not account.troubles
        assert line(account, "Lies") == "turned clockwise by 90 degrees"

    def test_dots_that_make_a_stamp_of_it(self) -> None:
        # 614 x 1181 pixels at 2400 dpi: 6.5 x 12.5 mm.
        stamp = picture(dpi=2400.0)
        found = trouble(told(stamp))
        assert found.name == "stamp"
        assert "2400 dpi make a stamp of it: it is 6.5 x 12.5 mm" in found.what
        assert not cured(stamp).troubles

    def test_of_the_faces_shape_and_too_small(self) -> None:
        small = picture((27.0, 52.0))
        found = trouble(told(small))
        assert found.name == "smaller"
        assert not cured(small).troubles

    def test_a_small_badge_is_in_order(self) -> None:
        assert not told(picture((20.0, 8.0))).troubles

    def test_a_size_that_the_layout_gives_is_meant(self) -> None:
        assert not told(picture((52.0, 100.0)), "width = 27").troubles

    def test_a_file_without_a_size_says_what_would_fit(self) -> None:
        with pytest.raises(InputError) as caught:
            design(picture(dpi=None))
        said = str(caught.value)
        assert 'width = "56.0 mm" (dpi = 278) fits the flat of the top face' in said  # 614 px on 56.0 mm
        with pytest.raises(InputError, match="rotation = 90 fits"):
            design(picture((100.0, 52.0), dpi=None))


def test_cmyk_without_a_profile_is_told_with_an_order() -> None:
    found = trouble(told(picture(kind="TIFF", mode="CMYK")))
    assert (found.name, found.edits) == ("profile", ())
    assert "RGB" in found.order


def test_in_a_variant_the_edit_goes_there() -> None:
    text = BOX + '[[decal]]\nart = "art.png"\n[variants.moss]\n[[variants.moss.decal]]\nart = "other.png"\n'
    given = {"art.png": picture(), "other.png": picture(ground="#faf8f0")}
    (account,) = accounts(mockup.loads(text, given, "moss"))
    after = apply(text, trouble(account).edits, "layout.toml")
    assert mockup.loads(after, given, None).decals[0].art.pixels[0, 0, 3] == 0  # its ground was clear before
    assert not accounts(mockup.loads(after, given, "moss"))[0].troubles
    assert after.count("white") == 1


def test_the_checks_say_it_with_the_same_edits() -> None:
    found = [each for each in mockup.check(design(picture(ground="#faf8f0"))) if each.check == "art-file"]
    assert [each.severity for each in found] == ["warn"]
    assert found[0].edits == trouble(told(picture(ground="#faf8f0"))).edits
