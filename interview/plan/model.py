"""The plan: everything the brief shows, in one model that is written out and read back without loss."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from interview.plan import parts
from interview.plan.doings import Done
from interview.plan.parts import Sign

FORMAT = 1


class ZoneLine(BaseModel):
    """The verdict on one zone in one line, and its longer reason."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    zone: str
    name: str
    line: str  # "seal: spray acrylic, 3 to 4 light coats"
    need: str
    why: tuple[str, ...]
    sign: Sign = "seal"
    marks: tuple[int, ...] = Field(default=(), description="numbers of the sources list")


class SourceLine(BaseModel):
    """One entry of the list of where the advice comes from."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    number: int
    text: str = Field(description="document and passage, in full")
    short: str = Field(default="", description="the same in few words")
    backs: tuple[str, ...] = Field(description="what rests on it, in words")
    ids: tuple[str, ...] = Field(default=(), description='the same by id: "caution:resin", "step:mix.mix"')


class Plan(BaseModel):
    """One piece, from answers to steps. Same answers and same knowledge give the same plan."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    format: int = FORMAT
    damage: str = ""  # what is lost of the kept piece it was made from; "" where that was whole
    seal: str = ""  # eight letters over all it was made from
    made_from: dict[str, Any] = Field(default_factory=dict, exclude=True)  # all that: see brief/seal.py
    name: str = ""
    summary: str  # "A collage of torn tissue paper on a plywood panel, 30 x 40 cm"
    headline: str  # one sentence: seal or not, how
    sign: Sign = "seal"  # the verdict in one word
    worries: tuple[parts.Finding, ...] = ()  # who does what, and which ways fall away: at the top
    do_first: str = ""  # one line: what to do before all else
    not_covered: tuple[str, ...] = ()  # told of and treated nowhere here, in the maker's words
    complete: bool  # every question that can change the plan has its answer
    missing: tuple[str, ...] = ()  # ids of the questions still open
    answers: dict[str, Any] = Field(description="question id to value, as an answers file holds them")
    origins: dict[str, str] = Field(default_factory=dict, description="question id to origin")
    zone_lines: tuple[ZoneLine, ...]
    zones: tuple[parts.Zone, ...]
    verdicts: tuple[parts.Verdict, ...]
    treatments: tuple[parts.Treatment, ...]
    barred: tuple[parts.Barred, ...] = ()
    no_ways: tuple[parts.NoWay, ...] = ()
    preps: tuple[parts.Prep, ...] = ()
    trials: tuple[parts.Trial, ...] = ()
    outlets: tuple[parts.Outlet, ...] = ()
    notes: tuple[parts.Finding, ...] = ()
    proposals: tuple[parts.Judged, ...] = ()  # what the maker proposed to do, and what comes of it
    mended: tuple[parts.Mended, ...] = ()  # what rehearsing the steps changed, and why
    items: tuple[parts.Item, ...] = ()
    look_for: tuple[str, ...] = ()  # what every sealer's label must say
    figures: tuple[parts.Figure, ...] = ()
    room: tuple[str, ...] = ()  # lines of advice on room and air, each resting on figures
    steps: tuple[parts.Step, ...] = ()
    watch: tuple[str, ...] = ()
    cautions: tuple[parts.Warned, ...] = ()
    mishaps: tuple[parts.Mishap, ...] = ()
    care: tuple[parts.Finding, ...] = Field(default=(), description="lines of the care card for whoever gets the piece")
    open_points: tuple[parts.OpenPoint, ...] = ()
    sources: tuple[SourceLine, ...] = ()
    done: tuple[Done, ...] = Field(default=(), description="steps that are behind the maker, with their times")

    def zone(self, id: str) -> parts.Zone:
        return next(z for z in self.zones if z.id == id)
