"""A file name made from a piece's name, safe on every platform."""

from __future__ import annotations

import re
import unicodedata

from interview.text.harmless import harmless

NAMELESS = "piece"
_MOST_LETTERS, _MOST_BYTES = (
    60,
    180,
)  # room for an ending and a number within the 255 bytes of common file systems
# names of devices on some platforms, whatever ending follows
_RESERVED = re.compile(r"(?:con|prn|aux|nul|conin|conout|com[0-9]|lpt[0-9]|clock)", re.IGNORECASE)


def safe(name: str) -> str:
    """The name without ending: letters and digits of any script, joined by hyphens. Never empty, never a
    device, never begins with a dot or hyphen; the same name always gives the same.

    >>> safe("Gull: over / the pier?")
    'Gull-over-the-pier'
    """
    text = unicodedata.normalize("NFKC", harmless(name, one_line=True))
    text = "".join(letter if _kept(letter) else "-" for letter in text.replace("'", "").replace("\u2019", ""))
    # a mark that has lost its letter would lean on the hyphen
    text = re.sub(r"-+", "-", "".join(_without_stray_marks(text))).strip("-")
    text = _shortened(text).rstrip("-") or NAMELESS
    return f"{text}-{NAMELESS}" if _RESERVED.fullmatch(text) else text


def _kept(letter: str) -> bool:
    return unicodedata.category(letter)[0] in "LNM" and letter.isprintable()


def _without_stray_marks(text: str) -> list[str]:
    made: list[str] = []
    for letter in text:
        if unicodedata.category(letter)[0] == "M" and (not made or made[-1] == "-"):
            continue
        made.append(letter)
    return made


def _shortened(text: str) -> str:
    text = text[:_MOST_LETTERS]
    return text.encode("utf-8")[:_MOST_BYTES].decode("utf-8", errors="ignore")
