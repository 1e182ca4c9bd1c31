"""Changes from both sides: what agrees is put together, what does not is asked about thing by thing."""

import tomllib

import pytest

from mockup.layout.edit.merge import ClashError, merged

BEFORE = """# by hand
name = "Pond"
[finish]
paint = "#ffffff"
[[part]]
name = "TONE"
left = 10.0
top = 20.0
[[part]]
name = "MIX"
left = 30.0
"""
MINE = BEFORE.replace("left = 10.0", "left = 11.0").replace("#ffffff", "#000000").replace("top = 20.0", "top = 25.0")
THEIRS = BEFORE.replace("left = 10.0", "left = 12.0").replace("#ffffff", "#ff0000").replace("Pond", "Lake")
LEFT, PAINT = ("part", "TONE", "left"), ("finish", "paint")


def clashes(*, prefer=None):
    with pytest.raises(ClashError) as found:
        merged(BEFORE, MINE, THEIRS, "x.toml", prefer=prefer)
    return found.value


def test_each_clash_says_both_values():
    error = clashes()
    told = {each.place: (each.here, each.there) for each in error.clashes}
    assert told == {LEFT: (11.0, 12.0), PAINT: ("#000000", "#ff0000")}
    assert [each.place for each in error.clashes if each.is_lost] == []
    assert len(error.faults) == 2


@pytest.mark.parametrize("left", ["mine", "file"])
@pytest.mark.parametrize("paint", ["mine", "file"])
def test_each_thing_may_come_from_its_own_side(left, paint):
    text = merged(BEFORE, MINE, THEIRS, "x.toml", prefer={LEFT: left, PAINT: paint})
    raw = tomllib.loads(text)
    assert raw["part"][0] == {"name": "TONE", "left": 11.0 if left == "mine" else 12.0, "top": 25.0}
    assert raw["finish"]["paint"] == ("#000000" if paint == "mine" else "#ff0000")
    assert raw["name"] == "Lake"
    assert text.startswith("# by hand\n")


def test_what_is_not_ticked_is_asked_about_again():
    assert [each.place for each in clashes(prefer={PAINT: "mine"}).clashes] == [LEFT]


def test_what_stood_in_a_part_that_is_gone_cannot_stay():
    theirs = BEFORE.replace('[[part]]\nname = "TONE"\nleft = 10.0\ntop = 20.0\n', "")
    mine = BEFORE.replace("left = 10.0", "left = 11.0")
    with pytest.raises(ClashError) as found:
        merged(BEFORE, mine, theirs, "x.toml")
    assert [(each.place, each.is_lost) for each in found.value.clashes] == [(LEFT, True)]
    assert merged(BEFORE, mine, theirs, "x.toml", prefer={LEFT: "file"}) == theirs
