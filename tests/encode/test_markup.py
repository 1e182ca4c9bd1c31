"""Words in XML and HTML come back as they were read, whatever they hold; an independent reader says so."""

from __future__ import annotations

from html.parser import HTMLParser
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from mockup.encode.markup import html_text, xml_attribute, xml_text
from mockup.model.text import printable_lines

WORDS = st.text(st.characters(codec=None))


@given(WORDS)
def test_xml_is_well_formed_and_says_the_words(words: str) -> None:
    page = f"<a b={xml_attribute(words)}>{xml_text(words)}</a>".encode()
    read = ElementTree.fromstring(page)
    shown = printable_lines(words)
    assert (read.text or "") == shown
    assert read.get("b") == shown  # quoteattr writes an end of line as a reference: XML 1.0 3.3.3 keeps those


@given(WORDS)
def test_html_says_the_words_and_begins_no_element(words: str) -> None:
    said: list[str] = []
    begun: list[str] = []
    parser = HTMLParser()
    parser.handle_data = said.append  # type: ignore[method-assign]
    parser.handle_starttag = lambda tag, attrs: begun.append(tag)  # type: ignore[method-assign]
    parser.feed(f"<p>{html_text(words)}</p>")
    parser.close()
    assert "".join(said) == printable_lines(words)
    assert begun == ["p"]
