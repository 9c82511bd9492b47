"""How well questions are answered: `python -m tests.asking.measure FILE [--lines] [--unseen]`.

FILE: a line of JSON a question: what was said before, where it was typed, the question, its topic, what the answer must
hold and must not. Right: its topic (or one also allowed) answered, or among two that are offered, with nothing forbidden
said and all that is needed; for what is not known here, saying so. Wrong: another topic answered, or something forbidden
said. The rest is said to be unknown, or was not heard as a question.
"""

from __future__ import annotations

import argparse
import json
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from interview.conversation.answering import UNKNOWN, Situation, questions_in, tell
from interview.plan.answers import Answers
from interview.reading.opening import understand
from interview.reading.turn import Focus, read_turn
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge, load

NOW = datetime(2027, 1, 4, 9)
NONE, OFFER = "not_a_question", "Do you mean "
SAME = {"count_60": "count_other", "tack": "tacky", "size_coat": "size", "dam": "dammed"}  # the corpus's name, ours


@dataclass(frozen=True)
class Result:
    """One line judged. `outcome`: right, wrong, unknown or unheard."""

    line: dict[str, Any]
    outcome: str
    topics: tuple[str, ...] = ()
    says: str = ""


@cache
def knowledge() -> Knowledge:
    return load()


def situation_of(line: dict[str, Any]) -> Situation:
    """What is known, and the question on the screen, when it is typed."""
    answers = Answers()
    for question, value in understand(line["said_before"] or "", knowledge()).proposed.items():
        answers = answers.say(question, value)
    at = line["at"]
    asked = wording(knowledge().questions[at], knowledge(), answers) if at in knowledge().questions else None
    return Situation(knowledge(), answers, at, asked if line["said_before"] else None, now=NOW)


def judge(line: dict[str, Any]) -> Result:
    """Type it where it was typed, and look at what comes back."""
    situation = situation_of(line)
    place = "opening" if line["said_before"] is None else line["at"]
    turn = read_turn(line["typed"], Focus(place, situation.asked, situation.answers, now=NOW), knowledge())
    asks = questions_in(line["typed"], turn.asks, situation, says_more=bool(turn.facts or turn.command))
    told = [tell(text, situation) for text in asks]
    heard = [t for t in told if t is not None]
    if line["kind"] == NONE:
        outcome = "wrong" if heard else "right"
        return Result(line, outcome, heard[0].topics if heard else (), heard[0].says if heard else "")
    if not heard:
        return Result(line, "unheard")
    says = "\n".join(t.says for t in heard)
    topics = tuple(topic.rpartition(".")[2] for t in heard for topic in t.topics)
    unknown = all(not t.topics or t.says == UNKNOWN for t in heard)
    return Result(line, _judged(line, says, topics, said_unknown=unknown), topics, says)


def _judged(line: dict[str, Any], says: str, topics: tuple[str, ...], *, said_unknown: bool) -> str:
    wanted = {SAME.get(topic, topic) for topic in (line["topic"], *line["also_ok"])}
    if any(bad in says.casefold() for bad in line["must_not_say"]):
        return "wrong"
    if said_unknown:
        return "right" if line["kind"] == "unknown" else "unknown"
    if wanted & set(topics):
        return "right"
    return "unknown" if says.startswith(OFFER) else "wrong"


def lacks(result: Result) -> list[str]:
    """The words that the answer should have and has not; none for what was offered or not answered."""
    if result.outcome != "right" or result.line["kind"] == NONE or result.says.startswith(OFFER):
        return []
    says = result.says.casefold()
    return [e for e in result.line["answer_has"] if not any(_whole(word, says) for word in e.split("|"))]


def _whole(word: str, says: str) -> bool:
    return re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", says) is not None


def results(path: Path) -> Iterator[Result]:
    for text in path.read_text(encoding="utf-8").splitlines():
        if text.strip():
            yield judge(json.loads(text))


def teach_without() -> None:
    """Weights that have seen no line of the files of this folder, for this run. Needs scikit-learn."""
    from interview.reading import topic_matching
    from tests.training.fitting import fit
    from tests.training.lines import LESSONS

    lesson = LESSONS["topics"]
    learned = fit([e for e in lesson.examples(knowledge()) if not e.hand.startswith("asking_")], lesson.settings)
    topic_matching.model = lambda _: learned  # type: ignore[assignment]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--lines", action="store_true", help="show what was not right, and answers that lack a word")
    parser.add_argument("--unseen", action="store_true", help="by weights learned without any line of tests/asking")
    options = parser.parse_args()
    if options.unseen:
        teach_without()
    found = list(results(options.file))
    count = Counter(r.outcome for r in found)
    short = [r for r in found if lacks(r)]
    for r in found if options.lines else ():
        if r.outcome != "right" or r in short:
            print(
                f"{r.outcome}: {r.line['at']}: {r.line['typed']!r} is {r.line['topic']}, got {r.topics} {lacks(r) or ''}"
            )
    total = len(found)
    print(
        ", ".join(
            f"{name} {count[name]} ({count[name] / total:.3f})" for name in ("right", "wrong", "unknown", "unheard")
        )
    )
    print(f"right, but lacking a word: {len(short)}")


if __name__ == "__main__":
    main()
