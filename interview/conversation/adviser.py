"""What the dialogue asks of the rest: the knowledge, the agenda, the plan, the brief. Loaded when first needed.

`Later` fetches it beside the first question, so that the screen never waits for it.
"""

from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, Generic, TypeVar

if TYPE_CHECKING:
    import hashlib
    from pathlib import Path

    from interview.plan.answers import Answers
    from interview.plan.model import Plan
    from interview.reasoning.agenda import Asked, Pace
    from knowledge.loading import Knowledge
    from knowledge.shape import Choice, Class, Contradiction, Question

T = TypeVar("T")


class Later(Generic[T]):
    """A value made once, in the background if `start` is called in time."""

    def __init__(self, make: Callable[[], T]) -> None:
        self._make = make
        self._lock = threading.Lock()
        self._made: T | None = None
        self._error: BaseException | None = None

    def start(self) -> None:
        """Make it now; what goes wrong is raised by `get`."""
        with self._lock:
            if self._made is None and self._error is None:
                try:
                    self._made = self._make()
                except BaseException as error:  # carried over to the thread that asks for it
                    self._error = error

    def get(self) -> T:
        self.start()
        if self._error is not None:
            raise self._error
        assert self._made is not None
        return self._made


class Adviser:
    """One knowledge base and what can be asked of it."""

    def __init__(self, knowledge: Knowledge, rules: Mapping[str, str] | None = None) -> None:
        """`rules`: the sums of what it reasons by, for the seal; none: its briefs have no seal."""
        self.knowledge = knowledge
        self.rules = rules or {}

    def next_question(self, answers: Answers, pace: Pace, asked: int = 0) -> Question | None:
        from interview.reasoning.agenda import next_question

        return next_question(self.knowledge, answers, pace, asked)

    def question(self, id: str) -> Question:
        return self.knowledge.questions[id]

    def wording(self, question: Question, answers: Answers) -> Asked:
        from interview.reasoning.agenda import wording

        return wording(question, self.knowledge, answers)

    def not_offered(self, question: Question, value: Any, choices: Sequence[Choice]) -> tuple[Choice, ...]:
        """What a value names though the question does not offer it here: a class, a row of another family."""
        from interview.reading.fitting import all_choices

        ids = (value if isinstance(value, frozenset) else {value}) - {choice.id for choice in choices}
        return tuple(choice for choice in all_choices(question, self.knowledge) if choice.id in ids)

    def acknowledge(self, before: Answers, after: Answers) -> str:
        from interview.reasoning.agenda import acknowledge

        return acknowledge(self.knowledge, before, after)

    def contradictions(self, answers: Answers) -> tuple[Contradiction, ...]:
        from interview.reasoning.agenda import contradictions

        return contradictions(self.knowledge, answers)

    def refit(self, before: Answers, after: Answers) -> Answers:
        """After a change, answers that no longer fit what is asked are to be given again; the others stand."""
        from interview.reasoning.agenda import refit

        return refit(self.knowledge, before, after)

    def anew(self, answers: Answers) -> Answers:
        """The answers of an earlier piece for another one: trials are to be done again."""
        from interview.reading.fitting import keep_fitting

        answers = keep_fitting(answers, self.knowledge)[0]
        for id in answers:
            if self.question(id).part == "trials":
                answers = answers.make_stale(id)
        return answers

    def describe(self, answers: Answers, own: Mapping[str, str] | None = None) -> str:
        """`own`: what the maker calls a row, put for its name."""
        from interview.reasoning.describing import describe

        return describe(self.knowledge, answers, own)

    def kinds_differ(self, answers: Answers, id: str, one: Class) -> bool:
        from interview.reasoning.agenda import kinds_differ

        return kinds_differ(self.knowledge, answers, self.question(id), one)

    def questions_left(self, answers: Answers, pace: Pace, asked: int) -> tuple[int, int]:
        """The least and the most that are still to come."""
        from interview.reasoning.agenda import questions_left

        return questions_left(self.knowledge, answers, pace, asked)

    def short_answer(self, answers: Answers) -> str:
        """Two sentences: what to do where, and why so."""
        from interview.reasoning.deciding import decide
        from interview.reasoning.summing_up import short_answer

        return short_answer(decide(self.knowledge, answers))

    def plan(
        self, answers: Answers, name: str = "", not_covered: tuple[str, ...] = (), *, imperial: bool = False
    ) -> Plan:
        from interview.reasoning.planner import make_plan

        made = make_plan(self.knowledge, answers, name, imperial=imperial)
        return made.model_copy(update={"not_covered": not_covered})

    def changes(self, before: Plan, after: Plan) -> list[str]:
        from interview.reasoning.comparing import changes

        return changes(before, after)


def load_adviser(extra: Path | None = None, stock: Path | None = None) -> Adviser:
    """Read the knowledge, once, and import what the next steps need. `stock`: the maker's own list of tins.

    Raises KnowledgeError, StockError.
    """
    return _loaded(extra, stock)


@cache
def _loaded(extra: Path | None, stock: Path | None) -> Adviser:
    from interview.reading import opening
    from knowledge.allowances import load_allowances
    from knowledge.loading import load
    from knowledge.solvents import load_solvents

    knowledge = load(extra)
    load_allowances()  # what is wrong with them is told now, not in the middle of a plan
    load_solvents()
    if stock is not None:
        from interview.files.stock import put_on_shelf

        knowledge = put_on_shelf(knowledge, stock)
    opening.lexicon_of(knowledge)
    gc.freeze()  # what is known stays to the end; looking through it again and again would only take time
    gc.enable()
    return Adviser(knowledge, _rules(extra, stock))


def _rules(extra: Path | None, stock: Path | None) -> Mapping[str, str]:
    """What a plan is made by: the version of the program, and a sum each of our data, of own rows and of the stock."""
    import hashlib

    from interview import __version__

    sums = {"version": __version__, "knowledge": knowledge_version()}
    if extra is not None:
        sums["own"] = _sum_of(extra).hexdigest()[:12]
    if stock is not None:
        sums["stock"] = hashlib.sha256(stock.read_bytes()).hexdigest()[:12]
    return sums


def knowledge_version(extra: Path | None = None) -> str:
    """A short sum over all data files: the same files, the same version."""
    from pathlib import Path

    import knowledge

    return _sum_of(Path(knowledge.__path__[0]), *([extra] if extra else [])).hexdigest()[:12]


def _sum_of(*folders: Path) -> hashlib._Hash:
    import hashlib

    total = hashlib.sha256()
    for folder in folders:
        for path in sorted(p for p in folder.rglob("*") if p.suffix in (".toml", ".txt") and p.is_file()):
            total.update(path.relative_to(folder).as_posix().encode())
            total.update(path.read_bytes())
    return total
