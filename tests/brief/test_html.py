"""The HTML forms. Parsed strictly by html5lib, which follows the parsing rules of the WHATWG HTML standard."""

from __future__ import annotations

import base64
import dataclasses
import hashlib
import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from xml.etree.ElementTree import Element

import html5lib
import pytest

from interview.brief.composing import compose
from interview.brief.rendering import pages
from interview.drawing.signs import VERDICTS
from interview.text.harmless import harmless
from tests.brief.plans import ALL, charcoal, tissue_collage
from tests.brief.reading import html_tags, html_text, text_of
from tests.brief.real import CASES, like, real_plan
from tests.brief.test_text_forms import COMMONMARK, NASTY


def tree_of(text: str) -> Element:
    """Raises where the text breaks the parsing rules anywhere."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)  # type: ignore[no-any-return]


def local(element: Element) -> str:
    return str(element.tag).rpartition("}")[2]


def test_every_page_is_valid_whole_and_leans_on_nothing_outside() -> None:
    plans = [*(make() for make in ALL.values()), *(real_plan(says) for says in CASES[::6])]
    for plan in plans:
        text = text_of(plan, "html")
        tree = tree_of(text)
        names = Counter(local(e) for e in tree.iter())
        assert not names.keys() & {
            "link",
            "img",
            "iframe",
            "object",
            "embed",
            "base",
            "form",
            "audio",
            "video",
        }
        assert not re.search(r"https?:|//[a-z]|@import|javascript:|data:", text)
        assert not [k for e in tree.iter() for k in e.attrib if k.startswith("on")]
        outside = [u for u in re.findall(r"url\(([^)]*)\)", text) if not u.startswith("#")]
        assert not outside


def test_every_reference_inside_a_page_leads_somewhere() -> None:
    for plan in [*(make() for make in ALL.values()), like("jigsaw"), like("charcoal on a bare")]:
        text = text_of(plan, "html")
        tree = tree_of(text)
        ids = [e.attrib["id"] for e in tree.iter() if "id" in e.attrib]
        assert len(ids) == len(set(ids))
        led = [e.attrib["href"][1:] for e in tree.iter() if local(e) == "a"]
        led += [e.attrib["for"] for e in tree.iter() if "for" in e.attrib]
        led += [i for e in tree.iter() for i in e.attrib.get("aria-labelledby", "").split()]
        led += re.findall(r"url\(#([^)]*)\)", text)
        assert set(led) <= set(ids)


def test_every_box_has_a_label_and_headings_go_down_one_at_a_time() -> None:
    for plan in (tissue_collage(), like("tissue collage")):
        tree = tree_of(text_of(plan, "html"))
        labels = {e.attrib.get("for"): "".join(e.itertext()).strip() for e in tree.iter() if local(e) == "label"}
        boxes = [e for e in tree.iter() if local(e) == "input"]
        assert boxes
        assert all(labels.get(b.attrib.get("id")) or b.attrib.get("aria-label") for b in boxes)
        levels = [int(local(e)[1]) for e in tree.iter() if re.fullmatch("h[1-6]", local(e))]
        assert levels[0] == 1
        assert all(b - a <= 1 for a, b in pairwise(levels))


@pytest.mark.parametrize("typed", NASTY)
def test_what_a_person_typed_is_text_and_nothing_else(typed: str) -> None:
    plain = tissue_collage()
    usual = Counter(html_tags(text_of(plain, "html")))
    line = plain.zone_lines[0].model_copy(update={"name": typed})
    plan = plain.model_copy(update={"name": typed, "summary": typed, "zone_lines": (line, *plain.zone_lines[1:])})
    text = text_of(plan, "html")
    tree_of(text)
    assert Counter(html_tags(text)) == usual
    assert harmless(typed, one_line=True) in html_text(text)
    assert not re.search("[\u202a-\u202e\u2066-\u2069\x1b\x00]", text)


LEFT_OUT = (
    "id",
    "key",
    "kind",
    "ids",
    "need",
    "working",
    "where",
    "shorts",
    "short",
    "sign",
    "number",
    "coats",
    "then",
)


def sentences(value: object) -> Iterator[str]:
    """Every text of a brief that a reader is to see."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from sentences(part)
    elif dataclasses.is_dataclass(value):
        for part in dataclasses.fields(value):
            if part.name not in LEFT_OUT:
                yield from sentences(getattr(value, part.name))


def test_terminal_markdown_and_page_tell_the_same() -> None:
    def bare(text: str) -> str:
        return re.sub(r"\s", "", text)

    for plan in (tissue_collage(), charcoal(), like("tissue collage"), like("unknown paper"), like("oil pastel")):
        forms = {
            "page": bare(html_text(text_of(plan, "html"))),
            "terminal": bare(text_of(plan, "terminal", full=True, width=70)),
            "markdown": bare(html_text(COMMONMARK.render(text_of(plan, "markdown", full=True)))),
        }
        for says in sentences(dataclasses.replace(compose(plan))):
            for form, text in forms.items():
                assert bare(says) in text, f"{form} lacks: {says}"


def test_the_one_script_is_the_one_the_page_allows() -> None:
    text = text_of(tissue_collage(), "html")
    scripts = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
    assert len(scripts) == 1
    told = base64.b64encode(hashlib.sha256(scripts[0].encode()).digest()).decode()
    assert f"script-src 'sha256-{told}'" in text


@pytest.mark.parametrize("sign", ["seal", "no_need", "find_a_way", "stop"])
def test_the_verdict_is_told_by_shape_and_word(sign: str) -> None:
    """Not by colour alone: each has its own outline and its own word."""
    text = text_of(tissue_collage().model_copy(update={"sign": sign}), "html")
    assert f'<span class="word">{VERDICTS[sign].word}</span>' in text
    assert str(VERDICTS[sign].strokes) in text
    assert len({str(v.strokes) for v in VERDICTS.values()}) == len({v.word for v in VERDICTS.values()}) == 4


def test_several_pieces_share_a_page_with_a_list_of_them() -> None:
    text = pages([tissue_collage(), ALL["tile"](), ALL["stopped"]()])
    tree = tree_of(text)
    ids = [e.attrib["id"] for e in tree.iter() if "id" in e.attrib]
    assert len(ids) == len(set(ids))
    heads = ["".join(e.itertext()) for e in tree.iter() if local(e) == "h1"]
    assert heads == ["Gull over the pier", "Tide table tile", "Prep brief"]
    nav = next(e for e in tree.iter() if local(e) == "nav")
    assert [a.attrib["href"] for a in nav.iter() if local(a) == "a"] == ["#piece-1", "#piece-2", "#piece-3"]


def test_the_paper_can_be_fixed() -> None:
    for paper in ("A4", "Letter"):
        assert f"@page bench {{ size: {paper} landscape;" in pages([tissue_collage()], paper=paper)


@pytest.mark.parametrize("name", ALL)
def test_every_page_defers_to_label_and_data_sheet(name: str) -> None:
    text = html_text(text_of(ALL[name](), "html"))
    assert "label or safety data sheet" in text
    assert "licensed" in text
