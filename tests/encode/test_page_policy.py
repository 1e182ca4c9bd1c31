"""A page tells the browser to run and load nothing but what is in it: Content Security Policy Level 3."""

from __future__ import annotations

import base64
import hashlib
from html.parser import HTMLParser

import pytest

from mockup.encode.document import Block, Document, Gallery, Lineup, Paragraph, Photo, Section, Spin
from mockup.encode.html import html
from mockup.lights import presets

PHOTO = Photo(name="a.png", data=b"x", media="image/png", width_px=1, height_px=1, alt="a", caption="a")
LINEUP = Lineup(names=("a", "b"), data=b"x", alts=("a", "b"), file_name="a.glb", across=2)
SPIN = Spin(models=(("a", b"x"),), alt="a", file_name="a.glb")


class Page(HTMLParser):
    """What a browser would run, its policy, and every attribute."""

    def __init__(self, data: bytes) -> None:
        super().__init__()
        self.run: dict[str, list[str]] = {"script": [], "style": []}
        self.policy: dict[str, list[str]] = {}
        self.attributes: set[str] = set()
        self._inside = ""
        self.feed(data.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.attributes |= set(given)
        if given.get("http-equiv") == "Content-Security-Policy":
            assert not any(self.run.values()), "it comes before all that it governs"
            words = [each.split() for each in (given["content"] or "").split(";")]
            self.policy = {name: sources for name, *sources in words}
        if tag in self.run and "type" not in given:
            self._inside = tag
            self.run[tag].append("")

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.run[self._inside][-1] += data

    def handle_endtag(self, tag: str) -> None:
        self._inside = ""


@pytest.mark.parametrize(
    ("blocks", "scripts"),
    [((Paragraph(text="<b>"),), 0), ((Gallery(photos=(PHOTO,), across=3), LINEUP), 2), ((SPIN,), 2)],
    ids=["words", "lineup", "spin"],
)
def test_just_what_is_in_the_page_is_allowed(blocks: tuple[Block, ...], scripts: int) -> None:
    section = Section(heading="a", blocks=blocks)
    page = Page(html(Document(title="a", under="a", sections=(section,), foot="a"), presets()["bench"]))
    assert len(page.run["script"]) == scripts
    for name, texts in page.run.items():
        hashes = [f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" for text in texts]
        assert page.policy.get(f"{name}-src", []) == hashes
    assert page.policy["default-src"] == ["'none'"]
    sources = {each for name, given in page.policy.items() for each in given if not each.startswith("'sha256-")}
    assert sources <= {"'none'", "data:", "blob:"}
    assert "style" not in page.attributes, "no element has a style of its own, which a hash does not allow"
    assert not [each for each in page.attributes if each.startswith("on")]
