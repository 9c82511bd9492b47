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
    price = 11.50

A CSV file has the same names in its first line; a list in a cell is parted by spaces.
"""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from interview.text.harmless import harmless
from knowledge.loading import Knowledge, cut, read_span
from knowledge.nearest import meant
from knowledge.shape import CARRIERS, Sealer

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
    "price",
)
_SPANS = ("spread", "recoat", "ready", "pack")
_TRUE, _FALSE = ("true", "yes", "y", "1"), ("false", "no", "n", "0")
MAX_BYTES = 1_000_000
LONGEST_NAME = 80


class StockError(Exception):
    """The list of what is at hand cannot be read. One line a fault, each with its place and its cure."""


def put_on_shelf(knowledge: Knowledge, path: Path) -> Knowledge:
    """Knowledge with the tins of `path` as sealers of their own. Raises StockError with every fault of the file."""
    faults: list[str] = []
    tins: dict[str, Sealer] = {}
    for place, cells in _rows(path):
        try:
            tin = replace(_tin(knowledge, cells), origin=f"{path.name}, {place}")
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
    return replace(knowledge, sealers={**tins, **knowledge.sealers})


def _rows(path: Path) -> list[tuple[str, Mapping[str, Any]]]:
    """(place in words, cells) of each tin."""
    try:
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)  # no more, whatever it is
        if len(data) > MAX_BYTES:
            raise StockError(f"{path.name}: is larger than a megabyte; a list of tins is a page or two")
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise StockError(f"{path.name}: is not UTF-8 text; save it as UTF-8") from None
    except OSError as error:
        raise StockError(f"{path.name}: cannot be read: {error.strerror}") from None
    return _csv_rows(path, text) if path.suffix.lower() == ".csv" else _toml_rows(path, text)


def _csv_rows(path: Path, text: str) -> list[tuple[str, Mapping[str, Any]]]:
    text = text.replace("\r", "\n")
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    reader = csv.DictReader(io.StringIO(text), delimiter=mark, restkey="more than the first line names")
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


def _tin(knowledge: Knowledge, cells: Mapping[str, Any]) -> Sealer:
    wrong = [f"'{key}' is no column{meant(key, COLUMNS)}" for key in cells if key not in COLUMNS]
    wrong += [f"'{key}' is missing" for key in ("name", "class") if not harmless(str(cells.get(key, ""))).strip()]
    if len(str(cells.get("name", ""))) > LONGEST_NAME:
        wrong.append(f"'name' is longer than {LONGEST_NAME} letters")
    kind = knowledge.sealers.get(str(cells.get("class", "")))
    if kind is None and "class" in cells:
        names = [s for s in knowledge.sealers if not knowledge.sealers[s].at_hand]
        wrong.append(
            f"'class' is '{cells['class']}', which is none of {', '.join(names)}{meant(str(cells['class']), names)}"
        )
    told: dict[str, Any] = {}
    for key in COLUMNS[2:]:
        if key in cells:
            try:
                told.update(_told(knowledge, key, cells[key]))
            except ValueError as error:
                wrong.append(f"'{key}': {error}")
    if wrong or kind is None:
        raise ValueError("\n".join(wrong))
    name = harmless(str(cells["name"]), one_line=True)
    slug = re.sub(r"[\W_]+", "_", name.casefold()).strip("_") or "tin"
    return replace(kind, id=f"tin_{slug}", name=name, at_hand=kind.id, **told)


def _told(knowledge: Knowledge, key: str, cell: Any) -> dict[str, Any]:
    if key == "carrier":
        if cell not in (*CARRIERS, "none"):
            raise ValueError(f"'{cell}' is none of {', '.join(CARRIERS)}{meant(str(cell), CARRIERS)}")
        return {"carrier": cell}
    if key in ("dries_clear", "non_yellowing"):
        says = _truth(cell)
        return {"clear": says} if key == "dries_clear" else {"yellows": 0 if says else 2}
    if key == "made_for":
        ids = cell if isinstance(cell, list) else str(cell).split()
        for id in ids:
            if id not in knowledge.media:
                raise ValueError(f"'{id}' is no medium{meant(str(id), knowledge.media)}")
        return {"made_for": tuple(ids)}
    if key == "price":
        return {"price": _price(cell)}
    return {key: read_span(cell)}


def _truth(cell: Any) -> bool:
    word = str(cell).strip().casefold()
    if word not in (*_TRUE, *_FALSE):
        raise ValueError(f"write yes or no, not '{cell}'")
    return word in _TRUE


def _price(cell: Any) -> float:
    try:
        price = float(cell)
    except (TypeError, ValueError):
        raise ValueError(f"write a plain number such as 11.50, not '{cell}'") from None
    if not 0 <= price < 100_000:
        raise ValueError(f"{cell} is no price for a tin")
    return price
