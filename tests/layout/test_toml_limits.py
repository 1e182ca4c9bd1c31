"""What holds more than any layout is refused by a stated limit, before anything looks at it."""

from __future__ import annotations

import time

import pytest

from mockup.layout import toml
from mockup.layout.parse import parse
from mockup.model.errors import InputError

BOX = '[box]\nsize = "112x60x31"\n'
MANY = 20_000
FLOODS = {
    "dotted lines": (BOX + "".join(f"a{i}.b{i} = {i}\n" for i in range(MANY)), "20002 tables; the limit is 5000"),
    "one dotted key": (BOX + "a." * MANY + "b = 1\n", "more than 32 steps"),
    "quoted": (BOX + '"a b" . ' * MANY + "b = 1\n", "more than 32 steps"),
    "quotes in quotes": (BOX + r'"\"".' * MANY + "b = 1\n", "more than 32 steps"),
    "in an inline table": (BOX + "x = { y = 1, " + "a." * MANY + "b = 1 }\n", "more than 32 steps"),
    "one header": ("[" + "a." * MANY + "b]\n", "more than 32 steps"),
    "keys of the box": ("".join(f"box.k{i} = {i}\n" for i in range(MANY)), "20001 keys; the limit is 10000"),
    "lists in lists": (BOX + "a = " + "[" * MANY + "]" * MANY, "nested too deeply"),
    "faulty parts": (BOX + '[[part]]\nkind = "x"\n' * MANY, "20002 tables; the limit is 5000"),
    "much of it": (BOX + "# sea\n" * 10**6, "is 6000025 characters long; the limit is 500000"),
    "quotes that close nowhere": (BOX + 'a = "' + r"\"" * 200_000, "not valid TOML"),
}


@pytest.mark.parametrize("name", FLOODS)
def test_a_flood_is_refused_in_one_line_within_a_second(name: str) -> None:
    text, said = FLOODS[name]
    started = time.process_time()
    with pytest.raises(InputError) as refused:
        parse(text, "layout.toml")
    assert time.process_time() - started < 1.0
    assert len(refused.value.faults) == 1
    assert said in str(refused.value)


def test_a_key_of_as_many_steps_as_are_allowed_is_read() -> None:
    key = ".".join(["a"] * toml.MAX_STEPS)
    assert toml.read_toml(f"{key} = 1", "layout.toml")
    with pytest.raises(InputError, match="more than 32 steps"):
        toml.read_toml(f"a.{key} = 1", "layout.toml")


@pytest.mark.parametrize("text", [". " * 500, "1.2.3.4", "a. b. c. " * 10, "." * 200, "Sea and sand. " * 100])
def test_dots_in_words_are_no_long_key(text: str) -> None:
    assert toml.read_toml(f'# {text}\nabout = "{text}"', "layout.toml") == {"about": text}
