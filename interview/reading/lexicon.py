"""The vocabulary: rows of the knowledge and the files under knowledge/words, as one index of phrases.

A phrase has senses. A sense says which question the phrase answers and with what: a row's id, a kind (a group
of rows, to be narrowed by asking), a choice, or one of the other roles a word can have in a sentence.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Literal

from interview.reading.tokens import Spelling, words_of
from interview.reading.word_forms import read_forms
from knowledge.loading import Knowledge
from knowledge.shape import UNSURE, Choice, Material, Medium, Question
from knowledge.word_files import MARKS, read_words

Sort = Literal["row", "kind", "state", "thing", "uncoated", "grammar", "plain", "number", "piece_word"]
MOST_FOCUSED = 64  # questions whose words are kept
SHORTEST_SLIP = 5  # letters; shorter words are never corrected


@dataclass(frozen=True, slots=True)
class Sense:
    """What a phrase may mean.

    row: the row `value` answers `question`. kind: one of `among` does; `value` is the kind's id.
    state: `value` is a choice of `question`; `denied` its answer when denied; `only` the families it needs.
    grammar, uncoated, number: `value` is the role. thing, plain, piece_word: known, answers nothing.
    """

    sort: Sort
    value: str = ""
    question: str = ""
    name: str = ""
    among: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    takes_sort: bool = False  # an unknown word before it names a sort of it
    families: tuple[str, ...] = ()  # of materials
    narrowed: tuple[tuple[str, str], ...] = ()  # (word, row): with this word in the sentence it is that row
    yields: bool = False  # gives way to any other material of its phrase
    apart: bool = False  # a kind that stays beside a row it might be
    beside: bool = False  # holds together with the other senses of its phrase
    vague: bool = False  # too wide for one row: wins over a row of the same phrase
    job: bool = True  # counts also where someone speaks of the job to be done
    whole: str = ""  # of a kind: the class it is recorded as
    quiet: bool = False  # a word of trade: said back in the general words of its row


_PLAIN, _THING, _PIECE_WORD = Sense("plain"), Sense("thing"), Sense("piece_word")


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Phrases (tuples of folded words) -> senses, with what is needed to look them up fast."""

    spelling: Spelling
    phrases: dict[tuple[str, ...], tuple[Sense, ...]]
    reach: dict[str, int]  # first word -> number of words of its longest phrase
    vocabulary: frozenset[str]  # every word of every phrase
    correctable: dict[str, tuple[str, ...]]  # first letter -> words that a slip may have meant
    numbers: dict[tuple[str, ...], float]
    verbs: frozenset[str]  # words that can be something done
    names: dict[tuple[str, str], str]  # (question, value) -> how it is said back
    cache: dict[str, str | None] = field(default_factory=dict)  # word -> correction; bounded by its user
    classes: dict[tuple[str, str], str] = field(default_factory=dict)  # (question, kind) -> the class it is recorded as
    focused: dict[Any, Lexicon] = field(default_factory=dict)  # with the choices of a question; bounded by its user

    def asked(self, question: Question | None, choices: Sequence[Choice]) -> Lexicon:
        """The same with the words of the choices on the screen, which win over other meanings of those words."""
        if question is None or question.kind not in ("one", "several"):
            return self
        key = (question.id, tuple(c.id for c in choices))
        if key not in self.focused:
            if len(self.focused) > MOST_FOCUSED:
                self.focused.clear()
            self.focused[key] = _focused(self, question, choices)
        return self.focused[key]


def phrases_of(value: str) -> list[str]:
    """ "one, two words, three" -> its phrases."""
    return [phrase for part in value.split(",") if (phrase := " ".join(part.split()))]


@cache
def marked(name: str) -> frozenset[str]:
    """One list of grammar.toml."""
    return frozenset(phrases_of(read_words("grammar")[name]))


@cache
def read_spelling() -> Spelling:
    data = read_words("spelling")
    return Spelling(tuple((a, b) for a, b in data["parts"]), {**data["plurals"], **data["slips"]})


def build(knowledge: Knowledge) -> Lexicon:
    """The index over all rows and word files. Takes some tenths of a second; keep it."""
    spelling = read_spelling()
    found, content = _found(knowledge, spelling)
    reach: dict[str, int] = defaultdict(int)
    for words in found:
        reach[words[0]] = max(reach[words[0]], len(words))
    numbers = read_words("numbers")["values"]
    doing = next(t["say"] for t in read_words("plain")["plain"] if t["theme"] == "doing")
    return Lexicon(
        spelling,
        {words: _without_rivals(senses) for words, senses in found.items()},
        dict(reach),
        frozenset(w for words in found for w in words),
        _by_letter(w for w in content if len(w) >= SHORTEST_SLIP and w.isalpha()),
        {words_of(phrase, spelling): float(value) for phrase, value in numbers.items()},
        frozenset(spelling.stem(word) for word in doing.split()),
        _names(knowledge),
        classes={
            (k["question"], k["id"]): k["row"] for k in read_words("kinds")["kind"] if k.get("row") in knowledge.classes
        },
    )


def _focused(lexicon: Lexicon, question: Question, choices: Sequence[Choice]) -> Lexicon:
    senses: dict[tuple[str, ...], list[Sense]] = {}
    for phrase, value in (*_choice_phrases(choices), *phrases_told(question.id)):
        words = words_of(phrase, lexicon.spelling)
        if words and not _mere(words):
            senses.setdefault(words, []).append(_choice_sense(question, value))
    extra = {w: tuple(dict.fromkeys(group)) for w, group in senses.items() if not _has(lexicon, w, question)}
    reach = dict(lexicon.reach)
    for words in extra:
        reach[words[0]] = max(reach.get(words[0], 0), len(words))
    vocabulary = lexicon.vocabulary | {w for words in extra for w in words}
    return replace(
        lexicon, phrases={**lexicon.phrases, **extra}, reach=reach, vocabulary=vocabulary, focused={}, cache={}
    )


def _has(lexicon: Lexicon, words: tuple[str, ...], question: Question) -> bool:
    """Whether the words already have a meaning that answers a question with a shelf of rows."""
    shelf = "support" if question.id == "mounted" else question.id
    return bool(question.rows) and any(s.question == shelf for s in lexicon.phrases.get(words, ()))


def _choice_sense(question: Question, value: str) -> Sense:
    if question.rows and value not in {c.id for c in question.choices}:
        return Sense("row", value, "support" if question.id == "mounted" else question.id)
    return Sense("state", value, question.id)


def _mere(words: tuple[str, ...]) -> bool:
    """A yes, a no or a little word: no name of a choice."""
    said = frozenset(phrases_of(read_words("speech")["say_nothing"]))
    return words[0] in said if len(words) == 1 else said.issuperset(words) and "on" not in words


def _choice_phrases(choices: Sequence[Choice]) -> Iterator[tuple[str, str]]:
    for choice in choices:
        head = re.split(r"[:,(]", choice.text, maxsplit=1)[0]
        yield from ((phrase, choice.id) for phrase in (choice.text, head, choice.id.replace("_", " "), *choice.also))


@cache
def phrases_told(question: str) -> tuple[tuple[str, str], ...]:
    """(phrase, choice) of replies.toml for a question, in the order of the file."""
    told = read_words("replies")
    rows = [row for row in told["reply"] if row["question"] == question]
    rows += told["liquid"] if question in ("swab_clean", "swab_colour") else []
    return tuple((p, row["value"]) for row in rows for p in phrases_of(row["say"]))


def _content_words(found: Mapping[tuple[str, ...], Sequence[Sense]]) -> set[str]:
    """Words of phrases that mean something beyond grammar: what a slip may have meant."""
    named = (words for words, senses in found.items() if any(s.sort not in ("grammar", "plain") for s in senses))
    return {word for words in named for word in words}


def _found(knowledge: Knowledge, spelling: Spelling) -> tuple[dict[tuple[str, ...], list[Sense]], set[str]]:
    """Every phrase with its senses, and the words that a slip may have meant."""
    found: dict[tuple[str, ...], list[Sense]] = defaultdict(list)
    plain: set[tuple[str, ...]] = set()
    forms = read_forms(marked("takes_it"), marked("between"), marked("nots"), spelling)
    loose, poured = ({words_of(phrase, spelling) for phrase in marked(name)} for name in ("loose", "poured"))
    for phrase, sense in _senses(knowledge):
        words = words_of(phrase, spelling)
        if not words:
            continue
        if sense.sort == "plain":
            plain.add(words)
        elif sense.sort == "row" and words in loose:
            continue
        elif sense.sort in ("row", "kind") and words in poured:
            found[words].append(replace(sense, job=False))
        else:
            for form in forms.of(words, sense.sort):
                found[form].append(sense)
    content = _content_words(found)
    for words in plain - found.keys():
        found[words].append(_PLAIN)
    for words in list(found):
        if len(words) == 2 and min(map(len, words)) >= 3 and content.issuperset(words):
            found.setdefault(("".join(words),), found[words])  # "letter press" is also written "letterpress"
    return found, content


def _without_rivals(senses: Sequence[Sense]) -> tuple[Sense, ...]:
    """Of a row and a kind that answer the same question with the same phrase, one stays."""
    senses = tuple(dict.fromkeys(senses)) if len(senses) > 1 else tuple(senses)
    if all(s.sort != "kind" for s in senses):
        return senses
    vague = {s.question for s in senses if s.vague}
    rows = {s.question for s in senses if s.sort == "row"} - vague
    kept = [s for s in senses if not (s.sort == "row" and s.question in vague)]
    kept = [s for s in kept if not (s.sort == "kind" and not s.vague and s.question in (rows | vague))]
    return tuple(dict.fromkeys(replace(s, vague=False) if s.vague else s for s in kept))


def _by_letter(words: Iterable[str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = defaultdict(list)
    for word in sorted(words):
        found[word[0]].append(word)
    return {letter: tuple(group) for letter, group in found.items()}


def _senses(knowledge: Knowledge) -> Iterator[tuple[str, Sense]]:
    yield from _row_senses(knowledge)
    yield from _kind_senses(knowledge)
    for state in read_words("states")["state"]:
        sense = Sense("state", state["value"], state["question"], only=tuple(state.get("only", ())))
        yield from ((phrase, sense) for phrase in phrases_of(state["say"]))
    for role, phrases in read_words("grammar").items():
        if role in MARKS:
            continue
        yield from ((phrase, Sense("grammar", role)) for phrase in phrases_of(phrases))
    for level, phrases in read_words("uncoated").items():
        yield from ((phrase, Sense("uncoated", level)) for phrase in phrases_of(phrases))
    for theme in read_words("things")["things"]:
        yield from ((phrase, _THING) for phrase in phrases_of(theme["say"]))
    for theme in read_words("plain")["plain"]:
        yield from ((phrase, _PLAIN) for phrase in (*theme["say"].split(), *phrases_of(theme.get("phrases", ""))))
    numbers = read_words("numbers")
    yield from ((phrase, Sense("number", phrase)) for phrase in numbers["values"])
    for role in ("of_them", "set", "again"):
        yield from ((phrase, Sense("grammar", role)) for phrase in phrases_of(numbers[role]))
    yield from ((phrase, _PIECE_WORD) for phrase in phrases_of(numbers["pieces"]))


def _row_senses(knowledge: Knowledge) -> Iterator[tuple[str, Sense]]:
    for question in ("support", "media", "laid_on"):
        for row in _shelf(question, knowledge).values():
            if row.id in UNSURE or row.id == "no_medium" or row.members:
                continue
            sense = _row_sense(question, row.id, knowledge)
            yield from ((phrase, sense) for phrase in (row.name, *row.also) if not _carries(phrase, question))
    for name in ("sorts", "trade"):
        for sort in read_words(name)["sort"]:
            sense = replace(_row_sense(sort["question"], sort["row"], knowledge), quiet=name == "trade")
            yield from ((phrase, sense) for phrase in phrases_of(sort["say"]))


@cache
def _trade_words() -> tuple[re.Pattern[str], dict[str, tuple[str, str]]]:
    rows = [(p, (s["question"], s["row"])) for s in read_words("trade")["sort"] for p in phrases_of(s["say"])]
    pattern = "|".join(sorted((re.escape(p) for p, _ in rows), key=len, reverse=True))
    return re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE), dict(rows)


def in_general_words(text: str, knowledge: Knowledge) -> str:
    """What a person typed, as it may be said back: words of trade become the names of their rows."""
    pattern, rows = _trade_words()

    def name(match: re.Match[str]) -> str:
        question, row = rows[match[0].lower()]
        return _shelf(question, knowledge)[row].name if row in _shelf(question, knowledge) else match[0]

    return pattern.sub(name, text)


def _carries(phrase: str, question: str) -> bool:
    """ "oil on canvas" names a medium and what carries it; the sentence is taken apart instead."""
    return question == "media" and bool(re.search(r"\w on (?:canvas|paper|board|panel|linen|wood|card)$", phrase))


def _row_sense(question: str, row: str, knowledge: Knowledge) -> Sense:
    family = getattr(_shelf(question, knowledge).get(row), "family", "")
    families = (family,) if family else ()
    name = getattr(_shelf(question, knowledge).get(row), "name", "")
    return Sense("row", row, question, name, families=families, takes_sort=family in ("stone", "wood"))


def _shelf(question: str, knowledge: Knowledge) -> Mapping[str, Material | Medium]:
    if question == "media":
        return knowledge.media
    return knowledge.materials if question == "support" else knowledge.inclusions


def _kind_senses(knowledge: Knowledge) -> Iterator[tuple[str, Sense]]:
    for kind in read_words("kinds")["kind"]:
        families, rows = kind.get("families", ()), kind.get("rows", ())
        known = _shelf(kind["question"], knowledge)
        among = tuple(m.id for m in knowledge.materials.values() if m.family in families and m.id not in rows)
        among += tuple(row for row in rows if row in known)
        sense = Sense(
            "kind", kind["id"], kind["question"], kind["name"], among,
            families=_families(kind, among, knowledge), takes_sort=kind.get("takes_sort", False),
            beside=kind.get("beside", False),
            apart=kind.get("apart", False), yields=kind.get("yields", False), whole=kind.get("row", ""),
            narrowed=tuple(kind.get("narrowed", {}).items()),
        )  # fmt: skip
        yield from ((phrase, sense) for phrase in phrases_of(kind["say"]))
        yield from ((phrase, replace(sense, vague=True)) for phrase in phrases_of(kind.get("vague", "")))


def _families(kind: dict[str, Any], among: tuple[str, ...], knowledge: Knowledge) -> tuple[str, ...]:
    if kind["question"] != "support":
        return ()
    if "family" in kind:
        return (kind["family"],)
    families = {knowledge.materials[row].family for row in among} | set(kind.get("families", ()))
    return tuple(sorted(families)) or (kind["id"],)


def _names(knowledge: Knowledge) -> dict[tuple[str, str], str]:
    names = {
        (question, row.id): row.name
        for question in ("support", "media", "laid_on")
        for row in _shelf(question, knowledge).values()
    }
    for question in knowledge.questions.values():
        names.update({(question.id, c.id): c.text for c in question.choices})
    return names
