"""Text from outside made safe to show: no terminal escapes, no direction tricks, no invisible filling.

Used wherever something a person typed, or a file held, reaches a screen or a page.
"""

from __future__ import annotations

import re
import unicodedata

_ESCAPES = re.compile(
    "\x1b\\[[0-?]*[ -/]*[@-~]?"  # CSI: colours, cursor moves
    "|\x1b[\\]PX^_](?:[^\x07\x1b\x9c]|\x1b(?!\\\\)){0,300}(?:\x07|\x1b\\\\|\x9c)"  # OSC and its kin, where they end
    "|\x1b[ -/]*[0-~]?"
    "|\x9b[0-?]*[ -/]*[@-~]?"
)
# direction overrides and isolates, zero-width filling, interlinear marks, tag characters, lone surrogates
_HIDDEN = re.compile(
    "[\u00ad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f]"
)
_HARMFUL = re.compile(f"[\x7f-\x9f\u2028\u2029\ud800-\udfff{_HIDDEN.pattern[1:]}")
_SURROGATES = re.compile("[\ud800-\udfff]")
_CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_MOST_MARKS = 3  # combining marks kept on one letter; more only pile up over the lines above


def harmless(text: str, *, one_line: bool = False) -> str:
    """The text without anything that could move the cursor, hide, or turn the reading direction.

    Line breaks stay unless `one_line`, then every run of white space becomes one blank.
    """
    if text.isascii() and text.isprintable() and not (one_line and _needs_trim(text)):
        return text  # nearly all there is
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2028", "\n").replace("\u2029", "\n")
    if not text.isascii() or "\x1b" in text:
        text = _SURROGATES.sub("\ufffd", _HIDDEN.sub("", _ESCAPES.sub("", text)))
    text = _CONTROLS.sub("", text.replace("\t", " "))
    text = text if text.isascii() else _thin_marks(text)
    return " ".join(text.split()) if one_line else text


def _needs_trim(text: str) -> bool:
    return "  " in text or text[:1] == " " or text[-1:] == " "


def like_a_formula(text: str) -> bool:
    """Whether a spreadsheet could take this for a formula by how it begins: = + - @, narrow, wide or small, a
    tab or a line end (OWASP, "CSV Injection").
    """
    first = text[:1]
    return first in ("\t", "\r", "\n") or unicodedata.normalize("NFKC", first) in ("=", "+", "-", "@")


def spelled_out(json_text: str) -> str:
    """JSON with what would be harmful on a screen written as \\uXXXX: it reads back as it was."""
    return _HARMFUL.sub(lambda found: "".join(f"\\u{unit:04x}" for unit in _utf16(found[0])), json_text)


def _utf16(letter: str) -> tuple[int, ...]:
    data = letter.encode("utf-16-be", "surrogatepass")
    return tuple(int.from_bytes(data[n : n + 2], "big") for n in range(0, len(data), 2))


def _thin_marks(text: str) -> str:
    kept: list[str] = []
    run = 0
    for letter in text:
        run = run + 1 if unicodedata.combining(letter) else 0
        if run <= _MOST_MARKS:
            kept.append(letter)
    return "".join(kept)


# what to write where the outside cannot show the sign itself
_PLAIN = {
    "×": "x", "·": "-", "–": "-", "—": "-", "−": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "…": "...",
    "≤": "<=", "≥": ">=", "±": "+-",
    "°": " deg ", "²": "2", "³": "3", "½": " 1/2", "¼": " 1/4", "¾": " 3/4",
    "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⅓": " 1/3", "⅔": " 2/3", "→": "->", "←": "<-",
    "•": "-", "☐": "[ ]", "☑": "[x]", "█": "#", "▒": "+", "░": ".", "─": "-", "│": "|", "µ": "u", "μ": "u",
    "✓": "ok", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2011": "-",
}  # fmt: skip


def legible(text: str, encoding: str) -> str:
    """The text as the encoding can write it: signs it lacks are spelled out, letters lose their accents."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "".join(letter if _fits(letter, encoding) else _spelled(letter, encoding) for letter in text)
    except LookupError:
        return legible(text, "ascii")
    return text


def _spelled(letter: str, encoding: str) -> str:
    if letter in _PLAIN:
        return _PLAIN[letter]
    base = "".join(c for c in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(c))
    return base if base and _fits(base, encoding) else "?"


def _fits(letter: str, encoding: str) -> bool:
    try:
        letter.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True
