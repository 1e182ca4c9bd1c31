"""Lists to sweep over: written on the command line or in a file of paints."""

from __future__ import annotations

import pytest

from mockup.comparison.sweep import axes
from mockup.model.errors import InputError


def rows(text: str) -> list[tuple[str, list[str]]]:
    return [(each.caption, [one.value for one in each.assignments]) for each in axes.paints(text, "p.csv").values]


def lines(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        axes.paints(text, "p.csv")
    return str(caught.value).splitlines()


PLAIN = [("Sea green", ["#2a6f6b"]), ("Oxide", ["firebrick", "satin"])]


@pytest.mark.parametrize(
    "text",
    [
        "Sea green,#2a6f6b\nOxide,firebrick,satin\n",
        "name,colour,sheen\nSea green,#2a6f6b,\nOxide,firebrick,satin",
        "Name; Colour; Sheen\r\nSea green; #2a6f6b;\r\n\r\nOxide; firebrick; Satin\r\n",
        "sheen\tcolor\tname\n\t#2a6f6b\tSea green\nsatin\tfirebrick\tOxide",
        ' "Sea green" , #2a6f6b\n"Oxide",firebrick, satin ',
    ],
)
def test_a_list_of_paints_is_read_as_spreadsheets_write_it(text: str) -> None:
    assert rows(text) == PLAIN


def test_colours_alone_are_their_own_names() -> None:
    assert rows("#2a6f6b\nteal\n") == [("#2a6f6b", ["#2a6f6b"]), ("teal", ["teal"])]


def test_every_bad_row_is_named_by_its_number_in_the_file() -> None:
    found = lines("name,colour,sheen\nA,#2a6f6b\nB,tael\n\nC,,gloss\nD,red,glossy\nE,red,matte,7\n")
    assert [line.split(":")[0] for line in found] == [f"p.csv row {number}" for number in (3, 5, 6, 7)]
    assert "teal" in found[0]
    assert "no colour" in found[1]
    assert "did you mean 'gloss'?" in found[2]
    assert "1 cell too many" in found[3]


def test_an_empty_list_says_how_to_write_one() -> None:
    assert lines("name,colour\n\n") == ["p.csv: holds no paint; write rows such as: Sea green, #2a6f6b, satin"]


def test_product_of_lists_says_only_what_varies() -> None:
    found = axes.combinations(
        [
            axes.axis("--paint", "finish.paint", "red,navy"),
            axes.axis("--film", "decal.film", "clear"),
            axes.setting("--set", "part.TONE.left=12,14.5"),
        ]
    )
    assert [each.caption for each in found] == [
        "red, TONE left 12",
        "red, TONE left 14.5",
        "navy, TONE left 12",
        "navy, TONE left 14.5",
    ]
    assert [each.key for each in found[0].assignments] == ["finish.paint", "decal.film", "part.TONE.left"]
    assert found[3].assignments[2].origin == "--set part.TONE.left=14.5"


def test_too_many_combinations_are_refused_before_any_work() -> None:
    many = ",".join(str(number) for number in range(1, 41))
    with pytest.raises(InputError, match=r"40 .* 40 .* make 1600 combinations; the most is 1000"):
        axes.combinations([axes.setting("--set", f"box.edge={many}"), axes.setting("--set", f"box.corner={many}")])


def test_a_key_may_be_listed_once() -> None:
    twice = [axes.axis("--paint", "finish.paint", "red,navy"), axes.setting("--set", "finish.paint=teal")]
    with pytest.raises(InputError, match=r"finish\.paint is listed already by --paint"):
        axes.combinations(twice)


@pytest.mark.parametrize("text", ["", "red,,navy", "red,"])
def test_a_gap_in_a_list_is_a_mistake(text: str) -> None:
    with pytest.raises(InputError, match="--paint: expected values"):
        axes.axis("--paint", "finish.paint", text)


def test_captions_stay_different() -> None:
    found = axes.combinations([axes.paints("Blue,#0000ff\nBlue,#0000ee", "p.csv")])
    assert [each.caption for each in found] == ["Blue", "Blue (2)"]


def test_a_cell_beyond_all_measure_and_hidden_characters_are_told_or_shown() -> None:
    """Readers of CSV stop at 131072 characters of a field."""
    with pytest.raises(InputError, match=r"^p\.csv row 2: cannot be read \(field larger than field limit"):
        axes.paints("Blue,#0000ff\n" + "x" * 200_000 + ",#00ff00", "p.csv")
    found = axes.paints("Bl\x1b[31mue,#0000ff\nRe\u202ed,#ff0000", "p.csv")
    assert [each.caption for each in found.values] == ["Bl?[31mue", "Re?d"]
