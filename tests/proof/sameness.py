"""Same answers, same plan: in another process, with other hash seeds, said in another order, and changed and put back."""

from __future__ import annotations

import hashlib
import json
import os
import random
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from interview.plan.answers import Answers
from interview.reasoning.agenda import next_question
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge, load
from tests.proof.pieces import Base, answers_for
from tests.proof.tally import Tally

SEEDS = ("0", "1", "4711")
ROOT = Path(__file__).parent.parent.parent


def prove(knowledge: Knowledge, chosen: Sequence[Base], tally: Tally, seeds: Sequence[str] = SEEDS) -> None:
    """The plans of these bases, made here and in other processes, said in order and in another."""
    here = [written(knowledge, answers_for(knowledge, base)) for base in chosen]
    for seed in seeds:
        there = _elsewhere(seed, chosen)
        tally.counts["plans made again in another process, with another hash seed"] += len(there)
        for base, one, other in zip(chosen, here, there, strict=True):
            if digest(one) != other:
                tally.fault(f"11: with hash seed {seed} the same answers give another plan", base)
    for base, one in zip(chosen, here, strict=True):
        _said_otherwise(knowledge, base, one, tally)


def _said_otherwise(knowledge: Knowledge, base: Base, before: str, tally: Tally) -> None:
    answers, rng = answers_for(knowledge, base), random.Random(base.number)
    entries = list(answers.entries)
    rng.shuffle(entries)
    tally.counts["plans made again from answers said in another order"] += 1
    if _but_for_answers(written(knowledge, Answers(tuple(entries)))) != _but_for_answers(before):
        tally.fault("11: said in another order, the same answers give another plan", base)
    question = rng.choice([q for q in answers if not answers[q].unsure])
    tally.counts["plans made again after an answer was changed and put back"] += 1
    changed = answers.say(question, answers_for(knowledge, _next_to(base))[question].value)
    next_question(knowledge, changed)
    restored = changed.say(question, answers[question].value)
    if written(knowledge, restored) != before:
        tally.fault(f"11: '{question}' changed and put back gives another plan", base)


def _next_to(base: Base) -> Base:
    return Base(base.number + 1, base.piece, base.support, base.media)


def written(knowledge: Knowledge, answers: Answers) -> str:
    """The whole plan as its file holds it."""
    from interview.brief.json_form import write

    return write(make_plan(knowledge, answers))


def _but_for_answers(plan: str) -> str:
    held = json.loads(plan)
    return json.dumps(
        {k: sorted(v.items()) if k in ("answers", "origins") else v for k, v in held.items()}, default=str
    )


def digest(plan: str) -> str:
    return hashlib.sha256(plan.encode()).hexdigest()


def _elsewhere(seed: str, chosen: Sequence[Base]) -> list[str]:
    told = json.dumps([(b.number, b.piece, sorted(b.support), sorted(b.media)) for b in chosen])
    command = [sys.executable, "-m", "tests.proof.sameness"]
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    done = subprocess.run(command, cwd=ROOT, env=environment, input=told, capture_output=True, text=True, check=True)
    return done.stdout.split()


def main() -> None:
    """Digests of the plans of the bases told on the standard input."""
    knowledge = load()
    for number, piece, support, media in json.load(sys.stdin):
        base = Base(number, piece, frozenset(support), frozenset(media))
        print(digest(written(knowledge, answers_for(knowledge, base))))


if __name__ == "__main__":
    main()
