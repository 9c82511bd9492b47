"""The brief in a terminal and as Markdown. CommonMark is parsed by markdown-it-py (CommonMark 0.31
preset).
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from interview.brief.markdown_sheet import MarkdownSheet
from interview.brief.rendering import render
from interview.brief.typesetting import columns, wrapped
from interview.text.harmless import harmless
from tests.brief.plans import ALL, tissue_collage
from tests.brief.reading import html_tags, html_text, without_colour, words_of
from tests.brief.real import numbered

COMMONMARK = MarkdownIt("commonmark")
NASTY = [
    "<script>alert(1)</script>",
    "**not bold**",
    "_a_ and __b__",
    "[link](http://x.example)",
    "![p](x)",
    "[a]: http://x",
    "`code`",
    "# no heading",
    "1. no list",
    "2) no list",
    "- no list",
    "+ no list",
    "> no quote",
    "---",
    "===",
    "***",
    "&copy; &#60;b&#62;",
    "a \\ b \\* c",
    "{{ 7 * 7 }} {% raw %}",
    "~~~ fence",
    "a | b",
    "name ##",
    "\u202eturned\u202c",
    "\x1b[31mred\x1b[0m",
    "tab\tin",
    "עברית שלום",
    "漢字の名前",
    "😀 gull",
    "<!-- gone -->",
    "https://a.example/b_c_d",
]


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("width", [60, 72, 80, 100, 120])
def test_no_line_is_wider_than_the_screen(name: str, width: int) -> None:
    for line in render(ALL[name](), "terminal", width=width).splitlines():
        assert columns(line) <= width
        assert line == line.rstrip()


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("form", ["terminal", "markdown"])
def test_the_same_words_at_every_width(name: str, form: str) -> None:
    def bare(width: int) -> str:
        return re.sub(r"[-=\s]|\\(?=[-+#=.)])", "", render(ALL[name](), form, width=width))  # type: ignore[arg-type]

    if form == "markdown":
        assert bare(60) == bare(100)
    else:
        assert sorted(bare(60)) == sorted(bare(100))  # columns side by side turn the order


def test_the_sections_come_in_the_order_in_which_they_are_needed() -> None:
    text = render(tissue_collage(), "markdown")
    heads = [line[3:] for line in text.splitlines() if line.startswith("## ")]
    assert heads == [
        "Verdict",
        "Why",
        "Trials first",
        "What to get",
        "The numbers",
        "The steps",
        "Take care",
        "What is assumed",
        "Where this comes from",
    ]


def test_zones_with_one_verdict_are_one_line_and_no_reason_is_told_twice() -> None:
    text = words_of(render(tissue_collage(), "markdown"))
    assert "**The front, the gaps between the layers, the torn edges and the glitter**: seal: spray acrylic" in text
    assert text.count("Tissue paper drinks") == 1


def test_coats_are_one_step_with_a_box_each() -> None:
    text = render(tissue_collage(), "terminal")
    assert "[ ] coat 1   [ ] coat 2   [ ] coat 3" in text
    assert words_of(text).count("Spray the front, the gaps between the layers") == 1


def test_two_pages_for_the_usual_piece() -> None:
    assert len(render(tissue_collage(), "terminal").splitlines()) <= 180  # two sheets of 90 lines


@pytest.mark.parametrize("name", ALL)
def test_colour_adds_nothing_but_codes(name: str) -> None:
    plain, coloured = render(ALL[name](), "terminal"), render(ALL[name](), "terminal", colour=True)
    assert "\x1b" not in plain
    assert without_colour(coloured) == plain
    assert set(re.findall("\x1b\\[([0-9;]*)m", coloured)) <= {
        "0",
        "1",
        "1;31",
    }  # bold and the sixteen colours only


@pytest.mark.parametrize("name", ALL)
def test_every_brief_defers_to_label_and_data_sheet_and_local_rules(name: str) -> None:
    for form in ("terminal", "markdown"):
        text = words_of(render(ALL[name](), form))  # type: ignore[arg-type]
        assert "label or safety data sheet" in text
        assert "local rule" in text
        assert "licensed" in text


@pytest.mark.parametrize("name", ALL)
def test_markdown_is_commonmark_of_the_intended_parts_only(name: str) -> None:
    text = render(ALL[name](), "markdown")
    kinds = {token.type for token in COMMONMARK.parse(text)}
    assert kinds <= {
        "heading_open",
        "heading_close",
        "inline",
        "paragraph_open",
        "paragraph_close",
        "bullet_list_open",
        "bullet_list_close",
        "list_item_open",
        "list_item_close",
    }
    assert "\n\n\n" not in text
    for before, line, after in zip(text.split("\n"), text.split("\n")[1:], text.split("\n")[2:], strict=False):
        if line.startswith("#"):
            assert before == after == ""


@pytest.mark.parametrize("typed", NASTY)
def test_what_a_person_typed_is_shown_as_typed(typed: str) -> None:
    plain = tissue_collage()
    plan = plain.model_copy(
        update={
            "name": typed,
            "summary": typed,
            "zone_lines": (plain.zone_lines[0].model_copy(update={"name": typed, "line": typed, "why": (typed,)}),),
        }
    )
    html = COMMONMARK.render(render(plan, "markdown"))
    shown = harmless(typed, one_line=True)
    assert html_text(html).casefold().count(shown.casefold()) >= 4
    assert set(html_tags(html)) == {"h1", "h2", "h3", "p", "ul", "li", "strong"}
    assert "\x1b" not in render(plan, "terminal")
    assert harmless(typed, one_line=True) in render(plan, "terminal", width=100)


@settings(max_examples=300, deadline=None)
@given(
    st.text(alphabet=st.sampled_from("ab1 .)#-+=>*_`[]()!<&;~\\|:\n"), min_size=1, max_size=60),
    st.integers(24, 40),
)
def test_escaping_holds_for_any_text_at_any_width(typed: str, width: int) -> None:
    sheet = MarkdownSheet(width)
    typed = harmless(typed, one_line=True) or "x"
    for text in (
        sheet.title(typed),
        sheet.para(typed),
        sheet.point(typed),
        sheet.lead(typed),
        sheet.tick("", typed),
    ):
        html, bare = COMMONMARK.render(text), typed.replace(" ", "")
        assert set(html_tags(html)) <= {"h1", "p", "ul", "li", "strong"}
        assert words_of(html_text(html)).replace(" ", "") in (bare, f"[]{bare}")


@given(st.text(max_size=200), st.integers(24, 120))
def test_wrapping_loses_no_letter_and_keeps_the_width(text: str, width: int) -> None:
    text = harmless(text, one_line=True)
    lines = wrapped(text, width, "  - ")
    assert "".join("".join(lines).split()).removeprefix("-") == "".join(text.split())
    assert all(columns(line) <= width for line in lines)


def test_both_units_the_makers_own_first() -> None:
    assert "310 mL (10 1/2 fl oz)" in render(tissue_collage(), "terminal", units="metric")
    assert "10 1/2 fl oz (310 mL)" in render(tissue_collage(), "terminal", units="imperial")
    assert "12 x 16 in (30 x 40 cm)" in words_of(render(tissue_collage(), "terminal", units="imperial"))


def test_a_number_told_with_the_things_to_get_is_not_told_again() -> None:
    text, full = render(numbered(), "terminal"), render(numbered(), "terminal", full=True)
    amount = next(i.amount for i in numbered().items if i.amount)
    assert words_of(text).count(words_of(amount)) == 1
    assert words_of(full).count(words_of(amount)) == 2
    for figure in numbered().figures:
        if figure.group == "mixing":
            assert words_of(figure.shown) in words_of(text)
        if figure.id == "room.dew_point":  # the line on the room tells what follows from it
            assert words_of(figure.shown) not in words_of(text)
            assert words_of(figure.shown) in words_of(full)


def test_the_working_of_every_number_is_on_the_page() -> None:
    page = html_text(render(numbered(), "html"))
    assert numbered().figures
    for figure in numbered().figures:
        assert all(words_of(line) in page for line in figure.working)
