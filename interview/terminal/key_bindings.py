"""Keys beyond those prompt_toolkit has: Enter asks the check first, and a paste stays one line."""

from __future__ import annotations

from collections.abc import Callable

from prompt_toolkit.buffer import Buffer
from prompt_toolkit.enums import DEFAULT_BUFFER
from prompt_toolkit.filters import has_focus
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.keys import Keys

from interview.terminal.prompt import LONGEST_LINE
from interview.text.harmless import harmless


def _select_all(buffer: Buffer) -> None:
    """What was refused can be mended with the arrow keys; what is typed next takes its place."""
    buffer.cursor_position = 0
    buffer.start_selection()
    if buffer.selection_state is not None:
        buffer.selection_state.enter_shift_mode()
    buffer.cursor_position = len(buffer.text)


def make_bindings(passes: Callable[[str], bool]) -> KeyBindings:
    """`passes` tells whether the line may be handed over; where not, it has told the person why."""
    bindings = KeyBindings()

    @bindings.add("enter", filter=has_focus(DEFAULT_BUFFER))
    def _hand_over(event: KeyPressEvent) -> None:
        if passes(event.current_buffer.text):
            event.current_buffer.validate_and_handle()
        else:
            _select_all(event.current_buffer)

    @bindings.add(Keys.BracketedPaste)
    def _paste(event: KeyPressEvent) -> None:
        room = max(0, LONGEST_LINE - len(event.current_buffer.text))
        event.current_buffer.insert_text(harmless(event.data, one_line=True)[:room])

    return bindings
