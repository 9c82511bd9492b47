"""Films: how far a volume spreads, wet and dry thickness, what is lost in the air, and what a pour takes."""

from __future__ import annotations

from knowledge.formulas.limits import finite, not_negative, positive, within

CUBIC_INCHES_PER_GALLON = 231.0  # US gallon, exactly; NIST Handbook 44, Appendix C
SQ_FT_MIL_PER_GALLON = CUBIC_INCHES_PER_GALLON / (144 * 0.001)  # 1604.17: one US gallon over one ft2, in mil


def area_covered(litres: float, micrometres: float, transfer: float = 1.0) -> float:
    """Area (m2) that `litres` cover in a wet film of this thickness: 1000 L e / um.

    `transfer`: share that lands on the piece, 0 to 1 (1 brushed or poured). One litre covers 1 m2 at 1 mm.
    """
    thick = positive("film thickness", micrometres, "um")
    return finite("area", 1000 * not_negative("volume", litres, "L") * _share(transfer) / thick)


def area_covered_us(gallons: float, mils: float, solids: float = 100.0, transfer: float = 1.0) -> float:
    """Area (ft2) under a dry film of `mils`: 1604.17 gal (solids/100) e / mil. Solids in % by volume.

    Source: constant from 231 in3 a US gallon; form as at paintcenter.org, rj/oct03e.cfm; UFC 3-190-06 §2.1.5.
    """
    thick = positive("film thickness", mils, "mil")
    volume = not_negative("volume", gallons, "gal")
    return finite("area", SQ_FT_MIL_PER_GALLON * volume * _solids(solids) * _share(transfer) / thick)


def volume_for(area: float, coats: float, spread: float, transfer: float = 1.0) -> float:
    """Volume (mL) for `area` (m2): area x coats / spread (m2 a litre and coat) / share that lands on it."""
    rate = positive("spread rate", spread, "m2/L")
    got = 1000 * not_negative("area", area, "m2") * not_negative("coats", coats) / rate / _share(transfer)
    return finite("volume", got)


def spread_of(wet: float) -> float:
    """Spread rate (m2/L) of a wet film (um): 1000 / um."""
    return finite("spread rate", 1000 / positive("wet film", wet, "um"))


def dry_film(wet: float, solids: float) -> float:
    """Thickness (unit of `wet`) left when the carrier has gone: wet x solids/100, solids in % by volume.

    Source: UFC 3-190-06 / MIL-HDBK-1110 §2.1.5.
    """
    return not_negative("wet film", wet) * _solids(solids)


def wet_film(dry: float, solids: float) -> float:
    """Wet thickness (unit of `dry`) that leaves a dry film: dry x 100/solids, solids in % by volume."""
    return finite("wet film", not_negative("dry film", dry) / _solids(solids))


def thinned_solids(solids: float, thinner: float) -> float:
    """Solids (% by volume) after thinning by `thinner` parts to one part of paint: solids / (1 + thinner)."""
    return 100 * _solids(solids) / (1 + not_negative("thinner", thinner))


def pour_volume(area: float, depth: float) -> float:
    """Volume (mL) of a layer: area (m2) x depth (mm) x 1000."""
    return finite("volume", 1000 * not_negative("area", area, "m2") * not_negative("depth", depth, "mm"))


def layers(depth: float, deepest: float) -> int:
    """How many pours of at most `deepest` make up `depth` (same unit). 0 for no depth."""
    whole = finite("layers", not_negative("depth", depth) / positive("deepest layer", deepest))
    return int(-(-(whole - 1e-9) // 1)) if whole > 0 else 0


def _share(transfer: float) -> float:
    return within("transfer efficiency", transfer, 0.01, 1)


def _solids(percent: float) -> float:
    return within("solids", percent, 0.1, 100, "% by volume") / 100
