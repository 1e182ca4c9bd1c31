"""Words as XML and HTML take them: what is markup is escaped, what no page may hold is a question mark."""

from __future__ import annotations

import html
from xml.sax import saxutils

from mockup.model.text import printable_lines


def xml_text(words: str) -> str:
    """Return words as text between the tags of XML 1.0."""
    return saxutils.escape(printable_lines(words))


def xml_attribute(words: str) -> str:
    """Return words as the value of an attribute of XML 1.0, its quotes with it."""
    return saxutils.quoteattr(printable_lines(words))


def html_text(words: str) -> str:
    """Return words as text or, between double quotes, as an attribute's value of HTML."""
    return html.escape(printable_lines(words))
