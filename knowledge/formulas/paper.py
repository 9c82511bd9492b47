"""Sheets: grammage from the pounds on the pack, and how much liquid the pores of a sheet can hold."""

from __future__ import annotations

from knowledge.formulas.limits import OutOfRange, not_negative, positive

GRAMS_PER_POUND = 453.59237
SHEETS = 500  # a ream
CELLULOSE = 1.5  # g/cm3; fillers are denser
# basic sizes, inches: what a ream of so many pounds measures; printingtips.com, t-36-230
BASIC_SIZES = {
    "bond": (17.0, 22.0),
    "text": (25.0, 38.0),
    "cover": (20.0, 26.0),
    "index": (25.5, 30.5),
    "news": (24.0, 36.0),
}


def grammage(pounds: float, grade: str) -> float:
    """g/m2 of a paper of so many pounds a ream of 500: lb x 453.59 / (500 x basic size). Grades: BASIC_SIZES.

    Raises KeyError for a grade that is not there.
    """
    wide, high = BASIC_SIZES[grade]
    square_metres = wide * high * 0.0254**2
    return not_negative("weight", pounds, "lb") * GRAMS_PER_POUND / (SHEETS * square_metres)


def pore_volume(thickness: float, grammage: float, fibre_density: float = CELLULOSE) -> float:
    """Most liquid (mL/m2) that the pores of a sheet hold: thickness (um) - grammage (g/m2) / fibre density (g/cm3).

    Arithmetic, no constant of the liquid. Raises OutOfRange where the sheet would have to be denser than its fibre.
    """
    thick = positive("thickness", thickness, "um")
    got = thick - not_negative("grammage", grammage, "g/m2") / positive("fibre density", fibre_density, "g/cm3")
    if not got >= -1e-9 * thick:
        raise OutOfRange("grammage", grammage, f"at most {thick * fibre_density:.3g} g/m2 for {thick:g} um")
    return max(0.0, got)


def uptake(thickness: float, density: float, solid: float = CELLULOSE) -> float:
    """The same bound (mL/m2) from thickness (mm) and density (g/cm3): 1000 mm (1 - density/solid)."""
    rho, full = positive("density", density, "g/cm3"), positive("density of the solid", solid, "g/cm3")
    if rho > full:
        raise OutOfRange("density", rho, f"at most {full:g} g/cm3, that of its solid stuff")
    return 1000 * not_negative("thickness", thickness, "mm") * (1 - rho / full)
