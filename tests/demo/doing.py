"""Scenes of the doing: a piece worked on, a stall through its evenings. A line "+90" lets so many minutes pass."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from interview.conversation.adviser import load_adviser
from interview.conversation.stall import said
from interview.files.batches import KeptBatch, KeptKind, save
from interview.plan.answers import NOT_SURE, Answers
from interview.reading.kinds_told import kinds_told
from tests.doing.beside import work


def worked(scene: dict[str, Any], now: datetime) -> str:
    """What stood on the screen."""
    if scene["pace"] == "work":
        return work(scene["answers"], scene["lines"], begin=now)[1].transcript
    return _stall(scene, now)


def _stall(scene: dict[str, Any], now: datetime) -> str:
    adviser = load_adviser()
    kinds = tuple(KeptKind(k.name, k.count, _whole(k.answers)) for k in kinds_told(scene["kinds"], adviser.knowledge))
    kept = save(KeptBatch("fair", kinds, scene["wishes"], said=((f"{now:%Y-%m-%d %H:%M}", "begun"),)))
    screen = [f"> {scene['kinds']}", *(f"{k.count:>4} x {k.name}" for k in kinds)]
    for line in scene["lines"]:
        kept, told = said(adviser, kept, line, now)
        screen += ["", f"> {line}", *told]
    return "\n".join(screen) + "\n"


def _whole(answers: Answers) -> Answers:
    adviser = load_adviser()
    for question, value in (
        ("laid_on", frozenset(("none",))),
        ("media", frozenset(("no_medium",))),
        ("only_one", "replaceable"),
    ):
        answers = answers if question in answers else answers.say(question, value)
    while missing := adviser.plan(answers).missing:
        answers = answers.say(missing[0], NOT_SURE)
    return answers
