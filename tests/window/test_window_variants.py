"""Variants in a real window: one is made, named, dressed, compared, made the design; each is one step of undo."""

import tomllib

import pytest

pytestmark = [pytest.mark.gl, pytest.mark.slow]


def raw(project):
    return tomllib.loads((project / "layout.toml").read_text())


def test_a_variant_is_made_named_painted_compared_and_becomes_the_design(start, project):
    before = raw(project)
    window = start(project)
    window.ready()
    window.click("head.new-variant")
    window.type("Moss")  # at once: its sheet and its first picture are on their way
    window.key("Return")
    window.until(lambda now: now["variants"] == ["Moss"], "named")
    window.settled()
    window.key("F2")
    window.until(lambda now: now["focus"][1] == "variant.name", "its name again")
    window.type(next(iter(before["variants"])))
    window.key("Return")
    window.until(lambda now: "already: this one stays Moss" in (now["line"] or ""), "refused in one line")
    window.click("head.name")
    window.until(lambda now: now["focus"][1] == "which.mark", "the mark of a page is asked for")
    window.type("abc")
    window.key("Return", "Escape")
    window.until(lambda now: not now["is_asking"], "the card is gone")
    window.click("variants.paint.moss")
    window.settled()
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved")
    after = raw(project)
    assert after["variants"]["Moss"] == {"finish": {"paint": "#8fb39b"}}
    assert after["finish"] == before["finish"]  # the change is its own
    window.key("ctrl+b")
    window.until(lambda now: len(now["variants"]) == 2, "side by side")
    window.key("ctrl+b")
    window.click("variants.adopt")
    window.until(lambda now: now["variants"] == [None], "it is the design")
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "saved again")
    done = raw(project)
    assert done["finish"]["paint"] == "#8fb39b"
    assert "Moss" not in done["variants"]
    assert set(done["variants"]) == set(before["variants"])
    window.key("ctrl+z", "ctrl+z", "ctrl+z")  # adopted, painted, made under its name
    window.until(lambda now: now["is_changed"], "taken back")
    window.key("ctrl+s")
    window.until(lambda now: not now["is_changed"], "as it was")
    assert raw(project) == before
