"""The seal of a brief. Short: eight letters over answers, knowledge, own rows, stock and version. Whole: all of that,
how the brief was asked for, and a sum of each of its lines, as one word inside the file, so that it can be made again.

Forms that a person reads as text have four letters more, over their own words: "ACDEFHJK-MNPR".

It tells what was changed by accident, by hand or by an upgrade. It is no signature: whoever wants to can make one.
"""

from __future__ import annotations

import base64
import difflib
import hashlib
import json
import re
import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from interview.text.letters import LETTERS, letters_of

NONE = "beforepour-1.none"  # stands where the whole seal comes, while the lines are summed
_WHOLE = re.compile(r"beforepour-1\.(?:none|[\w-]+\.[\w-]*\.[\w-]+)")
_SHORT = re.compile(rf"\b(Seal of this brief\W{{1,9}})([{LETTERS}]{{8}})(?:-([{LETTERS}]{{4}}))?\b")
_LARGEST = 2_000_000  # bytes of what a seal unfolds to
_LINE = 2  # bytes of the sum of a line


class BrokenSeal(ValueError):
    """There is a whole seal, but it was cut short or changed."""


@dataclass(frozen=True, slots=True)
class Seal:
    """`made_from`: answers, name, rules. `asked`: form and look. `lines`: the sum of each line; of a PDF, of all before."""

    made_from: Mapping[str, Any]
    asked: Mapping[str, Any]
    lines: bytes

    @property
    def letters(self) -> str:
        return letters_for(self.made_from)


def letters_for(made_from: Mapping[str, Any]) -> str:
    return letters_of(hashlib.sha256(_json(made_from)).digest())


def sealed_text(make: Callable[[str], str], made_from: Mapping[str, Any], asked: Mapping[str, Any]) -> str:
    """A text with its whole seal in it. `make`: the text, given what to put where the seal stands."""
    sums = b"".join(_sum(line) for line in lines_of(make(NONE)))
    return make(_written(Seal(made_from, asked, sums)))


def sealed_pdf(pdf: bytes, made_from: Mapping[str, Any], asked: Mapping[str, Any]) -> bytes:
    """With one more object behind its end, as ISO 32000-1, 7.5.6 (incremental updates) has it; nothing before changes."""
    found = list(re.finditer(rb"startxref\s+(\d+)\s+%%EOF", pdf))
    size, root = re.findall(rb"/Size (\d+)", pdf), re.findall(rb"/Root (\d+ \d+ R)", pdf)
    if not (found and size and root):
        return pdf
    whole = _written(Seal(made_from, asked, hashlib.sha256(pdf).digest()[:8])).encode()
    number, at = int(size[-1]), len(pdf) + 1
    body = b"%d 0 obj\n<< /Type /BeforepourSeal /Whole (%s) >>\nendobj\n" % (number, whole)
    table = b"xref\n%d 1\n%010d 00000 n \ntrailer\n<< /Size %d /Root %s /Prev %s >>\nstartxref\n%d\n%%%%EOF\n" % (
        number, at, number + 1, root[-1], found[-1][1], at + len(body),
    )  # fmt: skip
    return pdf + b"\n" + body + table


def whole_in(text: str) -> Seal | None:
    """The whole seal in a file's text; None where there is none. Raises BrokenSeal."""
    found = _WHOLE.search(_unfolded(text))
    if found is None or found[0] == NONE:
        if "beforepour-1." in text and found is None:
            raise BrokenSeal
        return None
    try:
        made_from, asked, lines = (_unpacked(part) for part in found[0].split(".")[1:])
        return Seal(json.loads(made_from), json.loads(asked), lines)
    except (ValueError, zlib.error, RecursionError):
        raise BrokenSeal from None


def short_in(text: str) -> tuple[str, str]:
    """The eight letters a person can read, and the four over the words; each "" where there are none."""
    found = _last(text)
    return (found[2], found[3] or "") if found else ("", "")


def checked_text(text: str) -> str:
    """With the four letters over its words behind its eight; as it is where it has none."""
    found = _last(text)
    return f"{text[: found.end()]}-{check_of(text)}{text[found.end() :]}" if found else text


def check_of(text: str) -> str:
    return letters_of(hashlib.sha256(" ".join(words_of(without_letters(text))).encode("utf-8", "replace")).digest(), 4)


def words_of(text: str) -> list[str]:
    """Line breaks make no difference, nor colours, nor how a screen spells a sign."""
    from interview.text.harmless import harmless, legible

    return re.sub(r"[-=*_#>|]+", " ", legible(harmless(text.removeprefix("\ufeff")), "ascii")).split()


def lines_of(text: str) -> list[str]:
    """As they are compared: line ends, the whole seal and blanks at the end make no difference."""
    return [line.rstrip() for line in _WHOLE.sub(NONE, _unfolded(text)).rstrip().split("\n")]


def _last(text: str) -> re.Match[str] | None:
    """What a maker calls a piece may look like a seal; ours comes last."""
    return max(_SHORT.finditer(text), key=re.Match.start, default=None)


def without_letters(line: str) -> str:
    return _SHORT.sub(r"\1........", line)


def changed_by_hand(text: str, seal: Seal) -> tuple[str, ...]:
    """The lines that are not as they were sealed; for lines that are gone, the one before, and how many."""
    lines = lines_of(text)
    now = [_sum(line) for line in lines]
    then = [seal.lines[n : n + _LINE] for n in range(0, len(seal.lines), _LINE)]
    return tuple(_changes(lines, now, then)) if now != then else ()


def pdf_is_whole(pdf: bytes, seal: Seal) -> bool:
    ends = [found.end() for found in re.finditer(rb"%%EOF\s?", pdf)]
    return any(hashlib.sha256(pdf[:cut]).digest()[:8] == seal.lines for end in ends for cut in (end, end - 1))


def _changes(lines: Sequence[str], now: Sequence[bytes], then: Sequence[bytes]) -> Iterator[str]:
    for kind, a, b, c, d in difflib.SequenceMatcher(None, then, now, autojunk=False).get_opcodes():
        if kind == "delete":
            yield f"{b - a} line{'s' if b - a > 1 else ''} gone after: {lines[c - 1] if c else 'the beginning'}"
        elif kind != "equal":
            yield from (line for line in lines[c:d] if line.strip())


def _written(seal: Seal) -> str:
    return ".".join(("beforepour-1", *map(_packed, (_json(seal.made_from, sort=False), _json(seal.asked), seal.lines))))


def _json(data: Mapping[str, Any], *, sort: bool = True) -> bytes:
    return json.dumps(data, ensure_ascii=True, sort_keys=sort, separators=(",", ":")).encode()


def _packed(data: bytes) -> str:
    return base64.urlsafe_b64encode(zlib.compress(data, 9)).decode().rstrip("=")


def _unpacked(text: str) -> bytes:
    data = base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    reader = zlib.decompressobj()
    made = reader.decompress(data, _LARGEST)
    if not reader.eof:
        raise BrokenSeal
    return made


def _sum(line: str) -> bytes:
    return hashlib.sha256(line.encode("utf-8", "replace")).digest()[:_LINE]


def _unfolded(text: str) -> str:
    """Line ends as one sign; the folded lines of a calendar (RFC 5545, section 3.1) put together."""
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n")
    return plain.replace("\n ", "") if plain.startswith("BEGIN:VCALENDAR") else plain
