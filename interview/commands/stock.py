"""Check your list of tins at hand, or begin one."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from typing import TYPE_CHECKING

from interview.commands import output
from interview.commands.context import adviser_of, path_of, setting_of
from interview.commands.output import OK, REFUSED, Fault

if TYPE_CHECKING:
    from interview.files.stock import OtherTin, Shelf
    from knowledge.loading import Knowledge
    from knowledge.rows import Sealer

HELP = "Check your list of tins at hand, or begin one."
_COLUMNS = """columns, of which only the first two are needed (a TOML file has a [[tin]] table for each):
  name            what you call it: the blue tin
  class           a class of sealer (beforepour stock --classes lists them), resin, glue, or a stand-in
  carrier         water, alcohol, hydrocarbon or strong, where its label says otherwise than its class
  dries_clear     yes or no
  non_yellowing   yes or no
  made_for        ids of media its label names, parted by spaces
  spread          9 m2/L
  recoat, ready   2 hours, 24 hours: next coat after, ready for resin after
  pack            250 mL
  left            half, 50 % or 125 mL; left out: full
  price           11.50, for a pack

  name;class;pack;left;price
  blue tin;brush_water_borne;250 mL;half;11,50
  the can on the shelf;spray_acrylic;400 mL;full;9"""


def fill(command: ArgumentParser) -> None:
    command.formatter_class = RawDescriptionHelpFormatter
    command.epilog = _COLUMNS
    command.add_argument("file", metavar="FILE", nargs="?", default="", help="a list as CSV or TOML, to check")
    command.add_argument("--new", metavar="FILE", default="", help="write a new list: a short interview, tin by tin")
    command.add_argument("--empty", action="store_true", help="with --new: an empty list with a line for each column")
    command.add_argument("--classes", action="store_true", help="list the classes a tin can be of")


def run(options: argparse.Namespace) -> int:
    if options.classes:
        return _classes(_knowledge(options))
    if options.new:
        return _new(options)
    if not options.file:
        raise Fault("Name a list to check, or --new FILE to begin one. beforepour stock --help shows an example.")
    output.put("\n".join(_told(_shelf(options))))
    return OK


def _knowledge(options: argparse.Namespace) -> Knowledge:
    return adviser_of(argparse.Namespace(**{**vars(options), "stock": None})).knowledge


def _shelf(options: argparse.Namespace) -> Shelf:
    from interview.files.stock import StockError, read_shelf

    try:
        return read_shelf(_knowledge(options), path_of(options.file))
    except StockError as error:
        faults = str(error).splitlines()
        raise Fault(*faults, f"{len(faults)} fault{'' if len(faults) == 1 else 's'}. Nothing of it is used.") from None


def _told(shelf: Shelf) -> list[str]:
    lines = [_line(tin, tin.at_hand) for tin in shelf.sealers.values()]
    lines += [_line(tin, tin.kind) for tin in shelf.others]
    return [f"The list is sound: {len(lines)} tin{'' if len(lines) == 1 else 's'}.", *lines]


def _line(tin: Sealer | OtherTin, kind: str) -> str:
    """ "Blue tin: brush water borne, 250 mL, 50% left, 11.50" """
    left = 1.0 if tin.left is None else tin.left
    pack = f"{tin.pack.high:g} {tin.pack.unit}" if tin.pack else ""
    price = f"{tin.price:.2f}" if tin.price is not None else ""
    told = (kind.replace("_", " "), pack, f"{left:.0%} left", price)
    return f"  {tin.name}: {', '.join(t for t in told if t)}"


def _classes(knowledge: Knowledge) -> int:
    from interview.files.stock import OTHER
    from knowledge.topics import load_topics

    for id, sealer in knowledge.sealers.items():
        if not sealer.at_hand and id != "none":
            output.put(f"{id}: {sealer.plain}")
    output.put(f"known by name, not sealed with: {', '.join((*OTHER, *load_topics().stand_ins))}")
    return OK


def _new(options: argparse.Namespace) -> int:
    from interview.files.paths import why_not, write_whole
    from interview.files.stock import EMPTY

    path = path_of(options.new)
    if path.exists():
        raise Fault(f"{path} is already there. Choose another name; beforepour stock {path} checks it.")
    if options.empty or not output.is_terminal():
        text = EMPTY
    else:
        from interview.conversation.shelf_interview import ask_tins

        text = ask_tins(setting_of(options).console, _knowledge(options))
    try:
        write_whole(path, text)
    except OSError as error:
        raise Fault(f"{path} cannot be written: {why_not(error)}.", status=REFUSED) from None
    output.put(f"Written to {path}. beforepour --stock {path} uses it.")
    return OK
