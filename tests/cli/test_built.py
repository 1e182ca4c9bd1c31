"""What `mockup built` is told of a picture, taken or refused in one line."""

import pytest

from mockup.cli.built import _answers, _pair
from mockup.model.errors import InputError
from mockup.options import parse_corners


@pytest.mark.parametrize("word", ["3=nan,0", "3=4,0", "3=0,-3.1", "3=rim", "x=found", "3"])
def test_an_answer_that_is_none_is_refused(word: str) -> None:
    with pytest.raises(InputError, match="--hole: "):
        _answers((word,))


def test_answers_by_the_holes_number() -> None:
    found = _answers(("3=rival", "4=+0.2,-0.1", "5=?"))
    assert [found[number].circle for number in (3, 4, 5)] == ["rival", "found", None]
    assert (found[4].right_mm, found[4].down_mm) == (0.2, -0.1)


@pytest.mark.parametrize("text", ["1,2 3,4 5,6", "1,2 3,4 5,6 7,nan", "1,2 3,4 5,6 7", "a,b c,d e,f g,h", ""])
def test_four_corners_are_four_points(text: str) -> None:
    with pytest.raises(ValueError, match="is not four points; count pixels from the top left"):
        parse_corners(text)
    assert parse_corners("90,80 610,84 606,420 88,415")[1] == (610.0, 84.0)


@pytest.mark.parametrize("text", ["100", "100,nan", "100,inf", "100,99,98"])
def test_two_lengths_are_two_numbers(text: str) -> None:
    with pytest.raises(ValueError, match="is no pair of lengths"):
        _pair(text)
