"""A font's metrics and outlines against an independent font library, and fonts that are none."""

from __future__ import annotations

import io
import random
import struct

import numpy as np
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTCollection, TTFont
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mockup.decal.curves import Curves, bounds, path, placed
from mockup.decal.typeface import cap_mm, line, missing, read
from mockup.model.errors import InputError

LETTERS = "ABGOQRSWgjpty@&0589é"


@pytest.fixture(scope="module")
def tables(bold):
    """Return the font as the independent library reads it."""
    return TTFont(io.BytesIO(bold))


@pytest.fixture(scope="module")
def face(bold):
    """Return the font as ours."""
    return read(bold, "bold.ttf")


@pytest.fixture(scope="module")
def whole(bold):
    """Return the file's bytes in a shape that a failing test prints short."""
    return memoryview(bold)


def saved(font: TTFont) -> bytes:
    """Return a changed font as a file."""
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def test_the_metrics_are_those_of_its_own_tables(face, tables):
    assert face.units_per_em == tables["head"].unitsPerEm
    assert face.cap_height == tables["OS/2"].sCapHeight


def test_points_are_the_size_of_the_em(face):
    assert cap_mm(face, 72) == pytest.approx(25.4 * 0.72)  # 72 pt are an inch; capitals are 1440 of 2000
    assert cap_mm(face, 8) == pytest.approx(2.032)


def test_a_font_that_states_no_height_of_capitals_has_that_of_its_h(bold, tables):
    font = TTFont(io.BytesIO(bold))
    font["OS/2"].sCapHeight = 0
    h = font["glyf"][font.getBestCmap()[ord("H")]]
    assert read(saved(font), "a.ttf").cap_height == h.yMax
    for table in font["cmap"].tables:
        table.cmap.pop(ord("H"), None)
    assert read(saved(font), "a.ttf").cap_height == pytest.approx(0.7 * 2000)


@pytest.mark.parametrize("letter", LETTERS)
def test_each_letters_outline_has_the_size_and_area_that_the_other_library_finds(face, tables, letter):
    glyphs, name = tables.getGlyphSet(), tables.getBestCmap()[ord(letter)]
    box, area = BoundsPen(glyphs), AreaPen(glyphs)
    glyphs[name].draw(box)
    glyphs[name].draw(area)
    scale = 3.0 / 1440
    drawn = line(face, letter, 3.0)
    left, top, right, bottom = bounds(drawn.curves)
    assert drawn.width_mm == pytest.approx((box.bounds[2] - box.bounds[0]) * scale, abs=1e-9)
    assert (left, right) == pytest.approx((-drawn.width_mm / 2, drawn.width_mm / 2), abs=1e-9)
    assert (top, bottom) == pytest.approx((1.5 - box.bounds[3] * scale, 1.5 - box.bounds[1] * scale), abs=1e-9)
    assert enclosed(drawn.curves) == pytest.approx(-area.value * scale**2, rel=1e-9)


def enclosed(curves: Curves) -> float:
    """Return the signed area inside, by Gauss-Legendre quadrature of x dy (exact for cubics)."""
    times, weights = np.polynomial.legendre.leggauss(4)
    times, weights = (times[:, None, None] + 1) / 2, weights / 2
    a, b, c, d = np.moveaxis(curves.points, 1, 0)
    point = a * (1 - times) ** 3 + 3 * b * times * (1 - times) ** 2 + 3 * c * times**2 * (1 - times) + d * times**3
    speed = 3 * ((b - a) * (1 - times) ** 2 + 2 * (c - b) * times * (1 - times) + (d - c) * times**2)
    return float((weights[:, None] * point[..., 0] * speed[..., 1]).sum())


def kerning(font: TTFont, one: str, other: str) -> int:
    """Return the pair adjustment that the font's GPOS table holds for two letters."""
    names = font.getBestCmap()
    left, right = names[ord(one)], names[ord(other)]
    gpos = font["GPOS"].table
    used = {
        i
        for record in gpos.FeatureList.FeatureRecord
        if record.FeatureTag == "kern"
        for i in record.Feature.LookupListIndex
    }
    for index in sorted(used):
        for table in gpos.LookupList.Lookup[index].SubTable:
            table = table.ExtSubTable if table.LookupType == 9 else table
            if table.LookupType != 2 or left not in table.Coverage.glyphs:
                continue
            if table.Format == 1:
                pairs = table.PairSet[table.Coverage.glyphs.index(left)].PairValueRecord
                value = next((each.Value1 for each in pairs if each.SecondGlyph == right), None)
            else:
                row = table.Class1Record[table.ClassDef1.classDefs.get(left, 0)]
                value = row.Class2Record[table.ClassDef2.classDefs.get(right, 0)].Value1
            if value is not None:
                return value.XAdvance
    return 0


@pytest.mark.parametrize("pair", ["HH", "AV", "TO", "LT", "WA", "Yo"])
def test_letters_stand_as_far_apart_as_advance_and_kerning_say(face, tables, pair):
    names, widths, shapes = tables.getBestCmap(), tables["hmtx"], tables["glyf"]
    first, last = (names[ord(each)] for each in pair)
    expected = widths[first][0] + kerning(tables, *pair) + shapes[last].xMax - shapes[first].xMin
    assert line(face, pair, 1.44).width_mm == pytest.approx(expected / 1000, abs=1e-9)


def test_the_pairs_above_are_kerned_at_all(tables):
    assert kerning(tables, "A", "V") < 0 == kerning(tables, "H", "H")


def test_spacing_is_added_between_letters_only(face):
    plain, spaced = line(face, "TIDE", 3), line(face, "TIDE", 3, 0.5)
    assert spaced.width_mm == pytest.approx(plain.width_mm + 3 * 0.5)
    assert line(face, "I", 3, 0.5).width_mm == line(face, "I", 3).width_mm


def test_an_accent_of_its_own_stays_with_its_letter_when_spaced(face):
    whole, split = line(face, "É", 3, 2.0), line(face, "E\u0301", 3, 2.0)
    assert split.width_mm == pytest.approx(whole.width_mm, abs=0.05)


def test_size_scales_everything(face):
    small, large = line(face, "Tide", 1.5), line(face, "Tide", 6)
    np.testing.assert_allclose(large.curves.points, 4 * small.curves.points, rtol=1e-12, atol=1e-12)
    assert large.width_mm == pytest.approx(4 * small.width_mm)


def test_characters_that_the_font_lacks_are_named_once_in_order(face):
    assert missing(face, "TIDE") == ()
    assert missing(face, "A漢🎸B漢") == ("漢", "🎸")


def cubic_font() -> bytes:
    """Return an OpenType font of cubic outlines: an O whose arms reach beyond its ends, and an empty .notdef."""
    pen = T2CharStringPen(600, {})
    pen.moveTo((100, 0))
    pen.curveTo((100, 400), (500, 400), (500, 0))  # at its highest half-way: 3/4 of 400
    pen.curveTo((500, -400), (100, -400), (100, 0))
    pen.closePath()
    build = FontBuilder(1000, isTTF=False)
    build.setupGlyphOrder([".notdef", "O"])
    build.setupCharacterMap({ord("O"): "O"})
    build.setupCFF("Ours", {}, {".notdef": T2CharStringPen(600, {}).getCharString(), "O": pen.getCharString()}, {})
    build.setupHorizontalMetrics({".notdef": (600, 0), "O": (600, 100)})
    build.setupHorizontalHeader(ascent=800, descent=-200)
    build.setupNameTable({"familyName": "Ours", "styleName": "Regular"})
    build.setupOS2(sCapHeight=500)
    build.setupPost()
    return saved(build.font)


def test_cubic_outlines_are_drawn_as_they_are():
    face = read(cubic_font(), "ours.otf")
    drawn = line(face, "OO", 5.0)  # a font unit is 0.01 mm; the middle of the box is 2.5 mm above the baseline
    assert (face.units_per_em, face.cap_height) == (1000, 500)
    assert drawn.width_mm == pytest.approx(6 + 4)
    assert bounds(drawn.curves) == pytest.approx((-5, 2.5 - 3, 5, 2.5 + 3))
    # By hand, by x dy: each half encloses 4 * 4 * 3/5 mm2 (the cubic bump of width w, arms h: 0.6 w h).
    assert abs(enclosed(drawn.curves)) == pytest.approx(2 * 2 * 0.6 * 4 * 4)
    assert path(drawn.curves).count("Z") == 2


def test_of_a_collection_the_first_face_is_taken(bold):
    both = TTCollection()
    both.fonts = [TTFont(io.BytesIO(bold)), TTFont(io.BytesIO(cubic_font()))]
    out = io.BytesIO()
    both.save(out)
    face = read(out.getvalue(), "both.ttc")
    assert (face.units_per_em, face.cap_height) == (2000, 1440)
    assert line(face, "H", 3).width_mm == line(read(bold, "bold.ttf"), "H", 3).width_mm
    with pytest.raises(InputError):
        read(out.getvalue()[:-5000], "both.ttc")


def test_what_has_no_ink_is_empty(face):
    assert line(face, "\u00a0", 3).curves.is_empty
    assert path(line(face, "\u00a0", 3).curves) == ""


NO_FONT = "is not a font, or is damaged or cut short; expected a .ttf or .otf file; copy the font file again"
BAD = [
    (b"", "is empty; copy the font file again"),
    (b"wOF2" + bytes(100), "is a font packed for web pages; use the font's .ttf or .otf file"),
    (b"\x89PNG\r\n\x1a\n" + bytes(100), NO_FONT),
    (b"\x00\x01\x00\x00", NO_FONT),
    (b"\x00\x01\x00\x00" + bytes(100), NO_FONT),
    (b"ttcf\x00", NO_FONT),
    (b"ttcf" + bytes(100), NO_FONT),
]


@pytest.mark.parametrize(("data", "message"), BAD)
def test_what_is_no_font_is_refused(data, message):
    with pytest.raises(InputError) as caught:
        read(data, "bold.ttf")
    assert str(caught.value) == f"bold.ttf: {message}"


def test_a_font_without_outlines_is_refused(bold):
    font = TTFont(io.BytesIO(bold))
    for tag in ("glyf", "loca", "gvar", "fpgm", "prep", "cvt "):
        if tag in font:
            del font[tag]
    with pytest.raises(InputError, match=r"^a\.ttf: has no outlines to draw; use a \.ttf or \.otf"):
        read(saved(font), "a.ttf")


@settings(max_examples=30)
@given(share=st.floats(0, 0.999))
def test_a_font_cut_short_anywhere_is_refused(whole, share):
    with pytest.raises(InputError):
        read(bytes(whole[: int(share * len(whole))]), "bold.ttf")


@settings(max_examples=60)
@example(harm=[(0.03125, 128)])  # the name of a table in the directory, no longer ASCII
@given(harm=st.lists(st.tuples(st.floats(0, 0.9999), st.integers(0, 255)), min_size=1, max_size=40))
def test_a_damaged_font_is_refused_or_draws_something_finite(whole, harm):
    data = bytearray(whole)
    for share, value in harm:
        data[int(share * (len(data) if value % 2 else 4000))] = value
    try:
        face = read(bytes(data), "bold.ttf")
        missing(face, "TIDE 10")
        drawn = line(face, "TIDE 10", 3.0, 0.1)
    except InputError as error:
        assert str(error).startswith("bold.ttf: ")
    else:
        assert np.isfinite(drawn.curves.points).all()


def test_every_bit_that_changes_in_a_table_is_told(whole):
    """OpenType has a sum for each table and one for the file (ISO/IEC 14496-22 4.3.2 and 5.2.4)."""
    chance = random.Random(5)
    count = struct.unpack_from(">H", whole, 4)[0]
    tables = [struct.unpack_from(">4sIII", whole, 12 + 16 * index) for index in range(count)]
    spans = [(offset, length) for tag, _, offset, length in tables if tag != b"head"]  # which holds the file's own sum
    for _ in range(150):
        offset, length = chance.choice(spans)
        data = bytearray(whole)
        data[offset + chance.randrange(length)] ^= 1 << chance.randrange(8)
        with pytest.raises(InputError, match=r"^bold\.ttf: is damaged: the checksum of its table '.*' is wrong"):
            read(bytes(data), "bold.ttf")


def test_a_slip_of_whoever_wrote_the_font_is_no_damage(whole):
    """One sum alone that is wrong: of the whole file, or of a table where the file's allows for it."""
    count = struct.unpack_from(">H", whole, 4)[0]
    for index in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", whole, 12 + 16 * index)
        if tag == b"head":
            file_sum, table_sum = offset + 8, 12 + 16 * index + 4
    alone = bytearray(whole)
    alone[file_sum] ^= 255
    assert read(bytes(alone), "bold.ttf").units_per_em == read(bytes(whole), "bold.ttf").units_per_em
    both = bytearray(whole)
    for at, step in ((table_sum, 1), (file_sum, -1)):  # one more in the directory, one less in the adjustment
        struct.pack_into(">I", both, at, (struct.unpack_from(">I", both, at)[0] + step) % 2**32)
    assert read(bytes(both), "bold.ttf").cap_height == read(bytes(whole), "bold.ttf").cap_height


COORDINATE = st.floats(-50, 50, allow_subnormal=False)


@settings(max_examples=200)
@given(st.lists(st.tuples(*[COORDINATE] * 8), min_size=1, max_size=3))
def test_the_box_touches_the_curve_and_holds_it(numbers):
    points = np.array(numbers).reshape(-1, 4, 2)
    left, top, right, bottom = bounds(Curves(points=points, starts=(0,)))
    t = np.linspace(0, 1, 2001)[:, None, None]
    a, b, c, d = np.moveaxis(points, 1, 0)
    along = (a * (1 - t) ** 3 + 3 * b * t * (1 - t) ** 2 + 3 * c * t**2 * (1 - t) + d * t**3).reshape(-1, 2)
    seen = [*along.min(axis=0), *along.max(axis=0)]
    # Between two of the samples, 1/2000 apart, a cubic of this size bulges by far less than 1e-3.
    assert (left, top) <= (seen[0] + 1e-9, top) and top <= seen[1] + 1e-9
    assert right >= seen[2] - 1e-9 and bottom >= seen[3] - 1e-9
    np.testing.assert_allclose([left, top, right, bottom], seen, atol=1e-3)


def test_turning_is_clockwise_as_seen():
    one = Curves(points=np.array([[[1.0, 0.0], [1.0, 0.0], [1.0, 0.0], [0.0, -2.0]]]), starts=(0,))
    turned = placed(one, 10, 20, 90).points  # right goes to down, up goes to right
    np.testing.assert_allclose(turned[0, [0, 3]], [[10, 21], [12, 20]], atol=1e-12)
