"""Colours: the sixteen of the terminal's own scheme only, so that they stay readable on light and dark grounds.

Nothing is told by colour alone, and plain text keeps the terminal's own colour.
"""

from __future__ import annotations

from collections.abc import Mapping

from prompt_toolkit.output import ColorDepth
from prompt_toolkit.styles import Style

STYLE = Style.from_dict(
    {
        "quiet": "",
        "warning": "bold ansired",
        "pointer": "bold",
        "bottom-toolbar": "noreverse",
        "bottom-toolbar.text": "noreverse",
        "completion-menu": "noinherit",
        "completion-menu.completion": "noinherit",
        "completion-menu.completion.current": "noinherit reverse",
        "completion-menu.meta.completion": "noinherit",
        "completion-menu.meta.completion.current": "noinherit reverse",
        "scrollbar.background": "noinherit",
        "scrollbar.button": "noinherit reverse",
    }
)


def colour_depth(environment: Mapping[str, str]) -> ColorDepth:
    """One bit where NO_COLOR is set to anything, as no-color.org asks; else four."""
    return ColorDepth.DEPTH_1_BIT if environment.get("NO_COLOR") else ColorDepth.DEPTH_4_BIT
