"""What a brief is made from, gathered for its seal, and put together again from one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser
    from interview.files.kept import Kept
    from interview.plan.answers import Answers
    from interview.plan.model import Plan


def sealed(plan: Plan, answers: Answers, adviser: Adviser, *, imperial: bool) -> Plan:
    """The plan with its seal; as it is where nobody knows what rules it was made by."""
    if not adviser.rules:
        return plan
    from interview.brief.seal import letters_for
    from interview.files.records import encode

    made_from: dict[str, Any] = {
        "answers": [[id, encode(a.value), a.origin, a.doubt] for id, a in answers.items()],
        "name": plan.name,
        "rules": dict(adviser.rules),
    }
    more = {
        "damage": plan.damage,
        "done": [[d.step, d.at.isoformat(" ", "minutes"), d.name, d.skipped] for d in plan.done],
        "imperial": imperial,
        "left": list(plan.not_covered),
    }
    made_from |= {key: value for key, value in more.items() if value}
    return plan.model_copy(update={"seal": letters_for(made_from), "made_from": made_from})


def sealed_piece(kept: Kept, adviser: Adviser, *, imperial: bool = False) -> tuple[Plan, bool]:
    """The plan of a kept piece as its brief shows it, and whether it is told in inches first."""
    from interview.conversation.ledger import not_covered
    from interview.reading.fitting import keep_fitting
    from interview.reading.measures import thinks_in_inches

    answers, _ = keep_fitting(kept.answers, adviser.knowledge)
    words = [kept.opening, *(answer.words for answer in answers.values())]
    imperial = imperial or thinks_in_inches(words)
    made = adviser.plan(answers, kept.name, not_covered(kept, adviser.knowledge), imperial=imperial)
    damage = f"The file of {kept.name or 'this piece'} is damaged: {kept.lost}." if kept.lost else ""
    made = made.model_copy(update={"done": kept.did, "damage": damage})
    return sealed(made, answers, adviser, imperial=imperial), imperial


def made_again(made_from: Mapping[str, Any], adviser: Adviser) -> tuple[Plan, tuple[str, ...]]:
    """The plan by today's rules, sealed, and the answers that fit no longer. Raises ValueError where it is none of ours."""
    from datetime import datetime

    from interview.files.records import decode
    from interview.plan.answers import Answer, Answers
    from interview.plan.doings import Done
    from interview.reading.fitting import keep_fitting

    try:
        told = Answers(
            tuple(
                (str(id), Answer(decode(value), origin, "", bool(doubt)))
                for id, value, origin, doubt in made_from["answers"]
            )
        )
        done = tuple(Done(s, datetime.fromisoformat(at), n, bool(k)) for s, at, n, k in made_from.get("done", ()))
        imperial, left = bool(made_from.get("imperial")), tuple(map(str, made_from.get("left", ())))
        answers, misfits = keep_fitting(told, adviser.knowledge)
        plan = adviser.plan(answers, str(made_from["name"]), left, imperial=imperial)
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError("no seal of ours") from error
    plan = plan.model_copy(update={"done": done, "damage": str(made_from.get("damage", ""))})
    return sealed(plan, answers, adviser, imperial=imperial), misfits
