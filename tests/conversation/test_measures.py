"""Measures typed in answer to a question, and written so that they are read back the same."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.reading.measures import Unclear, Value, measure_text, measure_words, read_measure, thinks_in_inches
from knowledge.shape import Question


def question(kind: str, unit: str = "", low: float | None = None, high: float | None = None) -> Question:
    return Question(
        id="q", basis="common practice", part="numbers", order=1, kind=kind, text="?", why="w", short="q", unit=unit,
        unsure="1", unsure_says="one", example="7", low=low, high=high,
    )  # type: ignore[arg-type]  # fmt: skip


CASES: list[tuple[Question, str, Any]] = [
    (question("count"), "30", 30), (question("count"), "a dozen", 12), (question("count"), "thirty", 30),
    (question("count"), "3 pieces", 3), (question("count"), "2.5", None), (question("count"), "-1", None),
    (question("count", high=1000), "2000", None), (question("count", low=1), "0", None),
    (question("number"), "2,5", 2.5), (question("number"), "nan", None), (question("number"), "1e400", None),
    (question("text"), "Blue  tray", "Blue tray"), (question("text"), " ", None),
    (question("size"), "12 x 16 in", {"shape": "rectangle", "width": 304.8, "height": 406.4}),
    (question("size"), "20 cm round", {"shape": "circle", "diameter": 200.0}),
    (question("size"), "12 x 16", None), (question("size"), "banana", None),
    (question("size"), "0 x 4 cm", None),
    (question("temperature", "degC", -20, 60), "68 F", 20.0),
    (question("temperature", "degC", -20, 60), "9000 C", None),
    (question("percent", "%", 0, 100), "55%", 55.0), (question("percent", "%", 0, 100), "140", None),
    (question("ratio"), "2:1", (2.0, 1.0, "volume")),
    (question("ratio"), "100:45 by weight", (100.0, 45.0, "weight")),
    (question("ratio"), "no ratio", None), (question("duration", "minutes"), "2 hours", 120.0),
    (question("volume", "mL"), "8 fl oz", pytest.approx(236.6, abs=0.1)), (question("money"), "18.50", 18.5),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "typed", "value"), CASES, ids=[f"{q.kind}-{t}" for q, t, _ in CASES])
def test_measure(asked: Question, typed: str, value: Any) -> None:
    got = read_measure(typed, asked)
    if value is None:
        assert isinstance(got, Unclear) and got.says and "\n" not in got.says
    else:
        assert isinstance(got, Value)
        assert got.value == value


def test_a_bare_size_is_in_inches_for_one_who_thinks_so() -> None:
    got = read_measure("12 x 16", question("size"), imperial=True)
    assert isinstance(got, Value) and got.value["width"] == 304.8 and "inches" in got.said


SIDE = st.floats(2, 9000).map(lambda side: round(side, 3))
SIZES = st.one_of(
    st.builds(lambda w, h: {"shape": "rectangle", "width": w, "height": h}, SIDE, SIDE),
    st.builds(lambda w, h: {"shape": "oval", "width": w, "height": h}, SIDE, SIDE),
    st.builds(lambda w, h, d: {"shape": "box", "width": w, "height": h, "depth": d}, SIDE, SIDE, SIDE),
    st.builds(lambda d: {"shape": "circle", "diameter": d}, SIDE),
    st.builds(lambda d, h: {"shape": "cylinder", "diameter": d, "height": h}, SIDE, SIDE),
    st.builds(
        lambda w, h: {"shape": "l_shape", "width": w + 1, "height": h + 1, "cut_width": w, "cut_height": h},
        SIDE.map(float), SIDE.map(float),
    ).map(lambda size: {k: v if k == "shape" else round(v, 3) for k, v in size.items()}),
)  # fmt: skip


@given(SIZES)
def test_a_size_written_out_is_read_back_the_same(size: dict[str, Any]) -> None:
    got = read_measure(measure_text(size, question("size")), question("size"))
    assert isinstance(got, Value), got
    assert got.value == size
    assert "(" in measure_words(size, question("size"))  # both systems


MEASURES = [
    ("temperature", "degC", -20, 45), ("percent", "%", 0, 100), ("duration", "minutes", 1, 90_000),
    ("length", "mm", 0.1, 5000),
    ("volume", "mL", 0.5, 90_000), ("area", "m2", 0.001, 300), ("length", "m", 0.5, 20),
    ("money", "", 0.01, 900),
]  # fmt: skip


@given(st.sampled_from(MEASURES), st.floats(0, 1))
def test_a_measure_written_out_is_read_back_the_same(kind: tuple[str, str, float, float], at: float) -> None:
    asked = question(kind[0], kind[1])
    value = round(kind[2] + at * (kind[3] - kind[2]), 2)
    got = read_measure(measure_text(value, asked), asked)
    assert isinstance(got, Value), (measure_text(value, asked), got)
    assert got.value == pytest.approx(value, abs=1e-9)
    assert measure_words(value, asked)


@given(
    st.floats(0.1, 40).map(lambda x: round(x, 2)),
    st.floats(0.1, 40).map(lambda x: round(x, 2)),
    st.sampled_from(["volume", "weight"]),
)
def test_a_ratio_written_out_is_read_back_the_same(a: float, b: float, by: str) -> None:
    got = read_measure(measure_text((a, b, by), question("ratio")), question("ratio"))
    assert isinstance(got, Value | Unclear)
    if isinstance(got, Value):
        assert got.value == (a, b, by)


@given(
    st.text(max_size=150),
    st.sampled_from([question("size"), question("ratio"), question("duration", "minutes"), question("count")]),
)
def test_any_text_gives_a_value_or_a_line(typed: str, asked: Question) -> None:
    got = read_measure(typed, asked)
    assert isinstance(got, Value) or (got.says and "\n" not in got.says)


@pytest.mark.parametrize(
    ("texts", "inches"),
    [(["12 x 16 in"], True), (["a 12\" tray"], True), (["30 x 40 cm"], False), (["12 in, or 30 cm"], False),
    (["in a frame"], False), ([], False)],
)  # fmt: skip
def test_who_thinks_in_inches(texts: list[str], inches: bool) -> None:
    assert thinks_in_inches(texts) is inches
