"""Plans made by hand, from the invented stall by the sea: what the forms of the brief are tried on."""

from __future__ import annotations

from interview.plan import parts
from interview.plan.model import Plan, SourceLine, ZoneLine
from interview.plan.parts import Basis

PRACTICE = Basis("common practice")
SPRAY, BRUSH, FIX = "spray acrylic varnish", "water-borne acrylic sealer", "workable fixative"

DROP = parts.Trial(
    "drop", "Drop of water", ("front",), "Makes differ. The drop shows whether the front is open or closed.",
    "Put one small drop of water on a scrap, the margin or the back. Watch it for five minutes, then blot it.",
    (
        "it stands and leaves no mark: closed, nothing to seal there",
        "it sinks in within one to five minutes: seal with one or two coats",
        "it sinks in within a minute: seal, and drop again after each coat",
    ),
    "drop_result", PRACTICE, 10, (5, 5),
)  # fmt: skip
COUPON = parts.Trial(
    "coupon", "Scrap of the whole stack", (), "It shows everything at once: dark, cloudy, bleeding, lifting.",
    "On a scrap of the same stuff with the same image, put the same sealer in 0, 1, 2 and 3 coats side by side. Let it "
    "dry as the steps say, then put a drop of mixed resin on each. Wear gloves.",
    (
        "clear and no darker the next day: go on with that number of coats",
        "dark rim or patch: one coat more, edges too",
        "cloudy: the sealer was not dry through; wait longer",
    ),
    "coupon_result", PRACTICE, 20, (1440, 4320),
)  # fmt: skip
CAUTIONS = (
    parts.Warned("resin", "Resin", "Uncured resin can make your skin allergic for life. Wear nitrile gloves and eye "
                 "protection, air the room, and wash it off skin with soap and water, never with solvent.",
                 "gloves, eye protection, air", PRACTICE),
    parts.Warned("spray", "Spray", "Spray only outdoors or in a booth with a fan to the outside. The vapour burns: no "
                 "flame, no spark, no cigarette near. Wear a mask with organic vapour cartridges and a dust filter.",
                 "outdoors, no flame, vapour mask", PRACTICE),
)  # fmt: skip
MISHAPS = (
    parts.Mishap("bubbles", "Bubbles come up hours later", "air gets out of an open spot", "prick them while the resin "
                 "gives; sand and pour a second thin coat when it is hard", PRACTICE),
    parts.Mishap("dark", "Dark, wet-looking patches", "resin got in where the seal was thin", "they stay; on the next "
                 "piece put on one coat more, edges too", PRACTICE),
)  # fmt: skip
SOURCES = (
    SourceLine(number=1, text="Your own trial", backs=("absorption, the back",), ids=("verdict:back",)),
    SourceLine(
        number=2,
        text="Coastal Institute of Paper: Grammage and thickness of papers, 2019, table 4",
        backs=("thickness of tissue paper",),
        ids=("verdict:front",),
    ),
    SourceLine(
        number=3,
        text="Common practice of the trade, no published source",
        backs=tuple(f"step: {n}" for n in ("Tape the edges", "Mix the resin", "Pour and spread", "Stay and watch")),
        ids=("step:prepare.tape", "step:mix.mix", "step:pour.pour_coat", "step:watch.watch"),
    ),
)


def zone(id: str, kind: str, name: str, what: str, **facts: object) -> parts.Zone:
    read = {
        "kind": kind,
        "surface": "open",
        "media": frozenset(),
        "materials": frozenset({"a", "b"}),
        **facts,
    }
    return parts.Zone(id, kind, str(facts.get("body", "sheet")), name, what, tuple(sorted(read.items())))


def line(id: str, name: str, says: str, need: str, *why: str) -> ZoneLine:
    return ZoneLine(zone=id, name=name, line=says, need=need, why=why)


def treatment(
    id: str, sealer: str, method: parts.Method, zones: tuple[str, ...], low: int, high: int
) -> parts.Treatment:
    says = "Spray goes on thin: it takes several coats to keep resin out, edges too."
    found = (parts.Finding("coats", says, PRACTICE),)
    return parts.Treatment(
        id,
        zones,
        "sheet",
        sealer.replace(" ", "_"),
        sealer,
        method,
        low,
        high,
        ("absorption",),
        "required",
        found,
    )


def coats(id: str, name: str, zones: tuple[str, ...], count: int, spray: bool) -> list[parts.Step]:
    made: list[parts.Step] = []
    how = (
        "Shake the can for two minutes. Spray from 25 to 30 cm in even passes that overlap by half."
        if spray
        else "Brush a thin, even coat, worked in, with a soft wide brush."
    )
    for n in range(1, count + 1):
        after = ((made[-1].id, 15.0, 60.0 if spray else None),) if made else ()
        made.append(
            parts.Step(
                f"seal.{id}.front.{n}", "seal", f"{name}{f', coat {n} of {count}' if count > 1 else ''}", zones,
                how if n == 1 else "As before, 15 to 30 minutes after the last coat.",
                "It no longer looks wet." if n < count else "It smells of nothing any more, and a fingernail leaves no dent.",
                10, (15, 30) if n < count else (1440, 2880), after, 1440 if spray and made else None,
                "spray place" if spray else "table", sealer=id,
            )
        )  # fmt: skip
    return made


ROOM = parts.Step(
    "prepare.room", "prepare", "Make the room ready", (), "Level the table with a spirit level. Cover it with plastic "
    "sheet. Bring resin, hardener and piece to the same temperature, a day before.",
    "The bubble stands in the middle both ways.", 30, (60, 120),
)  # fmt: skip
POUR = (
    parts.Step(
        "mix.mix", "mix", "Mix the resin", (), "Gloves on, sleeves down, eyes covered. Measure resin and hardener "
        "exactly as the label says. Stir slowly for three minutes, scraping sides and bottom.",
        "No streaks are left and it runs clear off the stick.", 8, (0, 0),
    ),
    parts.Step(
        "pour.pour_coat", "pour", "Pour and spread", (), "Pour a ribbon over the middle, spread it to the edges with a "
        "flat spreader, and let it find its own level.", "It lies even, and no bubble stands in a raking light.", 15, (0, 0),
    ),
    parts.Step(
        "watch.watch", "watch", "Stay and watch", (), "While it flows, everything can still be put right. Look at it in a "
        "raking light. Burst bubbles, pick out hairs and dust with tweezers.",
        "For two looks running nothing has changed.", 5, (0, 0), look_every=15, look_for=120,
    ),
    parts.Step(
        "watch.late_look", "watch", "Look once more, hours later", (), "Natural and porous things can let air go hours "
        "after the pour. Look again after three or four hours.", "No new bubble has come since the last look.", 5, (0, 0),
        look_every=120, look_for=240,
    ),
    parts.Step(
        "cure.cure", "cure", "Cover it and leave it", (), "Put a clean lid or tent over it without touching it.",
        "A gloved finger at the edge leaves no mark.", 5, (1440, 2880),
    ),
    parts.Step(
        "cure.full_cure", "cure", "Let it cure right through", (), "Leave it in a warm room, nothing on it. The label's "
        "own time counts.", "The days on the label are over.", 0, (4320, 10080),
    ),
)  # fmt: skip
RESIN = parts.Item(
    "resin",
    "two-part clear coating resin",
    "the pour",
    "310 mL (10 1/2 fl oz)",
    look_for=("made for coating",),
    low=310.0,
    high=310.0,
)


def gear(*names: str) -> tuple[parts.Item, ...]:
    return tuple(parts.Item(f"gear.{n}", name, "pour and spread") for n, name in enumerate(names, 1))


def tissue_collage() -> Plan:
    zones = (
        zone("front", "front", "the front", "tissue paper", brush="tears"),
        zone("gaps", "gaps", "the gaps between the layers", "tissue paper"),
        zone("edges", "edges", "the torn edges", "tissue paper", opened=frozenset({"torn"})),
        zone("mount_sides", "sides", "the sides of the birch plywood", "birch plywood", body="mount"),
        zone("mount_back", "back", "the back of the birch plywood", "birch plywood", body="mount"),
        zone(
            "laid_glitter",
            "inclusion",
            "the glitter",
            "glitter",
            body="glitter",
            form="laid on",
            floats="sinks",
        ),
    )
    seal = "seal: spray acrylic varnish, 3 to 4 light coats"
    names = ("front", "gaps", "edges", "laid_glitter")
    drinks = "Tissue paper drinks: resin would soak in and turn it dark and see-through."
    return Plan(
        name="Gull over the pier",
        summary="A collage of torn tissue paper on birch plywood, in acrylic paint, with glitter.",
        headline="Seal it before you pour: spray acrylic varnish.",
        complete=True,
        answers={"piece": "collage", "support": ["tissue_paper"], "size": {"shape": "rectangle", "width": 300.0, "height": 400.0}, "opened": ["torn"]},
        origins={"piece": "said", "support": "said", "size": "said", "opened": "said"},
        zone_lines=(
            line("front", "the front", seal, "required", drinks),
            line("gaps", "the gaps between the layers", seal, "required", "Air sits between the layers of a collage. "
                 "Unsealed, it comes up as bubbles hours after the pour, when nobody is looking."),
            line("edges", "the torn edges", seal, "required", drinks, "A torn edge is open even on coated paper."),
            line("mount_sides", "the sides of the birch plywood", "better sealed: water-borne acrylic sealer, 1 to 2 coats",
                 "advised", "Birch plywood is full of air. As the resin soaks in, it comes up as bubbles."),
            line("mount_back", "the back of the birch plywood", "no sealing needed", "not needed", "No resin lies there."),
            line("laid_glitter", "the glitter", seal, "required", "Glitter floats off or drifts unless it is tacked down."),
        ),
        zones=zones,
        verdicts=(
            parts.Verdict("front", "absorption", "required", (parts.Finding("drinks", drinks, PRACTICE, ("support",)),)),
        ),
        treatments=(
            treatment("t1", SPRAY, "spray", names, 3, 4),
            treatment("t2", BRUSH, "brush", ("mount_sides",), 1, 2),
        ),
        barred=tuple(
            parts.Barred(z, "brush_water_borne", "brush", (parts.Finding("brush_tears", "A wet brush would tear tissue paper.", PRACTICE),))
            for z in ("front", "edges")
        ),
        preps=(
            parts.Prep("glue_down", "Glue down what lifts", ("front",), "A sheet that is not tight all over holds air.",
                       "Brush PVA glue under it and roll it down tight from the middle.",
                       "Tapped with a fingernail it sounds the same all over.", PRACTICE, 15, (720, 1440), ("a roller",)),
        ),
        trials=(DROP, COUPON),
        items=(
            parts.Item("sealer.spray", SPRAY, "a clear varnish from a can", "210 mL (7 fl oz)", 1, "400 mL can", 12.5,
                       ("does not move the paint under it",), low=210.0, high=210.0, size=400.0, container="can"),
            parts.Item("sealer.brush", BRUSH, "thinned with water, brushed on", "15 mL (1/2 fl oz)", 1, "250 mL bottle", 9.0,
                       low=15.0, high=15.0, size=250.0, container="bottle"),
            RESIN,
            *gear("plastic sheet", "a spirit level", "nitrile gloves", "eye protection", "mixing cups and sticks", "a flat spreader"),
        ),
        look_for=("dries clear", "does not yellow", "may be over-coated"),
        figures=(
            parts.Figure("amount.resin", "resin for one coat of 2 mm", 300, 320, "mL", "300 to 320 mL (10 to 11 fl oz)",
                         "area x thickness + drips", ("0.12 m2 x 2 mm = 240 mL", "drips over the edges: 60 to 80 mL"), (),
                         Basis("computed"), group="amounts"),
        ),
        room=("Hold the surface at least 3 °C above the dew point of 9 °C.",),
        steps=(
            parts.Step("trial.drop", "trial", "Drop of water", ("front",), DROP.how, "; ".join(DROP.reads), 10, (5, 5)),
            parts.Step("trial.coupon", "trial", "Scrap of the whole stack", (), COUPON.how, "; ".join(COUPON.reads), 20, (1440, 4320)),
            parts.Step("prepare.glue_down", "prepare", "Glue down what lifts", ("front",),
                       "Brush PVA glue under it and roll it down tight from the middle.",
                       "Tapped with a fingernail it sounds the same all over.", 15, (720, 1440)),
            *coats("t1", f"Spray the front, the gaps between the layers, the torn edges and the glitter: {SPRAY}", names, 3, True),
            *coats("t2", f"Brush the sides of the birch plywood: {BRUSH}", ("mount_sides",), 1, False),
            ROOM,
            *POUR,
        ),
        watch=tuple(s.how for s in POUR if s.kind == "watch"),
        cautions=CAUTIONS,
        mishaps=MISHAPS,
        open_points=(parts.OpenPoint("hollow", "hollow spots", "there are hollow spots to be glued down", "Tap for hollow spots"),),
        sources=SOURCES,
    )  # fmt: skip


def charcoal() -> Plan:
    """A drawing that no brush may touch; not everything is answered yet."""
    seal = "seal: workable fixative, 2 light coats, then spray acrylic varnish, 3 light coats"
    zones = (
        zone("front", "front", "the front", "pastel paper", smudge=2),
        zone("edges", "edges", "the edges", "pastel paper"),
        zone("back", "back", "the back", "pastel paper"),
    )
    return Plan(
        name="Harbour at dusk",
        summary="A work on pastel paper, in charcoal, 20 x 30 cm (8 x 12 in).",
        headline="Seal it before you pour: workable fixative and spray acrylic varnish.",
        complete=False,
        missing=("mounted", "resin_on"),
        answers={"piece": "sheet", "support": ["pastel_paper"], "media": ["charcoal"], "opened": "not sure"},
        origins={"piece": "said", "support": "said", "media": "said", "opened": "assumed"},
        zone_lines=(
            line("front", "the front", seal, "required", "Grains of it come off at a touch. In resin they float away or smear.",
                 "Pastel paper drinks."),
            line("edges", "the edges", "seal: spray acrylic varnish, 3 light coats", "required", "Pastel paper drinks."),
            line("back", "the back", "seal: spray acrylic varnish, 3 light coats", "required", "Pastel paper drinks."),
        ),
        zones=zones,
        verdicts=(),
        treatments=(
            treatment("t1", FIX, "spray", ("front",), 2, 2),
            treatment("t2", SPRAY, "spray", ("front", "edges", "back"), 3, 3),
        ),
        barred=(parts.Barred("front", "brush_water_borne", "brush", (parts.Finding("brush_smears", "A brush would smear what is on the front.", PRACTICE),)),),
        trials=(COUPON,),
        notes=(parts.Finding("fix_then_seal", "The front needs two things: a fixative holds the grains but is no barrier, and a "
                             "barrier put on by brush would smear them. So it is fixed first, then sealed by spray.", PRACTICE),),
        items=(parts.Item("sealer.fix", FIX, "a light spray that holds grains"), parts.Item("sealer.spray", SPRAY, "a clear varnish from a can"),
               RESIN, *gear("drop cloths", "nitrile gloves")),
        steps=(
            parts.Step("trial.coupon", "trial", "Scrap of the whole stack", (), COUPON.how, "; ".join(COUPON.reads), 20, (1440, 4320)),
            *coats("t1", f"Spray the front: {FIX}", ("front",), 2, True),
            *coats("t2", f"Spray the front and the edges: {SPRAY}", ("front", "edges"), 3, True),
            ROOM, *POUR,
        ),
        cautions=CAUTIONS,
        open_points=(parts.OpenPoint("opened", "torn, cut or whole", "the edges are cut"),),
        sources=SOURCES,
    )  # fmt: skip


def flowers() -> Plan:
    """Things cast in a coaster: no sheet at all."""
    zones = (
        zone("laid_pressed_flowers", "inclusion", "the pressed flowers", "pressed flowers", body="pressed_flowers", form="cast",
             natural=True, floats="floats"),
        zone("laid_shells", "inclusion", "the shells", "shells", body="shells", form="cast", natural=True, floats="sinks"),
    )  # fmt: skip
    why = "Natural things hold air in their cells. Dried through and sealed, they keep it in."
    return Plan(
        name="Sea pink coaster",
        summary="Pressed flowers and shells cast in resin, 10 x 10 cm (4 x 4 in).",
        headline="Seal it before you pour: spray acrylic varnish and water-borne acrylic sealer.",
        complete=True,
        answers={"piece": "cast", "laid_on": ["pressed_flowers", "shells"]},
        origins={"piece": "said", "laid_on": "said"},
        zone_lines=(
            line("laid_pressed_flowers", "the pressed flowers", "seal: spray acrylic varnish, 2 to 3 light coats", "required", why),
            line("laid_shells", "the shells", "seal: water-borne acrylic sealer, 1 to 2 coats", "required", why),
        ),
        zones=zones,
        verdicts=(),
        treatments=(
            treatment("t1", SPRAY, "spray", ("laid_pressed_flowers",), 2, 3),
            treatment("t2", BRUSH, "brush", ("laid_shells",), 1, 2),
        ),
        barred=(),
        items=(parts.Item("sealer.spray", SPRAY, "a clear varnish from a can"), RESIN, *gear("a mould", "tweezers")),
        steps=(
            *coats("t1", f"Spray the pressed flowers: {SPRAY}", ("laid_pressed_flowers",), 2, True),
            *coats("t2", f"Brush the shells: {BRUSH}", ("laid_shells",), 1, False),
            ROOM, *POUR,
        ),
        cautions=CAUTIONS,
        sources=SOURCES,
    )  # fmt: skip


def tile() -> Plan:
    """Nothing to seal."""
    return Plan(
        name="Tide table tile",
        summary="A piece of glazed tile, 15 x 15 cm (6 x 6 in).",
        headline="No sealing needed: make it clean and dry, then pour.",
        complete=True,
        answers={"piece": "hard", "support": ["glazed_tile"]},
        origins={"piece": "said", "support": "said"},
        zone_lines=(
            line("front", "the face", "no sealing needed", "not needed", "Glazed tile has no pores: nothing gets in."),
            line("edges", "the sides", "no sealing needed", "not needed", "Glazed tile has no pores: nothing gets in."),
        ),
        zones=(
            zone("front", "front", "the face", "glazed tile", surface="closed", body="object", form="object"),
            zone("edges", "edges", "the sides", "glazed tile", body="object", form="object"),
        ),
        verdicts=(),
        treatments=(),
        preps=(parts.Prep("degrease", "Clean and degrease it", (), "Finger grease makes resin draw back.",
                          "Wipe it with a lint-free cloth and alcohol.", "A film of water stays in one sheet.", PRACTICE, 10, (30, 30)),),
        items=(RESIN, *gear("a lint-free cloth")),
        steps=(parts.Step("prepare.degrease", "prepare", "Clean and degrease it", (), "Wipe it with a lint-free cloth and alcohol.",
                          "A film of water stays in one sheet.", 10, (30, 30)), ROOM, *POUR),
        cautions=CAUTIONS[:1],
        sources=SOURCES[2:],
    )  # fmt: skip


def stopped() -> Plan:
    """Nothing fits: the way out, no steps."""
    return Plan(
        summary="A photograph on instant film.",
        headline="Do not pour over this as it is. Coat a copy: see the way out below.",
        complete=True,
        answers={"piece": "photo"},
        origins={"piece": "said"},
        zone_lines=(line("front", "the front", "do not coat: coat a copy", "must not", "Instant film is not a thing to coat as it is; see the way out."),),
        zones=(zone("front", "front", "the front", "instant film"),),
        verdicts=(),
        treatments=(),
        outlets=(parts.Outlet("copy", ("front",), "Coat a copy", "Scan it, print a copy and coat the copy.", ()),),
        cautions=CAUTIONS[:1],
    )  # fmt: skip


ALL = {"collage": tissue_collage, "charcoal": charcoal, "flowers": flowers, "tile": tile, "stopped": stopped}
