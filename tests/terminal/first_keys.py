"""Keys typed from the first millisecond on: each is kept, and shown once: python -m tests.terminal.first_keys --runs 1000

A line is typed in bits, at moments of chance before and after the first question stands, while libraries load.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

from tests.terminal.screen import PATIENCE, Terminal

LETTERS = "abcdefghijklmnoprstuvwyz      é"
LAST = 0.3  # seconds until the last bit is typed
SURE = 0.15  # seconds in which nothing more may come


def check(rng: random.Random, folder: Path, *arguments: str) -> None:
    """One run. Raises AssertionError where a key is lost, or shown twice."""
    text = " ".join("".join(rng.choices(LETTERS, k=rng.randint(8, 60))).split())
    enter = rng.choice(("none", "at once", "later"))
    cuts = sorted(rng.sample(range(1, len(text)), min(rng.randint(0, 4), len(text) - 1)))
    bits = [text[a:b] for a, b in zip([0, *cuts], [*cuts, len(text)], strict=True)]
    moments = sorted([0.0, *(rng.random() ** 2 * LAST for _ in bits[1:])])
    screen = Terminal(folder, *arguments)
    try:
        begin = time.monotonic()
        for bit, moment in zip(bits, moments, strict=True):
            while (left := begin + moment - time.monotonic()) > 0:
                screen.read(left)
            screen.type(bit)
        if enter == "at once":
            screen.type("\r")
        screen.see(f"> {text}")
        if enter == "later":
            screen.type("\r")
        if enter != "none":
            end = time.monotonic() + PATIENCE
            while screen.last_line == f"> {text}":
                assert screen.read() and time.monotonic() < end, screen.display
        end = time.monotonic() + SURE
        while time.monotonic() < end:
            screen.read(0.02)
        assert screen.display.count(text) == 1, f"shown twice: {text}\n{screen.display}"
        assert enter != "none" or screen.last_line == f"> {text}", f"{text}\n{screen.display}"
    finally:
        screen.kill()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    rng = random.Random(options.seed)
    lost = 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(options.runs):
            try:
                check(rng, Path(folder) / str(number))
            except AssertionError as error:
                lost += 1
                print(f"run {number}: {error}", flush=True)
    print(f"{options.runs} runs, {lost} with a key lost or shown twice")
    sys.exit(1 if lost else 0)


if __name__ == "__main__":
    main()
