"""A few pieces of the invented stall by the sea, decided, with whatever numbers a test adds."""

from __future__ import annotations

from typing import Any

from interview.plan.answers import NOT_SURE, Answers
from interview.plan.parts import Decision, Figure
from interview.quantities.units import read
from interview.reasoning.agenda import number_circumstances
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.figuring import Figured, figured, number_faults
from interview.reasoning.numeric_answers import Told
from knowledge.loading import Knowledge


def some(*ids: str) -> frozenset[str]:
    return frozenset(ids)


def size(text: str) -> dict[str, Any]:
    value: dict[str, Any] = read(text, "size", "mm").value
    return value


TISSUE = {
    "piece": "collage", "support": some("tissue_paper"), "opened": some("torn"), "layers": "flat", "mounted": "no",
    "media": some("no_medium"), "laid_on": some("none"), "resin_on": "sides", "ways": some("spray_outdoors"),
    "tried": some("none"), "size": size("30 x 40 cm"),
}  # fmt: skip
PINE = {
    "piece": "wood", "support": some("softwood"), "wood_finish": "bare", "wood_features": some("none"), "dryness": "dry",
    "media": some("no_medium"), "laid_on": some("none"), "resin_on": "sides", "darken": "no", "ways": some("brush"),
    "tried": some("none"), "size": size("100 x 50 cm"), "thickness": 20.0,
}  # fmt: skip
TILE = {
    "piece": "hard", "support": some("glazed_tile"), "media": some("no_medium"), "laid_on": some("none"), "resin_on": "front",
    "ways": some("brush"), "tried": some("none"), "size": size("15 x 15 cm"),
}  # fmt: skip
COASTER = {
    "piece": "cast", "laid_on": some("pressed_flowers", "coin"), "natural_dry": "dry", "ways": some("spray_outdoors"),
    "tried": some("none"), "size": size("10 x 10 x 1 cm"),
}  # fmt: skip
JIGSAW = {
    "piece": "jigsaw", "support": some("jigsaw"), "mounted": "no", "media": some("no_medium"), "laid_on": some("none"),
    "resin_on": "front", "ways": some("brush", "spray_outdoors"), "tried": some("none"), "size": size("40 x 30 cm"), "pieces": 300,
}  # fmt: skip
ALL = {"tissue": TISSUE, "pine": PINE, "tile": TILE, "coaster": COASTER, "jigsaw": JIGSAW}
EVERYTHING = some("count", "coat", "resin_label", "sealer_label", "room", "scale", "data_sheet", "prices")


class Case:
    """One decided piece and its numbers."""

    def __init__(self, knowledge: Knowledge, piece: dict[str, Any], **more: Any) -> None:
        self.answers = Answers()
        for id, value in {**piece, **more}.items():
            self.answers = self.answers.say(id, NOT_SURE if value is None else value)
        self.facts = number_circumstances(knowledge, self.answers).facts
        self.decision: Decision = decide_from(knowledge, settled(knowledge, self.answers))[0]
        self.told = Told(knowledge, self.answers, self.facts)
        self.got: Figured = figured(Told(knowledge, self.answers, self.facts), self.decision)
        self.faults = number_faults(knowledge, self.answers, self.facts)

    def __getitem__(self, id: str) -> Figure:
        return next(f for f in self.got.figures if f.id == id)

    def has(self, id: str) -> bool:
        return any(f.id.startswith(id) for f in self.got.figures)

    def says(self, rule: str) -> str:
        return " ".join(f.says for f in self.got.findings if f.rule == rule)

    def sealer(self) -> Figure:
        return next(f for f in self.got.figures if f.id.startswith("amount.sealer."))
