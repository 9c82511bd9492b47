"""What a line does, whatever it is about: agrees, denies, doubts, asks, mends, adds, thanks, worries, wishes.

Each clause is judged on its own; what is left of it after its "yes" and "well" is what it says. The words are in
knowledge/words/speech.toml.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache

from interview.reading.clauses import Clause, spoken_words
from interview.reading.commands import Command, read_command
from interview.reading.lexicon import spoken_list
from knowledge.word_files import read_words

Words = tuple[str, ...]
_PEELED = ("fill", "yes", "no", "nearly", "greet", "thanks")
_LONG = 4  # words; a clause of so many about persons is a story


@dataclass(frozen=True, slots=True)
class Said:
    """A clause that says something. hedged: the speaker doubts it. unsure: the speaker does not know."""

    clause: Clause
    hedged: bool = False
    unsure: bool = False


@dataclass(slots=True)
class Speech:
    """What was heard, clause by clause. leads: agree, deny and nearly, in order. asks: spans of questions."""

    leads: list[str] = field(default_factory=list)
    marks: set[str] = field(default_factory=set)  # mend, more, unsure, thanks, greet, story
    said: list[Said] = field(default_factory=list)
    asks: list[tuple[int, int]] = field(default_factory=list)
    worries: set[str] = field(default_factory=set)
    command: Command | None = None


@cache
def _list(name: str) -> dict[str, tuple[Words, ...]]:
    """First word -> the phrases of a list that begin with it, the longest first."""
    found: dict[str, list[Words]] = {}
    for phrase in read_words("speech")[name].split(","):
        words = spoken_words(" ".join(phrase.split()))
        if words:
            found.setdefault(words[0], []).append(words)
    return {first: tuple(sorted(set(group), key=lambda w: (-len(w), w))) for first, group in found.items()}


def starts(words: Sequence[str], name: str) -> int:
    """How many words of the beginning are a phrase of the list; 0 where none is."""
    for phrase in _list(name).get(words[0], ()) if words else ():
        if tuple(words[: len(phrase)]) == phrase:
            return len(phrase)
    return 0


def finds(words: Sequence[str], name: str) -> Iterator[tuple[int, int]]:
    """Where the phrases of a list stand: first word and the one after the last. They don't overlap."""
    place = 0
    while place < len(words):
        length = starts(words[place:], name)
        if length:
            yield place, place + length
        place += length or 1


def holds(words: Sequence[str], name: str) -> bool:
    return next(finds(words, name), None) is not None


def whole(words: Sequence[str], name: str) -> bool:
    """Whether the clause is a phrase of the list and no more, but for words around it that do nothing."""
    rest = tuple(words)
    while rest:
        length = starts(rest, name)
        if length == len(rest) or (length and all_of(rest[length:], ("fill", "thanks", "about", "yes", "good", name))):
            return True
        skip = starts(rest, "fill")
        if not skip:
            return False
        rest = rest[skip:]
    return False


def all_of(words: Sequence[str], names: Iterable[str]) -> bool:
    """Whether phrases of these lists cover all words."""
    names, rest = tuple(names), tuple(words)
    while rest:
        length = max(starts(rest, name) for name in names)
        if not length:
            return False
        rest = rest[length:]
    return True


def judged(words: Sequence[str]) -> str:
    """ "agree" or "deny" where a clause does nothing but judge: "that is not quite right"; else ""."""
    rest, negators, good, bad = tuple(words), 0, 0, 0
    while rest:
        lengths = {name: starts(rest, name) for name in ("good", "bad", "negators", "about")}
        name = max(lengths, key=lambda n: lengths[n])
        if not lengths[name]:
            return ""
        negators, good, bad = negators + (name == "negators"), good + (name == "good"), bad + (name == "bad")
        rest = rest[lengths[name] :]
    if not good and not bad:
        return ""
    return "deny" if (bad > 0) != (negators % 2 == 1) else "agree"


def listen(clauses: Sequence[Clause], *, asked: bool = False) -> Speech:
    """Judge every clause. `asked`: at a question, where "all good" may be the answer itself and is kept."""
    heard = Speech()
    for place, clause in enumerate(clauses):
        _note_worries(clause, heard)
        if _trails(clauses, place, heard):
            heard.asks[-1] = (heard.asks[-1][0], clause.end)
            continue
        rest = _peel(clause, heard, asked=asked)
        if not rest.words:
            if clause.mark == "?":
                heard.asks.append(_question(clauses, place))
        elif is_question(rest):
            heard.asks.append(_question(clauses, place))
        elif not _wish(rest, heard):
            _statement(rest, heard)
    _join_conditions(heard)
    return heard


def _trails(clauses: Sequence[Clause], place: int, heard: Speech) -> bool:
    """ "What does that mean, darker": a word or two after a question belong to it."""
    before = clauses[place - 1] if place else None
    clause = clauses[place]
    if before is None or not heard.asks or heard.asks[-1][1] != before.end or before.mark not in ("", ","):
        return False
    return (
        len(clause.words) <= 2 and clause.words[0] not in spoken_list("begins") and not starts(clause.words, "unsure")
    )


def _peel(clause: Clause, heard: Speech, *, asked: bool) -> Clause:
    """Take yes, no, well, thanks and their kin off the head of a clause, and note them."""
    words, taken = clause.words, 0
    while taken < len(words):
        rest = words[taken:]
        if whole(rest, "mend"):
            heard.marks.add("mend")
            return clause.rest(len(words))
        verdict = judged(rest) or next((name for name in ("agree", "deny") if whole(rest, name)), "")
        if not verdict and len(rest) <= 3 and starts(rest, "bad") and not is_question(clause):
            verdict = "deny"  # "wrong medium"
            heard.marks.add("mend")
        if verdict and not (clause.mark == "?" and len(rest) > 2):
            heard.leads.append(verdict)
            heard.marks |= {"thanks"} if holds(rest, "thanks") else set()
            return clause.rest(taken if asked else len(words))
        length, name = max((starts(rest, name), name) for name in _PEELED)
        if not length or is_question(clause.rest(taken)) or not _stands(name, rest[length:]):
            break
        _note_head(name, rest[:length], heard)
        taken += length
    return clause.rest(taken)


def _stands(name: str, after: Words) -> bool:
    """Whether a word at the head of a clause stands by itself: "no, it's", not "no glitter"."""
    if not after:
        return True
    if name == "no":
        return after[0] in spoken_list("after_no")
    return name != "greet" or after[0] not in ("paper", "card")


def _note_head(name: str, words: Words, heard: Speech) -> None:
    if name in ("yes", "no", "nearly"):
        heard.leads.append({"yes": "agree", "no": "deny"}.get(name, name))
    elif name in ("thanks", "greet"):
        heard.marks.add(name)
    if starts(words, "mend") == len(words):
        heard.marks.add("mend")
    if starts(words, "more") == len(words):
        heard.marks.add("more")
    if words[0] in ("hm", "hmm", "hmmm"):
        heard.marks.add("hum")


def is_question(clause: Clause) -> bool:
    words = clause.words
    if not words:
        return False
    if clause.mark == "?":
        return True
    length = starts(words, "ask_head")
    if length and not _relative(words):
        return True
    if starts(words, "ask_turned") and holds(words, "ask_safe") and words[0] not in ("dont",):
        return len(words) > 3
    return any(holds(words, name) for name in ("ask_in",)) and _asks_inside(words)


def _relative(words: Words) -> bool:
    """ "what i have is pine", "how it came": no question, but what is told."""
    if len(words) < 3 or words[0] not in ("what", "how", "where", "when", "who", "whose", "which"):
        return False
    return words[1] in ("i", "we", "you", "it", "they", "he", "she", "my") and "mean" not in words[:4]


def _asks_inside(words: Words) -> bool:
    first = next(finds(words, "ask_in"))
    phrase = words[first[0] : first[1]]
    return len(phrase) > 1


def _question(clauses: Sequence[Clause], place: int) -> tuple[int, int]:
    """Where the question stands: with the clause before, where that is its condition."""
    clause = clauses[place]
    start = clause.start
    before = clauses[place - 1] if place else None
    if before is not None and (
        before.words[0] in ("if", "when", "once") or (len(clause.words) < 3 and clause.mark == "?")
    ):
        start = before.start
    return start, clause.end


def _wish(rest: Clause, heard: Speech) -> bool:
    """Whether the clause is a command in plain words."""
    words = rest.words
    while length := starts(words, "polite"):
        words = words[length:]
    while words and words[-1] in ("please", "thanks", "now", "then", "again") and words not in (("again",),):
        words = words[:-1]
    command = read_command(" ".join(words))
    if command is None or command.name in ("ask", "not sure"):
        return False
    heard.command = heard.command or command
    return True


def _statement(rest: Clause, heard: Speech) -> None:
    words = rest.words
    unsure = holds(words, "unsure")
    for name in ("mend", "more", "thanks"):
        if holds(words, name):
            heard.marks.add(name)
    if unsure:
        heard.marks.add("unsure")
    if len(words) >= _LONG and holds(words, "told_of") and (holds(words, "kin") or "story" in heard.marks):
        heard.marks.add("story")
        return
    heard.said.append(Said(rest, holds(words, "hedge"), unsure))


def _join_conditions(heard: Speech) -> None:
    """ "if i use a heat gun, will that...": the condition belongs to the question."""
    heard.said = [s for s in heard.said if not any(a <= s.clause.start < b for a, b in heard.asks)]


# ------------------------------------------------------------------ worries


def _note_worries(clause: Clause, heard: Speech) -> None:
    words = clause.words
    for name in ("pregnant", "asthma", "allergy", "child_helps", "bedroom_only", "neighbours"):
        if holds(words, f"worry_{name}") and not _denied_worry(words, f"worry_{name}"):
            heard.worries.add(name)
    asked = is_question(clause)
    if holds(words, "pet") and "of" not in words and (holds(words, "near") or asked):
        heard.worries.add("pets")
    if holds(words, "child") and holds(words, "joins") and "of" not in words:
        heard.worries.add("child_helps")
    if holds(words, "fear") and (asked or holds(words, "bothers")):
        heard.marks.add("fear")


def _denied_worry(words: Words, name: str) -> bool:
    first, _ = next(finds(words, name))
    return any(word in ("no", "not", "never", "isnt", "arent", "dont") for word in words[max(first - 2, 0) : first])
