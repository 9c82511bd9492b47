"""How each part of a brief looks as CommonMark: the filters of the text template.

Every text is escaped here, so that what a person typed stands there as text. Lines are wrapped, so that the
raw file reads well too.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from interview.brief.typesetting import NARROWEST, WIDEST, wrapped
from interview.text.wording import sentence

_SPECIAL = re.compile(r"[\\`*\[<]|(?<![^\W_])_|_(?![^\W_])|&(?=[#\w])|~(?=~)")
# what would begin a heading, quote, list, rule or underline if it came first on a line
_OPENER = re.compile(r"#{1,6}(?=\s|$)|>|[-+](?=\s|$)|-{2,}\s*$|=+\s*$|\d{1,9}(?P<dot>[.)])(?=\s|$)")
_BOX = "[ ]"
_UNDER = "  "


def escaped(text: str) -> str:
    """The text so that CommonMark shows it as it is, wherever in a line it lands but at its start."""
    return _SPECIAL.sub(lambda found: "\\" + found[0], text)


def _guarded(line: str) -> str:
    """A line that cannot be taken for the start of a block."""
    found = _OPENER.match(line)
    if not found:
        return line
    place = found.start("dot") if found["dot"] else 0
    return f"{line[:place]}\\{line[place:]}"


class MarkdownSheet:
    """Sets text for one width."""

    def __init__(self, width: int) -> None:
        self._width = min(max(width, NARROWEST), WIDEST)

    def title(self, text: str) -> str:
        return f"# {_on_heading(text)}\n"

    def heading(self, text: str) -> str:
        return f"## {_on_heading(text)}\n"

    alarm = heading

    def minor(self, text: str) -> str:
        """A heading inside a section."""
        return f"\n### {_on_heading(text)}\n"

    def para(self, text: str) -> str:
        return f"\n{self._flow(escaped(text))}\n"

    inset = para

    def lead(self, text: str) -> str:
        """The one line that must not be missed."""
        return f"\n{self._flow(_strong(text))}\n"

    def row(self, text: str, name: str, mark: str = "") -> str:
        return self.point(text, name, mark)

    def point(self, text: str, name: str = "", mark: str = "") -> str:
        return self._flow(_with(_named(name, text), mark), "- ")

    def remark(self, text: str, name: str) -> str:
        return f"\n{self._flow(_named(name, text))}\n"

    def tick(self, text: str, name: str, amount: str = "", mark: str = "") -> str:
        """A thing to get."""
        says = _with(f"{_strong(name)}, {escaped(amount)}" if amount else _strong(name), mark)
        return self._flow(f"{_BOX} {says}: {escaped(text)}" if text else f"{_BOX} {says}", "- ")

    def entry(self, text: str, number: object, mark: str = "", times: str = "", behind: bool = False) -> str:
        """The first line of a trial or a step, and how long it takes; ticked where it is behind the maker."""
        says = f"{'[x]' if behind else _BOX} {_strong(sentence(f'{number}. {text}'))}"
        return self._flow(_with(f"{says} ({escaped(times)})" if times else says, mark), "- ")

    def under(self, text: str) -> str:
        """What belongs to an entry."""
        return self._flow(escaped(text), _UNDER)

    def seen(self, text: str) -> str:
        """One outcome of a trial."""
        return self._flow(escaped(text), f"{_UNDER}- ")

    def detail(self, text: str, name: str) -> str:
        return self._flow(_named(name, text), f"{_UNDER}- ")

    def boxes(self, names: Sequence[str]) -> str:
        return self._flow("   ".join(f"{_BOX} {escaped(name)}" for name in names), f"{_UNDER}- ")

    def things(self, names: Sequence[str]) -> str:
        """Small things to get, which need no words."""
        return "\n".join(self._flow(f"{_BOX} {escaped(name)}", "- ") for name in names)

    def source(self, text: str, name: str, number: int) -> str:
        return self._flow(f"[{number}] {escaped(f'{name} ({text})' if text else name)}", "- ")

    def sources(self, names: Sequence[str]) -> str:
        """Sources in few words."""
        return "\n".join(self._flow(escaped(name), "- ") for name in names)

    def _flow(self, text: str, first: str = "") -> str:
        """`text` is escaped already; `first` is a list mark or an indent."""
        lines = wrapped(text, self._width, first, tear=False)
        return "\n".join(line[: len(first)] + _guarded(line[len(first) :]) for line in lines)


def _on_heading(text: str) -> str:
    """A closing row of # signs would be swallowed."""
    return re.sub(r"#(?=#*\s*$)", r"\\#", escaped(text))


def _strong(text: str) -> str:
    return f"**{escaped(text)}**"


def _named(name: str, text: str) -> str:
    if not name:
        return escaped(text)
    return f"{_strong(name)}: {escaped(text)}" if text else _strong(name)


def _with(text: str, mark: str) -> str:
    return f"{text} {mark}" if mark else text
