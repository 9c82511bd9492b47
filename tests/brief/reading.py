"""What the tests of the forms share: finding texts in a rendered brief."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import Any

from interview.brief.forms import render
from interview.plan.model import Plan


def text_of(plan: Plan, form: str, **how: Any) -> str:
    """A form that is text."""
    made = render(plan, form, **how)
    assert isinstance(made, str)
    return made


def words_of(text: str) -> str:
    """The text with every run of white space as one blank."""
    return " ".join(text.split())


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.texts: list[str] = []
        self.tags: list[str] = []
        self._skip = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del attrs
        self.tags.append(tag)
        self._skip += tag in ("style", "script")

    def handle_endtag(self, tag: str) -> None:
        self._skip -= tag in ("style", "script")

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self.texts.append(data)


def html_text(html: str) -> str:
    """What a reader sees of an HTML text, blanks made one."""
    reader = _Texts()
    reader.feed(html)
    return words_of(" ".join(reader.texts))


def html_tags(html: str) -> list[str]:
    """The names of all start tags, in order."""
    reader = _Texts()
    reader.feed(html)
    return reader.tags


def without_colour(text: str) -> str:
    """The text without ANSI colour codes."""
    return re.sub("\x1b\\[[0-9;]*m", "", text)
