"""What a line does, whatever it is about: agrees, denies, doubts, asks, mends, adds, thanks, worries, wishes.

Each clause is judged on its own; what is left of it after its "yes" and "well" is what it says. The words
are in knowledge/words/speech.toml.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Literal

from interview.reading.clauses import Clause, spoken_list, spoken_words
from interview.reading.commands import Command, read_command
from knowledge.word_files import read_words

Words = tuple[str, ...]
Prompt = Literal["read_back", "question", "end", "opening"]
_PEELED = ("fill", "yes", "no", "nearly", "greet", "thanks")
_SUPPOSED = 7  # words; a clause with "if" that is longer holds what follows from it
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
    told: list[Said] = field(default_factory=list)  # stories
    asks: list[tuple[int, int]] = field(default_factory=list)
    worries: set[str] = field(default_factory=set)
    worried: set[int] = field(default_factory=set)  # where the clauses of worries end
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


def is_phrase(words: Sequence[str], name: str) -> bool:
    """Whether the words are a phrase of the list, no more and no less."""
    return bool(words) and tuple(words) in _list(name).get(words[0], ())


def whole(words: Sequence[str], name: str) -> bool:
    """Whether the clause is a phrase of the list and no more, but for words around it that do nothing."""
    rest = tuple(words)
    while rest:
        length = starts(rest, name)
        around = (
            ("fill", "thanks", "about", name) if name == "mend" else ("fill", "thanks", "about", "yes", "good", name)
        )
        if length == len(rest) or (length and all_of(rest[length:], around)):
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
    thing = pointed = False
    while rest:
        lengths = {name: starts(rest, name) for name in ("good", "bad", "negators", "about")}
        name = max(lengths, key=lambda n: lengths[n])
        if not lengths[name]:
            if pointed and len(rest) > 1 and starts(rest[1:], "about") and not thing:
                thing, rest = True, rest[1:]  # "that FLIGHT sounds good"
                continue
            return ""
        pointed = rest[0] in ("that", "this", "the", "your")
        negators, good, bad = negators + (name == "negators"), good + (name == "good"), bad + (name == "bad")
        rest = rest[lengths[name] :]
    if not good and not bad:
        return ""
    return "deny" if (bad > 0) != (negators % 2 == 1) else "agree"


def listen(clauses: Sequence[Clause], at: Prompt = "read_back") -> Speech:
    """Judge every clause. At a question "all good" may be the answer itself and is kept; at the end it is a no."""
    heard = Speech()
    for place, clause in enumerate(clauses):
        _note_worries(clause, heard)
        if _trails(clauses, place, heard):
            heard.asks[-1] = (heard.asks[-1][0], clause.end)
            continue
        if _wish(clause, heard, at):
            continue
        rest = _peel(clause, heard, at)
        if not rest.words:
            if clause.mark == "?":
                heard.asks.append(_question(clauses, place))
        elif is_question(rest):
            heard.asks.append(_question(clauses, place))
        elif not _wish(rest, heard, at):
            _statement(rest, heard)
    _sift(heard)
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


def _peel(clause: Clause, heard: Speech, at: Prompt) -> Clause:
    """Take yes, no, well, thanks and their kin off the head of a clause, and note them."""
    words, taken, kept = clause.words, 0, 0
    while taken < len(words):
        rest = words[taken:]
        if len(rest) > 2 and starts(rest, "ask_head") and is_question(clause.rest(taken)):
            break
        if whole(rest, "unsure"):
            heard.marks.add("unsure")
            heard.said.append(Said(clause.rest(taken), unsure=True))
            return clause.rest(len(words))
        if whole(rest, "mend"):
            heard.marks.add("mend")
            return clause.rest(len(words))
        verdict = "" if _no_first(rest) else _verdict(rest, at)
        if not verdict and len(rest) <= 3 and rest[0] in ("wrong", "incorrect") and not is_question(clause):
            verdict = "deny"  # "wrong medium"
            heard.marks.add("mend")
        if verdict and not (clause.mark == "?" and len(rest) > 2):
            heard.leads.append(verdict)
            heard.marks |= {"thanks"} if holds(rest, "thanks") else set()
            return clause.rest(taken if at == "question" else len(words))
        length, name = max((starts(rest, name), name) for name in _PEELED)
        asks = name not in ("yes", "no") and is_question(clause.rest(taken))
        if not length or asks or not _stands(name, rest[length:]):
            break
        _note_head(name, rest[:length], heard)
        taken += length
        kept = taken if name != "fill" or rest[length - 1] == "on" else kept  # "hang on" is no "on"
    return replace(clause.rest(taken), start=clause.rest(kept).start)


def _no_first(words: Words) -> bool:
    """ "No, that's wrong": the no stands by itself, and does not turn what follows."""
    return len(words) > 1 and starts(words, "no") == 1 and words[1] in spoken_list("after_no")


def _verdict(words: Words, at: Prompt) -> str:
    """Whether a clause does nothing but agree or deny."""
    if at == "end" and (whole(words, "deny") or holds(words, "enough")) and judged(words) != "deny":
        return "deny" if whole(words, "deny") or judged(words) else ""
    if at == "question":  # "its ok" may be the answer itself, and is no yes
        return next((name for name in ("agree", "deny") if whole(words, name)), "")
    return (
        judged(words)
        or judged(_unpadded(words))
        or next((name for name in ("agree", "deny") if whole(words, name)), "")
    )


def _unpadded(words: Words) -> Words:
    """Without a yes that trails: "that's about right yeah"."""
    return words[:-1] if len(words) > 1 and starts(words[-1:], "yes") else words


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
    """By its mark, by how it begins, by a verb turned round, by how it ends."""
    words = clause.words
    if not words:
        return False
    if clause.mark == "?":
        return True
    if starts(words, "ask_head") and not _relative(words):
        return True
    return _turned(words) or _asks_inside(words) or _asks_at_the_end(words)


def _turned(words: Words) -> bool:
    """ "Will olive oil seal it", "is superglue ok for that", "packing tape over it would that count"."""
    if len(words) > 2 and starts(words, "ask_turned") and words[1] not in spoken_list("no_subject"):
        if words[0] in spoken_list("ask_always") and (
            words[1] in spoken_list("turned_to") - {"the"} or words[0] not in spoken_list("dropped_i")
        ):
            return True
        if holds(words, "ask_safe") and len(words) > 3:
            return True
        if words[0] in ("is", "are") and {"a", "an"} & set(words[2:-1]) and words[1] not in spoken_list("trial_words"):
            return True  # "is danish oil a finish"
    for place in range(1, len(words) - 1):
        before, word, after = words[place - 1 : place + 2]
        if (
            word in spoken_list("ask_always")
            and after in spoken_list("turned_to")
            and before not in spoken_list("not_turned")
            and not _done(words[place:])
        ):
            return True
        if (
            word in spoken_list("ask_word")
            and after in spoken_list("ask_after")
            and before not in spoken_list("told_what")
        ):
            return True
    return False


def _done(words: Words) -> bool:
    """ "My grandad did it", "did it for me": told, where no other verb follows."""
    if words[0] not in spoken_list("done") or words[1] not in spoken_list("done_to"):
        return False
    return len(words) == 2 or words[2] in spoken_list("after_year")


def _relative(words: Words) -> bool:
    """ "what i have is pine", "how it came": no question, but what is told."""
    if len(words) < 3 or words[0] not in spoken_list("ask_word"):
        return False
    return words[1] in ("i", "we", "you", "it", "they", "he", "she", "my") and "mean" not in words[:4]


def _asks_inside(words: Words) -> bool:
    for first, last in finds(words, "ask_in"):
        if last - first > 1:
            return True
    if words[-1] == "mean":  # "and encaustic means"
        return len(words) > 1 and words[-2] not in ("i", "you", "we")
    return (
        words[-1] in ("is", "are") and holds(words, "unknown_word") and words[-2] not in ("it", "that", "they", "this")
    )


def _asks_at_the_end(words: Words) -> bool:
    return not holds(words, "unsure") and any(last == len(words) and first for first, last in finds(words, "ask_tail"))


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


def _wish(rest: Clause, heard: Speech, at: Prompt) -> bool:
    """Whether the clause is a command in plain words."""
    words = rest.words
    while length := starts(words, "polite"):
        words = words[length:]
    typed = [token.typed for token in rest.tokens[len(rest.words) - len(words) :]]
    command = read_command(" ".join(typed))
    while command is None and typed and typed[-1].lower() in ("please", "thanks", "now", "then", "again"):
        typed = typed[:-1]
        command = read_command(" ".join(typed))
    if command is None or command.name in ("ask", "not sure") or (command.name == "same as" and at == "question"):
        return False
    heard.command = heard.command or command
    return True


def _statement(rest: Clause, heard: Speech) -> None:
    words = rest.words
    if len(words) > 2 and words[0] == "except" and words[1] in spoken_list("thing_told"):  # "yes except it's pine"
        rest, words = rest.rest(1), words[1:]
    if _of_another(words):
        heard.marks.add("story")
        return
    unsure = any(not _names_more(words, last) for _, last in finds(words, "unsure"))
    for name in ("mend", "more", "thanks"):
        if holds(words, name):
            heard.marks.add(name)
    if unsure:
        heard.marks.add("unsure")
    if len(words) >= _LONG and holds(words, "told_of") and (holds(words, "kin") or "story" in heard.marks):
        heard.marks.add("story")
        heard.told.append(Said(rest))
        return
    heard.said.append(Said(rest, _doubted(words), unsure))


def _doubted(words: Words) -> bool:
    """A hedge, but not "it must be ready"."""
    return any(words[a:b] != ("must", "be") or words[b : b + 1] != ("ready",) for a, b in finds(words, "hedge"))


def _of_another(words: Words) -> bool:
    """Told of another piece than this: "that was last year's card", "I did one on canvas"."""
    year = next((b for a, b in finds(words, "last_year")), 0)
    return holds(words, "elsewhere") or (0 < year < len(words) and words[year] not in spoken_list("after_year"))


def _names_more(words: Words, after: int) -> bool:
    """ "I forgot the gold": what was left out is named."""
    return words[after - 1] == "forgot" and words[after : after + 1] in (
        ("the",),
        ("to",),
        ("my",),
        ("a",),
        ("some",),
        ("that",),
        ("those",),
    )


def _sift(heard: Speech) -> None:
    """A condition belongs to its question ("if i use a heat gun, will that..."); beside other clauses, one that tells
    a worry or a mere plan ("might add shells") says nothing of the piece.
    """
    heard.said = [s for s in heard.said if not any(a <= s.clause.start < b for a, b in heard.asks)]
    last_said = heard.said[-1].clause.words if heard.said else ()
    if last_said and last_said[0] in spoken_list("supposing") and len(last_said) <= _SUPPOSED:  # "and if i go thinner"
        last = heard.said.pop().clause
        heard.asks.append((last.start, last.end))
    if not heard.said and not heard.leads and heard.told:
        heard.said, heard.told = heard.told, []
        heard.marks.discard("story")
    plain = [s for s in heard.said if not (s.clause.end in heard.worried or holds(s.clause.words, "perhaps_later"))]
    if plain or heard.leads or heard.asks:
        heard.said = plain


# ------------------------------------------------------------------ worries


def _note_worries(clause: Clause, heard: Speech) -> None:
    words, before = clause.words, len(heard.worries)
    for name in ("pregnant", "asthma", "allergy", "child_helps", "bedroom_only", "neighbours"):
        if holds(words, f"worry_{name}") and not _denied_worry(words, f"worry_{name}"):
            heard.worries.add(name)
    asked = is_question(clause)
    if holds(words, "pet") and "of" not in words and (holds(words, "near") or asked):
        heard.worries.add("pets")
    if holds(words, "infant") and "of" not in words and (holds(words, "near") or asked):
        heard.worries.add("child_helps")
    if holds(words, "child") and holds(words, "joins") and "of" not in words:
        heard.worries.add("child_helps")
    if holds(words, "fear") and (asked or holds(words, "bothers")):
        heard.marks.add("fear")
        heard.worried.add(clause.end)
    if len(heard.worries) > before:
        heard.worried.add(clause.end)


def _denied_worry(words: Words, name: str) -> bool:
    first, _ = next(finds(words, name))
    return any(word in ("no", "not", "never", "isnt", "arent", "dont") for word in words[max(first - 2, 0) : first])
