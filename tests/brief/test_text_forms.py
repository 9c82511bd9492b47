"""The brief in a terminal and as Markdown. CommonMark is parsed by markdown-it-py (CommonMark 0.31 preset)."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from interview.brief.markdown_sheet import MarkdownSheet
from interview.brief.rendering import SCREEN
from interview.brief.typesetting import columns, wrapped
from interview.text.harmless import harmless
from tests.brief.plans import ALL, tissue_collage
from tests.brief.reading import html_tags, html_text, text_of, without_colour, words_of
from tests.brief.real import CASES, like, numbered, on_a_panel, real_plan

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
    for line in text_of(ALL[name](), "terminal", width=width).splitlines():
        assert columns(line) <= width
        assert line == line.rstrip()


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("form", ["terminal", "markdown"])
def test_the_same_words_at_every_width(name: str, form: str) -> None:
    def bare(width: int) -> str:
        return re.sub(r"[-=\s]|\\(?=[-+#=.)])", "", text_of(ALL[name](), form, width=width))

    assert bare(60) == bare(100)


def test_the_sections_come_in_the_order_in_which_they_are_needed() -> None:
    text = text_of(tissue_collage(), "markdown")
    heads = [line[3:] for line in text.splitlines() if line.startswith("## ")]
    assert heads == [
        "1 thing assumed: check",
        "Each part, and why",
        "Trials first, on a scrap or a hidden spot",
        "What to get",
        "The steps",
        "Take care",
        "Where this comes from",
    ]


def test_zones_with_one_verdict_are_one_line_and_no_reason_is_told_twice() -> None:
    text = words_of(text_of(tissue_collage(), "markdown"))
    assert "**The front, the gaps between the layers, the torn edges and the glitter**: seal: spray acrylic" in text
    assert text.count("Tissue paper drinks") == 1


def test_coats_are_one_step_with_a_box_each() -> None:
    text = text_of(tissue_collage(), "terminal")
    assert "[ ] coat 1   [ ] coat 2   [ ] coat 3" in text
    assert words_of(text).count("Spray the front, the gaps between the layers") == 1


def test_two_pages_for_the_usual_piece() -> None:
    assert len(text_of(tissue_collage(), "terminal").splitlines()) <= 180  # two sheets of 90 lines


@pytest.mark.parametrize("name", ALL)
def test_colour_adds_nothing_but_codes(name: str) -> None:
    plain, coloured = text_of(ALL[name](), "terminal"), text_of(ALL[name](), "terminal", colour=True)
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
        text = words_of(text_of(ALL[name](), form))
        assert "label or safety data sheet" in text
        assert "local rule" in text
        assert "licensed" in text


@pytest.mark.parametrize("name", ALL)
def test_markdown_is_commonmark_of_the_intended_parts_only(name: str) -> None:
    text = text_of(ALL[name](), "markdown")
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
    html = COMMONMARK.render(text_of(plan, "markdown"))
    shown = harmless(typed, one_line=True)
    assert html_text(html).casefold().count(shown.casefold()) >= 4
    assert set(html_tags(html)) == {"h1", "h2", "h3", "p", "ul", "li", "strong"}
    assert "\x1b" not in text_of(plan, "terminal")
    assert harmless(typed, one_line=True) in text_of(plan, "terminal", width=100)


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
    assert "310 mL (10 1/2 fl oz)" in text_of(tissue_collage(), "terminal")
    assert "10 1/2 fl oz (310 mL)" in text_of(tissue_collage(), "terminal", imperial=True)
    assert "11 3/4 x 15 3/4 in (30 x 40 cm)" in words_of(text_of(tissue_collage(), "terminal", imperial=True))


def test_a_number_told_with_the_things_to_get_is_not_told_again() -> None:
    text = words_of(text_of(numbered(), "terminal"))
    amount = next(i.amount for i in numbered().items if i.amount)
    assert text.count(words_of(amount)) == 1
    for figure in numbered().figures:
        if figure.group == "mixing":
            assert words_of(figure.shown) in text
        if figure.id == "room.dew_point":  # the line on the room tells what follows from it; explain tells the rest
            assert f"{figure.label}: {figure.shown}".casefold() not in text.casefold()


def sentences_of(plan_text: str) -> list[str]:
    return [s for s in re.split(r"(?<=[.!?]) ", words_of(plan_text)) if len(s.split()) >= 6]


@pytest.mark.parametrize("says", [*CASES[::9], "print on a panel, tight: nothing to glue"])
def test_no_sentence_stands_twice(says: str) -> None:
    """But for what is done first, which stands at the top and in its place; and each step tells how by itself."""
    plan = real_plan(says)
    hows = " ".join(s.how for s in plan.steps)
    told = sentences_of(text_of(plan, "markdown", full=True))
    assert not {s for s in told if told.count(s) > 1 and s not in hows and s.rstrip(".") not in plan.do_first}


def test_a_photograph_on_a_panel_is_told_in_two_thousand_words() -> None:
    """The full brief: all but the care card, which goes with the piece; on the page, all behind the bench sheet."""
    for plan in (on_a_panel("glossy photo paper, whole"), like("print on a panel, tight")):
        for text in (
            text_of(plan, "markdown", full=True).partition("## Care card")[0],
            html_text(text_of(plan, "html").partition('<div class="full">')[2]),
        ):
            words = [w for w in text.split() if any(c.isalpha() for c in w)]
            assert 500 <= len(words) <= 2000, plan.name


@pytest.mark.parametrize("says", CASES[::4])
def test_the_last_screen_fits_a_small_terminal(says: str) -> None:
    plan = real_plan(says)
    for width in (60, 80):
        text = text_of(plan, "screen", width=width)
        assert len(text.splitlines()) <= SCREEN - 2
        assert words_of(plan.do_first) in words_of(text)
