"""Letters that are not taken for others, in any print or hand: for ids and seals."""

from __future__ import annotations

LETTERS = "ACDEFHJKMNPRTVWXY"


def letters_of(digest: bytes, count: int = 8) -> str:
    """So many letters that stand for the first bytes of a digest."""
    number = int.from_bytes(digest[:16], "big")
    made = ""
    for _ in range(count):
        number, place = divmod(number, len(LETTERS))
        made += LETTERS[place]
    return made
