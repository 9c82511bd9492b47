"""What is fuzzed: each target takes bytes as they come from outside, and checks what must hold of the result.

A target gives in a few words how it came out. The only exceptions it may catch are those with lines for the
person; anything else, and any assertion, is a find.
"""

from __future__ import annotations

from tests.hostile.common import Target
from tests.hostile.file_targets import (
    answers_file,
    answers_seeds,
    rows_file,
    rows_seeds,
    stock_csv,
    stock_seeds,
    stock_toml,
    table,
    table_seeds,
    words_file,
    words_seeds,
)
from tests.hostile.journal_targets import journal, journal_seeds, sealed_journal, sealed_seeds
from tests.hostile.typed_targets import (
    conversation,
    conversation_seeds,
    hours,
    hours_seeds,
    opening,
    opening_seeds,
    reply,
    reply_seeds,
    shown,
    shown_seeds,
)

TARGETS = (
    Target("replies", 200_000, 600, reply, reply_seeds),
    Target("opening", 140_000, 250, opening, opening_seeds),
    Target("answers", 130_000, 300, answers_file, answers_seeds),
    Target("batch", 90_000, 250, table, table_seeds),
    Target("stock_csv", 60_000, 120, stock_csv, stock_seeds),
    Target("stock_toml", 60_000, 150, stock_toml, stock_seeds),
    Target("knowledge", 90_000, 120, rows_file, rows_seeds),
    Target("words", 40_000, 80, words_file, words_seeds),
    Target("journal", 90_000, 300, journal, journal_seeds),
    Target("sealed_journal", 70_000, 300, sealed_journal, sealed_seeds),
    Target("names", 40_000, 200, shown, shown_seeds),
    Target("hours", 20_000, 200, hours, hours_seeds),
    Target("conversation", 4_000, 12, conversation, conversation_seeds),
)
BY_NAME = {target.name: target for target in TARGETS}
