"""What a maker proposes, heard in their own words and judged on the piece: yes, or no and what instead."""

from __future__ import annotations

from typing import Any

import pytest

from interview.reading.proposed import proposed
from interview.reasoning.planner import make_plan
from interview.reasoning.proposing import judge_proposals
from knowledge.loading import Knowledge
from tests.cases.awkward import FILE, answers_of, read

PIECES = [p for p in read(FILE) if "proposes" in p]
RIGHT = 74  # of the eighty proposals in awkward.toml: heard, and yes where the practitioner says yes, else not yes
HEARD = [  # what is typed at any prompt -> the actions in it
    ("I'd wipe it with alcohol first", {"alcohol_wipe"}),
    ("dry it in the oven?", {"oven"}),
    ("can I roll it down and sand it", {"roll", "sand"}),
    ("I was going to give it a good scrub and rinse it", {"stiff_brush", "soak"}),
    ("what if I just hairspray it", {"hairspray"}),
    ("should I wash them in soapy water first?", {"wash"}),
    ("I'd say it's a wash drawing", set()),
    ("I won't sand it", set()),
    ("brush, and spray outdoors", set()),
    ("it was sanded years ago", set()),
    ("an old iron plate", set()),
]


@pytest.mark.parametrize(("typed", "actions"), HEARD, ids=[t for t, _ in HEARD])
def test_proposals_are_heard_and_nothing_else(knowledge: Knowledge, typed: str, actions: set[str]) -> None:
    assert proposed(typed, knowledge) == actions


def test_most_awkward_proposals_are_judged_as_a_practitioner_does(knowledge: Knowledge) -> None:
    wrong = []
    for piece in PIECES:
        heard = proposed(piece["proposes"], knowledge, asked=True)
        judged = judge_proposals(knowledge, answers_of(knowledge, piece["answers"]), heard)
        yes = bool(judged) and all(j.verdict == "yes" for j in judged)
        if not judged or yes != piece["proposal"].startswith("yes"):
            wrong.append(piece["id"])
    assert len(PIECES) - len(wrong) >= RIGHT, wrong


def test_the_reason_is_the_clash_and_the_gentler_way_is_named(knowledge: Knowledge) -> None:
    piece = {"piece": "hard", "support": ["glass"], "media": ["marker"]}
    (judged,) = judge_proposals(knowledge, answers_of(knowledge, piece), {"alcohol_wipe"})
    assert judged.verdict == "instead"
    assert "dissolves alcohol marker" in judged.says
    assert "only on what is bare" in judged.says


def test_they_stand_in_the_plan(knowledge: Knowledge) -> None:
    answers = answers_of(knowledge, {"support": ["copy_paper"], "media": ["inkjet_dye"]})
    plan = make_plan(knowledge, answers.say("proposals", frozenset(("damp_wipe", "tap"))))
    assert {p.action: p.verdict for p in plan.proposals} == {"damp_wipe": "instead", "tap": "yes"}


@pytest.mark.parametrize(
    ("told", "action", "verdict", "words"),
    [
        ({"support": ["cartridge_paper"], "media": ["charcoal"], "worries": ["pregnant"]}, "spray", "no", "pregnant"),
        ({"support": ["cartridge_paper"], "media": ["charcoal"], "worries": ["pregnant"]}, "brush", "no", "charcoal"),
        ({"piece": "hard", "support": ["glazed_tile"], "media": ["soot"], "ways": ["brush"]}, "spray", "no", "place"),
        ({"piece": "photo", "support": ["collodion_photo"]}, "dry_wipe", "no", "Coat a copy"),
        ({"piece": "hard", "support": ["laminate"], "media": ["whiteboard_marker"]}, "spray", "yes", "trial is clean"),
        ({"support": ["copy_paper"]}, "warm_air", "instead", "room air and time"),
    ],
)
def test_who_it_is_and_what_is_stopped_count_too(
    knowledge: Knowledge, told: dict[str, Any], action: str, verdict: str, words: str
) -> None:
    (judged,) = judge_proposals(knowledge, answers_of(knowledge, told), {action})
    assert (judged.verdict, words in judged.says) == (verdict, True), judged.says
