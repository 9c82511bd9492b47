"""Make transcripts_demo/ anew: python -m tests.demo [NAME ...]"""

from __future__ import annotations

import sys

from tests.demo import HOME, SCENES, play


def main(names: list[str]) -> int:
    HOME.mkdir(exist_ok=True)
    for scene in SCENES:
        if not names or scene["name"] in names:
            for name, text in play(scene).items():
                (HOME / name).write_text(text, encoding="utf-8")
                print(f"transcripts_demo/{name}")
    return 0


sys.exit(main(sys.argv[1:]))
