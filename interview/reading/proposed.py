"""What a person says they would do to the piece: "I'd wipe it with alcohol first", "dry it in the oven?"."""

from __future__ import annotations

import re
from functools import lru_cache

from knowledge.loading import Knowledge

_WOULD = re.compile(
    r"\b(?:i(?:'d| would|'ll| will| might| want(?:ed)? to| plan(?:ned)? to| was (?:going to|thinking)|'m (?:going|planning) to)"
    r"|(?:we|i)(?: thought| think) (?:of|i'd|we'd|i'll)|(?:can|could|should|shall|may) (?:i|we)|what if (?:i|we)|(?:how|what) about"
    r"|why not|let me|is it (?:ok|okay|fine|safe|enough) to|ok(?:ay)? to|better to|just)\b"
)
_SUPPOSES = re.compile(r"\bi(?:'d| would) (?:say|guess|call|think|love|like it)\b")
_NOT = re.compile(r"\b(?:not|never|no|won't|wont|don't|dont|didn't|without|already|cannot|can't)\b(?: \w+){0,3} ?$")
_CLAUSE = re.compile(r"[.;!]|\bbut\b")


def proposed(text: str, knowledge: Knowledge, *, asked: bool = False) -> frozenset[str]:
    """The actions proposed, by id. `asked`: the whole text is a proposal; else only clauses that say so count."""
    found: set[str] = set()
    for clause in _CLAUSE.split(text.casefold().replace("\u2019", "'")):
        whole = asked or clause.rstrip().endswith("?") or (_WOULD.search(clause) and not _SUPPOSES.search(clause))
        if whole:
            found |= _named(clause, knowledge)
    return frozenset(found)


def _named(clause: str, knowledge: Knowledge) -> set[str]:
    """The longest phrases first; what one has taken, no other takes."""
    pattern, ids = _phrases(knowledge)
    heard = (m for m in pattern.finditer(clause) if not _NOT.search(clause[: m.start()]))
    return {ids[int((m.lastgroup or "_0")[1:])] for m in heard}


@lru_cache(maxsize=4)
def _phrases(knowledge: Knowledge) -> tuple[re.Pattern[str], tuple[str, ...]]:
    """One pattern of them all, and the action of each of its groups. In a phrase, .. stands for up to four words."""
    said = [(phrase, action.id) for action in knowledge.actions.values() for phrase in action.also]
    said.sort(key=lambda pair: len(pair[0]), reverse=True)
    forms = (r" (?:\S+ ){0,4}?".join(map(re.escape, phrase.split(" .. "))) for phrase, _ in said)
    pattern = "|".join(f"(?P<_{n}>{form})" for n, form in enumerate(forms))
    return re.compile(rf"\b(?:{pattern})\b"), tuple(id for _, id in said)
