"""What the menu under the line offers: the choices by any of their words, and the plain words understood."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document

from interview.terminal.prompt import Prompt

_SPLIT = re.compile(r"(?:,|;|\band\b|&|\+)\s*")


class PromptCompleter(Completer):
    """Completes the last part of the line for one prompt."""

    def __init__(self, prompt: Prompt) -> None:
        self._prompt = prompt

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterator[Completion]:
        typed = (
            _last_part(document.text_before_cursor) if self._prompt.several else document.text_before_cursor.lstrip()
        )
        if not typed and not complete_event.completion_requested:
            return
        for word, shown in _matching(self._prompt, typed.casefold()):
            yield Completion(word, start_position=-len(typed), display=shown)


def _last_part(text: str) -> str:
    return _SPLIT.split(text)[-1].lstrip()


def _matching(prompt: Prompt, typed: str) -> Iterator[tuple[str, str]]:
    for option in prompt.options:
        if _found(typed, (option.text, option.word, *option.also)):
            yield option.word or option.text, option.text
    if len(typed) >= 2:
        yield from ((word, word) for word in prompt.words if word.startswith(typed))


def _found(typed: str, phrases: Iterable[str]) -> bool:
    """Whether the text begins one of the phrases, or a word of one."""
    return any(phrase.casefold().startswith(typed) or f" {typed}" in phrase.casefold() for phrase in phrases if phrase)
