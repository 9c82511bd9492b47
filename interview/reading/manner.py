"""The manner of a line, whatever its trade: whether it agrees, denies or asks, given what was said before it."""

from __future__ import annotations

import re

from interview.reading.clauses import split, spoken_list, spoken_words
from interview.reading.lexicon import read_spelling
from interview.reading.speech import Speech, holds, listen
from interview.reading.tokens import clean, tokenise

Words = tuple[str, ...]
_NAMES = 4  # letters; shorter words name nothing


def _heard(text: str) -> Speech:
    plain = clean(text)
    return listen(split(tokenise(plain, read_spelling()), plain), "read_back")


def _words(text: str) -> Words:
    return spoken_words("".join(c if c.isalnum() or c in " '’" else " " for c in text))


def does(text: str, asked: str) -> set[str]:
    """agree, deny, ask: those the line does. `asked`: what was said to the person just before."""
    heard, words, before = _heard(text), _words(text), _words(asked)
    acts = {"ask"} if heard.asks else set()
    lead = _lead(heard, words, before, asks=_asks_yes_or_no(asked))
    return acts | {lead} if lead else acts


def _asks_yes_or_no(asked: str) -> bool:
    """Whether what was said before ends in a question that yes or no answers."""
    last = re.split(r"[.!]\s+", asked.strip())[-1]
    return last.endswith("?") and not holds(_words(last), "asks_what")


def _lead(heard: Speech, words: Words, before: Words, *, asks: bool) -> str:
    """agree, deny or nothing: a yes to what was offered, a no, another wish where it was to be confirmed."""
    leads = [lead for lead in heard.leads if lead != "nearly"]
    offered = asks or (holds(before, "offers") and not holds(before, "asks_what"))
    more = holds(before, "anything_else")
    told = holds(before, "tells_done") and not offered
    if more and (holds(words, "nothing_more") or "deny" in leads):
        return "deny"
    if leads and leads[0] == "deny" and not told:
        return "deny"
    if offered and holds(words, "declines") and "agree" not in leads:
        return "deny"
    if offered and "later" in words and not heard.asks:
        return "deny"
    confirming = holds(before, "reads_back")
    if told or ("thanks" in heard.marks and not offered and not confirming):
        return ""
    if leads and "agree" in leads:
        return "agree"
    if offered and not more and _wants(words, before):
        return "agree"
    return "deny" if confirming and (heard.said or heard.asks or "nearly" in heard.leads) else ""


def _wants(words: Words, before: Words) -> bool:
    """ "I would really like to book a room", to "Shall I book a room?"."""
    return holds(words, "wants") and not holds(words, "negators") and bool(_named(words) & _named(before))


def _named(words: Words) -> set[str]:
    return {w for w in words if len(w) >= _NAMES and w not in spoken_list("dull") and w not in spoken_list("wishing")}


def yes_or_no(text: str, asked: str) -> str:
    """ "yes", "no", or "" where the answer is not clear enough and is to be asked about."""
    heard, words, before = _heard(text), _words(text), _words(asked)
    unclear = heard.asks or heard.marks & {"unsure", "hum"} or any(s.hedged for s in heard.said)
    if unclear or holds(words, "condition") or holds(before, "turned_question"):
        return ""
    leads = {lead for lead in heard.leads if lead in ("agree", "deny")}
    if len(leads) == 1:
        return "yes" if leads == {"agree"} else "no"
    if not _named(words) & _named(before):
        return ""
    beyond = _named(words) - _named(before)
    if holds(words, "negators") and words[:1] == ("i",) and len(beyond) <= 2:
        return "no"
    return "yes" if holds(words, "fond") and not holds(words, "negators") and len(beyond) <= 1 else ""
