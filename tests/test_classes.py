"""Classes: "some wood" is the worst of the woods. No source: what worst means is the trade's, in properties.toml."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from interview.files.answers_file import read_answers, write_answers
from interview.plan.answers import Answers
from interview.reasoning.planner import make_plan
from knowledge.classes import class_named, not_sure_after
from knowledge.loading import HOME, Knowledge, KnowledgeError, load

TABLES = {"material": "materials", "inclusion": "inclusions", "medium": "media"}
CLASSES = tuple(load().classes)
# the worse comes first
WORSE = {
    "brush": ("crushes", "sheds", "tears", "curls", "varies", "cockles", "holds"),
    "floats": ("floats", "hovers", "sinks"),
    "fix": ("first", "optional", "no"),
}
OPENNESS = ("open", "tight", "closed")
LEVELS = (
    "drink",
    "air",
    "fibre",
    "water",
    "alcohol",
    "hydrocarbon",
    "strong",
    "oily",
    "loose",
    "moist",
    "smudge",
    "waxy",
)


def _row(knowledge: Knowledge, id: str) -> tuple[Any, list[Any]]:
    table = getattr(knowledge, TABLES[knowledge.classes[id].of])
    return table[id], [table[m] for m in table[id].members]


@pytest.mark.parametrize("id", CLASSES)
def test_a_class_is_no_better_than_any_of_its_members(knowledge: Knowledge, id: str) -> None:
    row, members = _row(knowledge, id)
    assert len(members) > 1
    for member in members:
        for name in (n for n in LEVELS if hasattr(row, n)):
            assert getattr(row, name) >= getattr(member, name), f"{name} of {member.id}"
        for name, order in ((n, o) for n, o in WORSE.items() if hasattr(row, n)):
            assert order.index(getattr(row, name)) <= order.index(getattr(member, name)), f"{name} of {member.id}"
        for side in (s for s in ("face", "core", "back") if hasattr(row, s)):
            assert OPENNESS.index(getattr(row, side)) <= OPENNESS.index(getattr(member, side)), member.id
        assert row.stop or not member.stop, f"{member.id} may not be coated at all"


@pytest.mark.parametrize("id", CLASSES)
def test_a_class_is_no_worse_than_it_must_be(knowledge: Knowledge, id: str) -> None:
    row, members = _row(knowledge, id)
    for name in (*LEVELS, *WORSE, "face", "core", "back"):
        if hasattr(row, name):
            assert getattr(row, name) in [getattr(m, name) for m in members], name


@pytest.mark.parametrize("id", CLASSES)
def test_its_kinds_can_be_told_apart(knowledge: Knowledge, id: str) -> None:
    one = knowledge.classes[id]
    rows, words = [k.row for k in one.kinds], [k.words for k in one.kinds]
    assert len(set(rows)) == len(rows) > 1 and len(set(words)) == len(words)
    assert one.ask.endswith("?") and all(k.tell for k in one.kinds)
    assert one.say and all(w == w.strip().lower() for w in one.say)


def test_a_word_names_one_class(knowledge: Knowledge) -> None:
    words = [word for one in knowledge.classes.values() for word in one.say]
    assert len(set(words)) == len(words)


def test_an_answers_file_holds_a_class_and_the_plan_says_so(knowledge: Knowledge) -> None:
    answers = read_answers(b'piece = "wood"\nsupport = ["some_wood"]\n', knowledge)
    assert answers.value("support") == frozenset(("some_wood",))
    assert read_answers(write_answers(answers, knowledge).encode(), knowledge) == answers
    plan = make_plan(knowledge, answers)
    assert "wood (kind not known)" in plan.summary
    assert [p.assumed for p in plan.open_points if p.question == "support"] == [
        "wood (kind not known), so taken as the most troublesome of its kinds"
    ]
    assert "what_is_it" in [t.id for t in plan.trials]
    assert plan.treatments, "the thirstiest wood is sealed"


def test_not_sure_of_the_kind_keeps_the_class(knowledge: Knowledge) -> None:
    wood = frozenset(("some_wood",))
    assert not_sure_after(knowledge.classes, wood) == wood
    assert (
        not_sure_after(knowledge.classes, frozenset(("plywood",))) is None
        and not_sure_after(knowledge.classes, None) is None
    )
    assert class_named(knowledge.classes, "some_board") is knowledge.classes["some_board"]


def test_what_a_sealer_is_made_for_holds_for_a_class_whose_members_all_are(knowledge: Knowledge) -> None:
    for sealer in knowledge.sealers.values():
        for one in (c for c in knowledge.classes.values() if c.of == "medium"):
            members = set(knowledge.media[one.id].members)
            assert (one.id in sealer.made_for) is (members <= set(sealer.made_for)), (sealer.id, one.id)


def test_a_row_of_the_shop_counts_in_its_class(knowledge: Knowledge, tmp_path: Path) -> None:
    source = (HOME / "materials" / "hard.toml").read_text(encoding="utf-8")
    row = source[source.index('[[material]]\nid = "slate"') :].split("[[material]]")[1]
    worse = row.replace('id = "slate"', 'id = "harbour_stone"').replace("water = 0", "water = 2")
    (tmp_path / "stones.toml").write_text(f"[[material]]{worse}", encoding="utf-8")
    assert knowledge.materials["some_stone"].water == 0
    mine = load(tmp_path).materials["some_stone"]
    assert mine.water == 2 and "harbour_stone" in mine.members


def test_a_class_of_nothing_is_refused(tmp_path: Path) -> None:
    text = '[[class]]\nid = "some_kelp"\nof = "inclusion"\nname = "kelp"\nsay = ["kelp"]\nrows = ["kelp"]\nask = "Which?"\nkinds = []\n'
    (tmp_path / "classes.toml").write_text(text, encoding="utf-8")
    with pytest.raises(KnowledgeError, match="'kelp', which is in no file"):
        load(tmp_path)


def test_classes_are_not_among_the_choices_on_the_screen(knowledge: Knowledge) -> None:
    from interview.reasoning.agenda import wording

    asked = wording(knowledge.questions["support"], knowledge, Answers().say("piece", "wood"))
    assert not {c.id for c in asked.choices} & set(knowledge.classes)
