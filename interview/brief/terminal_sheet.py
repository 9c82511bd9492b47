"""How each part of a brief looks in a terminal: the filters of the text template."""

from __future__ import annotations

from collections.abc import Sequence

from interview.brief.typesetting import NARROWEST, WIDEST, columns, two_columns, wrapped

_BOLD, _WARNING, _PLAIN = "\x1b[1m", "\x1b[1;31m", "\x1b[0m"
_SIDE_BY_SIDE = 76  # columns from which names and values stand side by side
_BOX = "[ ]"
_UNDER = " " * 9
_HOLD = "\u00a0"  # a blank at which no line breaks


class TerminalSheet:
    """Sets text for one width. With `colour`, headings are bold and cautions red; nothing is told by it alone."""

    def __init__(self, width: int, colour: bool) -> None:
        self._width = min(max(width, NARROWEST), WIDEST)
        self._colour = colour

    def title(self, text: str) -> str:
        return self._headed(text, "=", _BOLD)

    def heading(self, text: str) -> str:
        return self._headed(text.upper(), "-", _BOLD)

    def alarm(self, text: str) -> str:
        """The heading of what can hurt."""
        return self._headed(text.upper(), "-", _WARNING)

    def minor(self, text: str) -> str:
        """A heading inside a section."""
        return "\n" + self._set(wrapped(text, self._width, "  "), _BOLD)

    def para(self, text: str) -> str:
        return "\n".join(wrapped(text, self._width))

    def lead(self, text: str) -> str:
        """The one line that must not be missed."""
        return self._set(wrapped(text, self._width, "> "), _BOLD)

    def row(self, text: str, name: str, mark: str = "") -> str:
        """Name and value: side by side where there is room, else one under the other."""
        text = _with(text, mark)
        if self._width < _SIDE_BY_SIDE:
            return "\n".join([*wrapped(name, self._width, "  "), *wrapped(text, self._width, "    ")])
        return "\n".join(two_columns(name, text, self._width, self._width * 3 // 8, "  "))

    def point(self, text: str, name: str = "", mark: str = "") -> str:
        return "\n".join(wrapped(_with(_named(name, text), mark), self._width, "  - "))

    def inset(self, text: str) -> str:
        return "\n".join(wrapped(text, self._width, "  "))

    def remark(self, text: str, name: str) -> str:
        return self.inset(_named(name, text))

    def tick(self, text: str, name: str, amount: str = "", mark: str = "") -> str:
        """A thing to get."""
        says = _with(", ".join(t for t in (name, amount) if t), mark)
        return "\n".join(wrapped(_named(says, text), self._width, f"  {_BOX} "))

    def entry(self, text: str, number: object, mark: str = "", times: str = "", behind: bool = False) -> str:
        """The first line of a trial or a step, and how long it takes; ticked where it is behind the maker."""
        first = f"  {'[x]' if behind else _BOX} {number!s:>2} "
        says = f"{text} ({times})" if times else text
        return self._set(wrapped(_with(says, mark), self._width, first, _UNDER), _BOLD)

    def under(self, text: str) -> str:
        """What belongs to an entry."""
        return "\n".join(wrapped(text, self._width, _UNDER))

    def seen(self, text: str) -> str:
        """One outcome of a trial."""
        return "\n".join(wrapped(text, self._width, f"{_UNDER}- "))

    def detail(self, text: str, name: str) -> str:
        return self.under(_named(name, text))

    def boxes(self, names: Sequence[str]) -> str:
        return self._boxed(names, _UNDER)

    def things(self, names: Sequence[str]) -> str:
        """Small things to get, which need no words."""
        return self._boxed(names, "  ")

    def source(self, text: str, name: str, number: int) -> str:
        return "\n".join(wrapped(f"{name} ({text})" if text else name, self._width, f"  [{number}] "))

    def sources(self, names: Sequence[str]) -> str:
        """Sources in few words, none torn apart."""
        return self._kept(names, "  ")

    def _boxed(self, names: Sequence[str], first: str) -> str:
        """Boxes in a row, none torn from its name."""
        return self._kept([f"{_BOX} {name}" for name in names], first)

    def _kept(self, words: Sequence[str], first: str) -> str:
        kept = " ".join(f"{word}  ".replace(" ", _HOLD) for word in words)
        return "\n".join(line.replace(_HOLD, " ").rstrip() for line in wrapped(kept, self._width, first))

    def _headed(self, text: str, rule: str, code: str) -> str:
        lines = wrapped(text, self._width)
        return self._set([*lines, rule * max(columns(line) for line in lines)], code)

    def _set(self, lines: list[str], code: str) -> str:
        if not self._colour:
            return "\n".join(lines)
        return "\n".join(f"{code}{line}{_PLAIN}" for line in lines)


def _named(name: str, text: str) -> str:
    return f"{name}: {text}" if name and text else name or text


def _with(text: str, mark: str) -> str:
    return f"{text} {mark}" if mark else text
