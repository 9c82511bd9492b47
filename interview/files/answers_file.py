"""An answers file: TOML keyed by question ids, read strictly and written so that it reads back the same.

piece = "collage"
support = ["tissue"]
size = "30 x 40 cm"
hollow = "not sure"

[origin]                 # optional: what a trial showed or a label says
spread_rate = "label"
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from interview.plan.answers import NOT_SURE, Answers, Origin
from interview.plan.plain_values import NOT_SURE_WORD, plain_value
from interview.reading.fitting import all_choices, fits
from interview.reading.measures import Unclear
from interview.text.nearest import did_you_mean
from knowledge.shape import Choice, Question

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

LARGEST = 1_000_000  # bytes
_ORIGINS: tuple[Origin, ...] = ("said", "trial", "label")
_MEASURES = ("size", "length", "temperature", "percent", "ratio", "duration", "volume", "money", "area")


class AnswersError(Exception):
    """The file will not do. `faults`: one line each, naming the key and what would be right."""

    def __init__(self, *faults: str) -> None:
        self.faults = faults
        super().__init__("\n".join(faults))


def read_answers(data: bytes, knowledge: Knowledge) -> Answers:
    """The answers of a file. Raises AnswersError with every fault found."""
    table = _parse(data)
    origins = table.pop("origin", {})
    faults: list[str] = []
    answers = Answers()
    for key, plain in table.items():
        question = knowledge.questions.get(key)
        if question is None:
            faults.append(f"{_short(key)}: there is no such question.{did_you_mean(key, knowledge.questions)}")
            continue
        try:
            value = read_value(plain, question, knowledge)
        except AnswersError as error:
            faults += error.faults
        else:
            answers = answers.say(key, value, "trial" if question.part == "trials" else "said", _words(plain))
    answers = _with_origins(answers, origins, faults)
    if faults:
        raise AnswersError(*faults)
    return answers


def _parse(data: bytes) -> dict[str, Any]:
    import tomllib

    if len(data) > LARGEST:
        raise AnswersError(f"The file is larger than {LARGEST // 1_000_000} MB; an answers file has a few lines.")
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise AnswersError(f"The file is not UTF-8 text (byte {error.start + 1}); save it as UTF-8.") from None
    if not text.strip():
        raise AnswersError("The file is empty. beforepour questions shows what can be answered.")
    try:
        table = tomllib.loads(f"{text}\n")  # a fault in the last line then tells its number, too
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise AnswersError(_toml_fault(str(error) or "nested too deep", text)) from None
    if not table.keys() - {"origin"}:
        raise AnswersError("The file holds no answers. beforepour questions shows what can be answered.")
    return table


def _toml_fault(says: str, text: str) -> str:
    line = re.search(r"line (\d+)", says)
    content = text.split("\n")[int(line[1]) - 1].strip() if line else ""
    if says.startswith("Cannot overwrite"):
        return f"{_short(content.split('=')[0].strip())}: answered twice (line {line[1] if line else '?'}); keep one."
    where = f" at line {line[1]}: {_short(content)}" if line else ""
    return f'The file is not TOML{where}. A line reads: key = "answer".'


def read_value(plain: Any, question: Question, knowledge: Knowledge) -> Any:
    """One value as a file or a table cell holds it. Raises AnswersError naming the question."""
    if plain == NOT_SURE_WORD:
        return NOT_SURE
    if question.kind in ("one", "several"):
        return _read_choices(plain, question, all_choices(question, knowledge))
    if question.kind in ("number", "count", "text", "date") or isinstance(plain, (str, int, float)):
        return _read_measure(plain, question)
    value = tuple(plain) if isinstance(plain, list) else plain
    if not fits(value, question, knowledge):
        raise AnswersError(_wrong_type(plain, question))
    return value


def _read_choices(plain: Any, question: Question, choices: tuple[Choice, ...]) -> str | frozenset[str]:
    named = [plain] if isinstance(plain, str) else plain
    if named == [] and question.kind == "several":
        raise AnswersError(f"{question.id}: the list is empty. {_nothing(question, choices)}")
    if not isinstance(named, list) or not named or not all(isinstance(n, str) for n in named):
        raise AnswersError(_wrong_type(plain, question))
    if question.kind == "one" and len(named) > 1:
        raise AnswersError(f"{question.id}: takes one choice, not {len(named)}.")
    ids = [_read_choice(name, question, choices) for name in named]
    if NOT_SURE in ids:
        raise AnswersError(f'{question.id}: "{NOT_SURE_WORD}" stands alone, without a list.')
    twice = [id for n, id in enumerate(ids) if id in ids[:n]]
    if twice:
        raise AnswersError(f'{question.id}: "{twice[0]}" is named twice; keep one.')
    single = [id for id in ids if id in question.alone]
    if single and len(ids) > 1:
        raise AnswersError(f'{question.id}: "{single[0]}" leaves no room for other choices.')
    return ids[0] if question.kind == "one" else frozenset(ids)


def _nothing(question: Question, choices: tuple[Choice, ...]) -> str:
    """What to write for nothing at all."""
    none = next((c for c in choices if c.id in question.alone), None)
    other = f'or "{NOT_SURE_WORD}"'
    return f'Write "{none.id}" ({none.text}) {other}.' if none else f"Name at least one, {other}."


def _read_choice(name: str, question: Question, choices: tuple[Choice, ...]) -> Any:
    if name == NOT_SURE_WORD:
        return NOT_SURE
    plain = name.strip().casefold()
    by_id = [c.id for c in choices if c.id == plain.replace(" ", "_") or c.id == plain]
    named = by_id or [c.id for c in choices if plain in (c.text.casefold(), *(a.casefold() for a in c.also))]
    if len(named) == 1:
        return named[0]
    if named:
        raise AnswersError(f"{question.id}: {_short(name)} may be {' or '.join(named)}; write one of these.")
    ids = [c.id for c in choices]
    meant = did_you_mean(plain, [*ids, *(a for c in choices for a in c.also)])
    listed = f" It takes: {', '.join(ids)}." if len(ids) <= 12 and not meant else ""
    more = "" if listed or meant else f" beforepour questions {question.id} lists them."
    raise AnswersError(f"{question.id}: {_short(name)} is none of its choices.{meant}{listed}{more}")


def _read_measure(plain: Any, question: Question) -> Any:
    from interview.reading.measures import read_measure

    number = isinstance(plain, (int, float)) and not isinstance(plain, bool)
    if question.kind in ("text", "date") and not isinstance(plain, str):
        plain = plain.isoformat() if hasattr(plain, "isoformat") else plain
    if not isinstance(plain, str) and not number:
        raise AnswersError(_wrong_type(plain, question))
    if number and question.kind in _MEASURES and question.kind not in ("percent", "money"):
        raise AnswersError(_wrong_type(plain, question))
    got = read_measure(str(plain), question)
    if isinstance(got, Unclear):
        raise AnswersError(f"{question.id}: {got.says}")
    return got.value


def _wrong_type(plain: Any, question: Question) -> str:
    wants = {
        "one": "the id of one choice in quotes",
        "several": 'a list of choices, such as ["one", "two"]',
        "count": "a whole number",
        "number": "a number",
        "text": "text in quotes",
    }.get(
        question.kind,
        f'text in quotes, such as "{question.example}"' if question.example else "text in quotes",
    )
    return f"{question.id}: needs {wants}, not {_short(json.dumps(plain, default=str))}."


def _with_origins(answers: Answers, origins: Any, faults: list[str]) -> Answers:
    if not isinstance(origins, dict):
        faults.append('origin: needs a table of its own: [origin], then key = "label" lines.')
        return answers
    for key, origin in origins.items():
        if key not in answers:
            if not any(fault.startswith(f"{key}:") for fault in faults):
                faults.append(f"origin.{_short(key)}: there is no answer to that in the file.")
        elif origin not in _ORIGINS:
            faults.append(f"origin.{key}: {_short(str(origin))} is none of {', '.join(_ORIGINS)}.")
        else:
            answers = answers.say(key, answers[key].value, origin, answers[key].words)
    return answers


def _words(plain: Any) -> str:
    return plain if isinstance(plain, str) else ""


def _short(text: str) -> str:
    shown = text if len(text) <= 60 else f"{text[:57]}..."
    return shown if shown.isidentifier() else json.dumps(shown, ensure_ascii=False)


# ------------------------------------------------------------------ writing


def write_answers(answers: Answers, knowledge: Knowledge, width: int = 0) -> str:
    """The answers as a file, each under its question's words. Stale ones are left out.

    `width`: no line is wider where it can be broken, nor has any other signs than ASCII, so that it can be copied
    from any screen.
    """
    return "\n".join(_lines(answers, knowledge, width)) + "\n"


def _lines(answers: Answers, knowledge: Knowledge, width: int) -> Iterator[str]:
    if not width:
        yield "# Answers for beforepour plan. Each key is a question's id; beforepour questions lists them all."
    origins = []
    for id, question in knowledge.questions.items():
        answer = answers.get(id)
        if answer is None or answer.origin == "stale":
            continue
        plain = _plain(answer.value, question)
        if width:
            yield from _folded(id, plain, width)
        else:
            yield from ("", f"# {question.text}", f"{id} = {_toml(plain)}")
        usual = "trial" if question.part == "trials" else "said"
        if answer.origin not in (usual, "assumed"):
            origins.append(f'{id} = "{answer.origin}"')
    if origins:
        yield ""
        yield "[origin]"
        yield from origins


def _plain(value: Any, question: Question) -> Any:
    if value is not NOT_SURE and question.kind in _MEASURES:
        from interview.reading.measures import measure_text

        return measure_text(value, question)
    return plain_value(value)


def _folded(id: str, plain: Any, width: int) -> Iterator[str]:
    """The same value over as many lines as it takes: a list an item a line, a text broken where TOML lets it be."""
    whole = f"{id} = {_ascii(_toml(plain))}"
    if len(whole) <= width or not isinstance(plain, (str, list)):
        yield whole
    elif isinstance(plain, list):
        yield f"{id} = ["
        for item in plain:
            yield from _broken(item, width, ",")
        yield "]"
    else:
        first, *rest = _broken(plain, width, "")
        yield from (f"{id} = {first}", *rest)


def _broken(text: str, width: int, end: str) -> Iterator[str]:
    """A text in quotes; with three, and a bar at each line's end that takes the break away, where it is too long."""
    told = _ascii(_toml(text))
    if len(told) + len(end) <= width // 2:
        yield told + end
        return
    yield '"""\\'
    line = ""
    for sign in re.findall(r"\\u.{4}|\\U.{8}|\\.|.", told[1:-1]):
        if line and len(line) + len(sign) >= width and sign != " ":  # blanks that begin a line would be lost
            yield f"{line}\\"
            line = ""
        line += sign
    yield f'{line}"""{end}' if len(line) + 3 + len(end) <= width else f'{line}\\\n"""{end}'


def _ascii(text: str) -> str:
    return "".join(c if c.isascii() else f"\\u{ord(c):04x}" if ord(c) < 0x10000 else f"\\U{ord(c):08x}" for c in text)


def _toml(plain: Any) -> str:
    if isinstance(plain, bool):
        return "true" if plain else "false"
    if isinstance(plain, (int, float)):
        return repr(plain)
    if isinstance(plain, list):
        return f"[{', '.join(map(_toml, plain))}]"
    if isinstance(plain, dict):
        return f"{{ {', '.join(f'{key} = {_toml(value)}' for key, value in plain.items())} }}"
    return json.dumps(plain, ensure_ascii=False).replace("\x7f", "\\u007f")
