"""What a finished piece weighs: its bodies by face, thickness and density, and the resin on them. For its hanger."""

from __future__ import annotations

from interview.plan.parts import Decision, Figure, Input
from interview.quantities.written import amount, plain
from interview.reasoning.amounts import resin_volume
from interview.reasoning.areas import count, piece_extent, thickness
from interview.reasoning.numeric_answers import Told, from_allowance, span_words
from interview.reasoning.pores import density_inputs, porous
from interview.reasoning.working import Reckoned, figure, span
from knowledge.allowances import allowance
from knowledge.shape import Span

HANGER = 4.0  # times its weight that a hanger has to carry: common practice


def weight_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """One piece, g. A cast one is the resin, less what its things displace; what they weigh is not known."""
    size, n = piece_extent(told), count(told)
    resin, dense, cup = resin_volume(told, decision), allowance("resin_density"), allowance("cup")
    low = resin.low / (1 + cup.value.low / 100) / n * dense.value.low
    high = resin.high / (1 + cup.value.high / 100) / n * dense.value.high
    lines = [
        f"resin that stays: {amount(low / dense.value.low, high / dense.value.high, 'mL')} x {span_words(dense.value)}"
    ]
    inputs: list[Input] = [Input("size", size.words, told.basis("size")), from_allowance(dense)]
    for body, zone in {z.body: z for z in decision.zones if z.kind in ("front", "back")}.items():
        rows = porous(told, zone)
        if not rows or told.facts.get("piece") == "cast":
            continue
        thick, of = thickness(told, zone)
        volume = size.face * thick * 1000  # mL: m2 x mm x 1000
        least, most = min(r.density.low for r in rows), max(r.density.high for r in rows)
        low, high = low + volume * least, high + volume * most
        lines.append(
            f"{body}: {size.words} x {plain(thick)} mm = {amount(volume, volume, 'mL')} x {span(least, most)} g/mL"
        )
        inputs += [of, *(density_inputs(row)[0] for row in rows)]
    lines.append(f"a hanger that carries {HANGER:g} times that: {amount(HANGER * high, HANGER * high, 'g', up=True)}")
    return (
        figure(
            "weight.piece", "weight of one finished piece", Span(low, high, "g"),
            Reckoned("volume x density, of each body and of the resin", lines, inputs, "things laid on or cast in are not in it"),
            group="other",
        ),
    )  # fmt: skip
