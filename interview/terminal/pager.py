"""A long text on a screen, page by page, with its keys at the foot."""

from __future__ import annotations

import os

# of `less`: colours as they are, nothing where it fits, and the keys as its prompt (colons and dots are its own signs)
KEYS = "-RFX -PsSpace next page\\, b back\\, /word find\\, q end$"


def show(text: str) -> None:
    import pydoc

    os.environ.setdefault("LESS", KEYS)
    pydoc.pager(text)
