"""The maker's own shelf: sealers at hand, from TOML or CSV, put before the classes they belong to.

    [[tin]]
    name = "the blue tin"            what you call it
    class = "brush_water_borne"      one of the sealer classes
    carrier = "water"                if its label says otherwise than the class
    dries_clear = true
    non_yellowing = true
    made_for = ["acrylic_paint"]     media ids
    spread = "9 m2/L"                from its label, like the rest
    recoat = "2 hours"
    ready = "24 hours"
    pack = "250 mL"
    left = "half"                    how much is left: a part, a percentage or an amount; left out: full
    price = 11.50

A class is one of the sealers, or "resin", "glue" or one of the stand-ins (varnish, hairspray, polish ...): these are not
sealed with, but known by name. A CSV file has the same names in its first line; a list in a cell is parted by spaces.
Capitals, decimal commas, semicolons and a byte order mark are read.
"""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from interview.files.paths import read_file, why_not
from interview.text.harmless import harmless
from knowledge.loading import Knowledge, cut, read_span
from knowledge.nearest import meant
from knowledge.rows import Sealer
from knowledge.shape import CARRIERS
from knowledge.topics import load_topics
from knowledge.values import Span

COLUMNS = (
    "name",
    "class",
    "carrier",
    "dries_clear",
    "non_yellowing",
    "made_for",
    "spread",
    "recoat",
    "ready",
    "pack",
    "left",
    "price",
)
_UNITS = {  # the kinds of unit each amount takes, with an example
    "spread": (("m2/L", "ft2/gal"), "9 m2/L"),
    "recoat": (("minute", "hour", "day", "week"), "2 hours"),
    "ready": (("minute", "hour", "day", "week"), "24 hours"),
    "pack": (("mL", "L", "g", "kg"), "250 mL"),
}
OTHER = ("resin", "glue")  # classes that seal nothing
_SMALL = {"mL": 1.0, "L": 1000.0, "g": 1.0, "kg": 1000.0}
_PARTS = {
    "full": 1.0, "half": 0.5, "a half": 0.5, "third": 1 / 3, "a third": 1 / 3, "two thirds": 2 / 3, "quarter": 0.25,
    "a quarter": 0.25, "three quarters": 0.75, "empty": 0.0, "none": 0.0,
}  # fmt: skip
_TOO_MANY = "more than the first line names"
_TRUE, _FALSE = ("true", "yes", "y", "1"), ("false", "no", "n", "0")
MAX_BYTES = 1_000_000
LONGEST_NAME = 80


EMPTY = """# What is on your shelf: a [[tin]] for each. Take away the sign # where a line is to count.
# The classes: beforepour stock --classes. Check the list with: beforepour stock FILE
#
# [[tin]]
# name = "the blue tin"            what you call it
# class = "brush_water_borne"
# pack = "250 mL"
# left = "half"                    or "50 %", or "125 mL"
# price = 11.50
# recoat = "2 hours"               from its label, like the next
# ready = "24 hours"
# spread = "9 m2/L"
# dries_clear = true
# non_yellowing = true
"""


class StockError(Exception):
    """The list of what is at hand cannot be read. One line a fault, each with its place and its cure."""


@dataclass(frozen=True, slots=True)
class OtherTin:
    """A tin that seals nothing: resin, glue, varnish and what people take instead. `kind`: resin, glue or a stand-in."""

    id: str
    name: str
    kind: str
    pack: Span | None = None
    left: float = 1.0
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """What is at hand: sealers that the plan may pick, and the rest, known by name."""

    sealers: Mapping[str, Sealer]
    others: tuple[OtherTin, ...]


def put_on_shelf(knowledge: Knowledge, path: Path) -> Knowledge:
    """Knowledge with the tins of `path` as sealers of their own. Raises StockError with every fault of the file."""
    return replace(knowledge, sealers={**read_shelf(knowledge, path).sealers, **knowledge.sealers})


def read_shelf(knowledge: Knowledge, path: Path) -> Shelf:
    """Raises StockError with every fault of the file, by row and column."""
    faults: list[str] = []
    tins: dict[str, Sealer | OtherTin] = {}
    for place, cells in _rows(path):
        try:
            tin = _tin(knowledge, cells)
            tin = replace(tin, origin=f"{path.name}, {place}") if isinstance(tin, Sealer) else tin
        except ValueError as error:
            faults += [f"{path.name}, {place}: {cut(line, 400)}" for line in str(error).splitlines()]
            continue
        if tin.id in tins:
            faults.append(f"{path.name}, {place}: there is another tin called '{tin.name}'; give it another name")
        tins[tin.id] = tin
    if not faults and not tins:
        faults.append(f"{path.name}: lists no tin; begin each with [[tin]], or give a CSV with a first line of names")
    if faults:
        raise StockError("\n".join(faults))
    sealers = {id: tin for id, tin in tins.items() if isinstance(tin, Sealer)}
    return Shelf(sealers, tuple(tin for tin in tins.values() if isinstance(tin, OtherTin)))


def _rows(path: Path) -> list[tuple[str, Mapping[str, Any]]]:
    """(place in words, cells) of each tin."""
    try:
        data = read_file(path, MAX_BYTES)
        if len(data) > MAX_BYTES:
            raise StockError(f"{path.name}: is larger than a megabyte; a list of tins is a page or two")
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise StockError(f"{path.name}: is not UTF-8 text; save it as UTF-8") from None
    except OSError as error:
        raise StockError(f"{path.name}: cannot be read: {why_not(error)}") from None
    return _csv_rows(path, text) if path.suffix.lower() == ".csv" else _toml_rows(path, text)


def _csv_rows(path: Path, text: str) -> list[tuple[str, Mapping[str, Any]]]:
    text = text.replace("\r", "\n")
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    reader = csv.DictReader(io.StringIO(text), delimiter=mark, restkey=_TOO_MANY)
    try:
        return [
            (f"row {n}", {harmless(k, one_line=True): v for k, v in row.items() if k and v not in (None, "")})
            for n, row in enumerate(reader, 2)
        ]
    except csv.Error:
        raise StockError(
            f"{path.name}: line {reader.line_num}: a cell is far too long; is a quotation mark left open?"
        ) from None


def _toml_rows(path: Path, text: str) -> list[tuple[str, Mapping[str, Any]]]:
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise StockError(f"{path.name}: is not TOML: {str(error).splitlines()[0]}") from None
    tins = data.get("tin", [])
    if set(data) - {"tin"} or not isinstance(tins, list) or not all(isinstance(t, dict) for t in tins):
        raise StockError(f"{path.name}: holds only [[tin]] tables, with two brackets")
    return [(f"tin {n}", tin) for n, tin in enumerate(tins, 1)]


def _tin(knowledge: Knowledge, cells: Mapping[str, Any]) -> Sealer | OtherTin:
    if _TOO_MANY in cells:
        raise ValueError(
            "has more cells than the first line has names; is there a decimal comma? Part cells by semicolons"
        )
    cells = {str(key).strip().casefold().replace(" ", "_"): cell for key, cell in cells.items()}
    wrong = [f"'{key}' is no column{meant(key, COLUMNS)}" for key in cells if key not in COLUMNS]
    wrong += [f"'{key}' is missing" for key in ("name", "class") if not harmless(str(cells.get(key, ""))).strip()]
    if len(str(cells.get("name", ""))) > LONGEST_NAME:
        wrong.append(f"'name' is longer than {LONGEST_NAME} letters")
    kind = _class(knowledge, cells, wrong)
    told: dict[str, Any] = {}
    for key in COLUMNS[2:]:
        if key in cells:
            try:
                told.update(_told(knowledge, key, cells[key], cells))
            except ValueError as error:
                wrong.append(f"'{key}': {error}")
    if wrong or kind is None:
        raise ValueError("\n".join(wrong))
    name = harmless(str(cells["name"]), one_line=True).strip()
    slug = "tin_" + (re.sub(r"[\W_]+", "_", name.casefold()).strip("_") or "tin")
    if isinstance(kind, str):
        return OtherTin(slug, name, kind, told.get("pack"), told.get("left", 1.0), told.get("price"))
    return replace(kind, id=slug, name=name, at_hand=kind.id, **told)


def _class(knowledge: Knowledge, cells: Mapping[str, Any], wrong: list[str]) -> Sealer | str | None:
    """The sealer this is a tin of, or the id of what seals nothing."""
    told = "_".join(str(cells.get("class", "")).strip().casefold().split())
    sealers = [s for s in knowledge.sealers if not knowledge.sealers[s].at_hand and s != "none"]
    if told in sealers:
        return knowledge.sealers[told]
    others = (*OTHER, *load_topics().stand_ins)
    if told in others:
        return told
    known = _known_as(knowledge, told.replace("_", " "))
    if known:
        return knowledge.sealers.get(known, known)
    if told:
        names = (*sealers, *others)
        near = meant(told, names) or "; beforepour stock --classes lists them"
        wrong.append(f"'class' is '{cells['class']}', which is no class{near}")
    return None


def _known_as(knowledge: Knowledge, words: str) -> str:
    """The one class that goes by these words, or ""."""
    sealers = [(s.id, s.name, s.also) for s in knowledge.sealers.values() if not s.at_hand]
    others = [(s.id, s.name, s.also) for s in load_topics().stand_ins.values()]
    found = {id for id, name, also in (*sealers, *others) if words in (name.casefold(), *also)}
    return found.pop() if len(found) == 1 else ""


def _told(knowledge: Knowledge, key: str, cell: Any, cells: Mapping[str, Any]) -> dict[str, Any]:
    plain = str(cell).strip().casefold()
    if key == "carrier":
        if plain not in (*CARRIERS, "none"):
            raise ValueError(f"'{cell}' is none of {', '.join(CARRIERS)}{meant(plain, CARRIERS)}")
        return {"carrier": plain}
    if key in ("dries_clear", "non_yellowing"):
        says = _truth(cell)
        return {"clear": says} if key == "dries_clear" else {"yellows": 0 if says else 2}
    if key == "made_for":
        ids = cell if isinstance(cell, list) else plain.split()
        for id in ids:
            if id not in knowledge.media:
                raise ValueError(f"'{id}' is no medium{meant(str(id), knowledge.media)}")
        return {"made_for": tuple(ids)}
    if key == "price":
        return {"price": _price(cell)}
    return {"left": _left(cell, cells)} if key == "left" else {key: _amount(key, cell)}


def _amount(key: str, cell: Any) -> Span:
    units, example = _UNITS[key]
    try:
        span = read_span(_with_points(str(cell).strip()))
    except ValueError:
        raise ValueError(f"'{cell}' is no amount with its unit; write it like {example}") from None
    known = {unit.casefold(): unit for unit in units}
    unit = known.get(span.unit.casefold()) or known.get(span.unit.casefold().removesuffix("s"))
    span = replace(span, unit=unit or span.unit)
    if unit is None:
        raise ValueError(f"'{cell}' is in {span.unit}; write it in {' or '.join(units)}, like {example}")
    if span.low <= 0:
        raise ValueError(f"'{cell}' is nothing; write it like {example}")
    return span


def _with_points(text: str) -> str:
    """Decimal commas as points: "2,5 hours"."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text)


def _left(cell: Any, cells: Mapping[str, Any]) -> float:
    """A part of a pack: a word, a percentage, a number up to 1, or an amount of what the pack holds."""
    plain = _with_points(str(cell).casefold().strip())
    if plain in _PARTS:
        return _PARTS[plain]
    percent = re.fullmatch(r"(\d+(?:\.\d+)?) ?%", plain)
    try:
        part = float(percent[1]) / 100 if percent else float(plain)
    except ValueError:
        if "pack" not in cells:
            raise ValueError(f"'{cell}' needs a pack to be a part of; write half, or 50 %") from None
        pack, left = _amount("pack", cells["pack"]), _amount("pack", cell)
        part = left.low * _SMALL[left.unit] / (pack.high * _SMALL[pack.unit])
    if not 0 <= part <= 1:
        raise ValueError(f"'{cell}' is no part of a pack; write half, 50 % or 125 mL")
    return part


def _truth(cell: Any) -> bool:
    word = str(cell).strip().casefold()
    if word not in (*_TRUE, *_FALSE):
        raise ValueError(f"write yes or no, not '{cell}'")
    return word in _TRUE


def _price(cell: Any) -> float:
    plain = re.sub(
        r"^[^\d\s.,+-]{1,3} ?(?=\d)|(?<=\d) ?[^\d\s.,]{1,4}$", "", str(cell).strip()
    )  # the sign of the money
    try:
        price = float(_with_points(plain))
    except ValueError:
        raise ValueError(f"write a plain number such as 11.50, not '{cell}'") from None
    if not 0 <= price < 100_000:
        raise ValueError(f"{cell} is no price for a tin")
    return price
