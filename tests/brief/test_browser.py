"""The pages in a real browser: the system's Chromium, driven by playwright-core, with axe-core for WCAG 2.2 AA.

What it needs besides Chromium: `npm ci --prefix tests/brief/browser`. Where that is missing, these tests are skipped.
"""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import subprocess
import time
import unicodedata
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from interview.brief import pdf
from interview.brief.batch_page import wall_sheet
from interview.brief.bench import fullness
from interview.brief.composing import compose
from interview.brief.page import page
from interview.brief.rendering import pages
from interview.plan.model import Plan
from interview.reasoning.batch import make_batch
from interview.reasoning.lots import Kind, Means
from tests.brief.plans import ALL, flowers, tissue_collage
from tests.brief.reading import text_of
from tests.brief.real import CASES, like, numbered, on_a_panel, real_plan
from tests.scheduling.stall import AT_HOME, WEDNESDAY

HERE = Path(__file__).parent / "browser"
WIDTHS = (360, 800, 1280)
ALL_LOOKS = (
    "collage",
    "unknown",
    "flowers",
    "charcoal",
    "faulty",
)  # between them, every part a page can have
LONG = "A" * 90 + " <b>&amp; {{ name }}</b> \u05e1\u05d9\u05e8\u05d4 " + "\u6f22\u5b57" * 30
MISSING = next(
    (
        reason
        for there, reason in (
            (pdf.browser(), "no browser of the system on PATH (install chromium)"),
            (shutil.which("node"), "no node on PATH"),
            (
                (HERE / "node_modules").is_dir() or None,
                "npm ci --prefix tests/brief/browser has not been run",
            ),
        )
        if there is None
    ),
    "",
)
needs_browser = pytest.mark.skipif(bool(MISSING), reason=MISSING)

# a page with one fault of each sort: the checks must see them
FAULTY = """<!DOCTYPE html><html lang="en"><head><title>x</title><style>div { width: 2000px; }
@media print { p { color: #ccc; background: #fff; } }
@media screen and (prefers-color-scheme: dark) { p { color: #222; background: #000; } }
input { width: 9px; height: 9px; } input:checked + i { color: #eee; background: #fff;
}</style></head><body><main><h1>x</h1>
<div>too wide <span style="position:absolute;left:1900px">cut off here</span></div><p>print and dark
contrast</p>
<p style="color:#ddd;background:#fff">light contrast</p><input type="checkbox" aria-label="x"><i>ticked</i>
<svg class="drawing" viewBox="0 0 100 50" role="img" aria-label="d" style="overflow:visible"><text x="5"
y="20">one</text>
<text x="6" y="22">two</text><text x="180" y="20">out</text></svg><img
src="https://outside.example/x.png"></main></body></html>"""


def wall() -> str:
    """Two kinds on one ribbon, and a slip for each."""
    kinds = [Kind("gull", like("tissue collage"), 3), Kind("tile & <b>", like("glass: no sealing"), 6)]
    means = Means(AT_HOME, WEDNESDAY)
    return wall_sheet(make_batch(kinds, means), "the stall", "A4")


def long_name() -> Plan:
    return tissue_collage().model_copy(update={"name": LONG, "summary": LONG})


def looked_at() -> dict[str, str]:
    real, unknown = like("tissue collage"), like("unknown paper")
    return {
        "collage": text_of(real, "html"),
        "collage-sheet": pages([real], alone=True),
        "unknown": text_of(unknown, "html"),
        "jigsaw": text_of(like("jigsaw"), "html"),
        "numbers": text_of(numbered(), "html", imperial=True),
        "flowers": text_of(flowers(), "html"),
        "stopped": text_of(ALL["stopped"](), "html"),
        "long-name": text_of(long_name(), "html"),
        "long-name-sheet": pages([long_name()], alone=True),
        "stop": text_of(like("oil pastel"), "html"),
        "way": text_of(like("charcoal, and no place"), "html"),
        "wall": wall(),
        "charcoal": text_of(ALL["charcoal"](), "html"),
        "several": pages([tissue_collage(), ALL["tile"]()]),
        "faulty": FAULTY,
    }


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What look.mjs saw of every page; the PDFs lie beside the pages. Looked at once, however many test workers."""
    parallel = "PYTEST_XDIST_WORKER" in os.environ
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if parallel else base) / "brief-pages"
    try:
        folder.mkdir()
    except FileExistsError:
        _wait_for(folder / "done.json")
    else:
        _look(folder)
    found: dict[str, Any] = json.loads((folder / "done.json").read_text(encoding="utf-8"))
    assert "stderr" not in found, found["stderr"]
    return {**found, "folder": folder}


def _look(folder: Path) -> None:
    written = looked_at()
    for name, text in written.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    job = {
        "browser": pdf.browser(),
        "pages": [
            {
                "name": name,
                "file": str(folder / f"{name}.html"),
                "looks": "all" if name in ALL_LOOKS else "light",
            }
            for name in written
        ],
        "widths": WIDTHS,
        "papers": ["A4", "Letter"],
        "shots": None,
    }
    (folder / "job.json").write_text(json.dumps(job), encoding="utf-8")
    command = ["node", str(HERE / "look.mjs"), str(folder / "job.json")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=280)
    told = done.stdout if done.returncode == 0 else json.dumps({"stderr": done.stderr[-2000:]})
    (folder / "done.new").write_text(told, encoding="utf-8")
    (folder / "done.new").rename(folder / "done.json")


def _wait_for(path: Path) -> None:
    for _ in range(600):
        if path.exists():
            return
        time.sleep(0.5)
    raise AssertionError("the other test worker did not look at the pages")


GOOD = [name for name in looked_at() if name != "faulty"]


@needs_browser
@pytest.mark.parametrize("name", GOOD)
def test_nothing_sticks_out_or_is_cut_on_phone_tablet_and_desk(seen: dict[str, Any], name: str) -> None:
    for width in WIDTHS:
        found = seen[name]["widths"][str(width)]
        assert found["scroll"] <= found["wide"], f"scrolls sideways at {width} px"
        assert not found["faults"], f"at {width} px"
        assert not found["small"], f"targets under 24 px at {width} px"


@needs_browser
@pytest.mark.parametrize("name", GOOD)
def test_no_barrier_by_axe_in_light_dark_ticked_and_print(seen: dict[str, Any], name: str) -> None:
    looks = ("light", "dark", "ticked", "print") if name in ALL_LOOKS else ("light",)
    assert seen[name]["axe"] == {look: [] for look in looks}


@needs_browser
@pytest.mark.parametrize("name", GOOD)
def test_the_page_asks_for_nothing_outside(seen: dict[str, Any], name: str) -> None:
    assert seen[name]["outside"] == []


@needs_browser
def test_the_checks_see_a_page_with_faults(seen: dict[str, Any]) -> None:
    faulty = seen["faulty"]
    at_phone = faulty["widths"]["360"]
    assert at_phone["scroll"] > at_phone["wide"]
    assert {"cut: cut off here", "outside its drawing: out", "numbers on one another: one and two"} <= set(
        at_phone["faults"]
    )
    assert at_phone["small"] == 1
    assert faulty["outside"]
    for look in ("light", "dark", "ticked", "print"):
        assert any(v.startswith("color-contrast") for v in faulty["axe"][look]), look
    assert any(v.startswith("target-size") or v.startswith("image-alt") for v in faulty["axe"]["light"])


def pages_of(folder: Path, name: str, paper: str) -> list[str]:
    return [page.extract_text() for page in PdfReader(folder / f"{name}.html.{paper}.pdf").pages]


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_bench_sheet_is_one_page_lying(seen: dict[str, Any], paper: str) -> None:
    for name in ("collage-sheet", "long-name-sheet"):
        (sheet,) = PdfReader(seen["folder"] / f"{name}.html.{paper}.pdf").pages
        assert sheet.mediabox.width > sheet.mediabox.height


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_bench_sheet_is_one_page_where_it_is_fullest(paper: str) -> None:
    """Of each size of type the piece with the most on it, in the widest font that may be met."""
    fullest: dict[str, tuple[int, Plan]] = {}
    for plan in [numbered(), *(real_plan(says) for says in CASES)]:
        made = page(plan, imperial=False)
        full = fullness(made.brief, made.bench.stops, made.bench.minutes)
        if made.bench.size not in fullest or full > fullest[made.bench.size][0]:
            fullest[made.bench.size] = (full, plan)
    assert set(fullest) >= {"large", "middle", "small", "fine"}
    for size, (_, plan) in fullest.items():
        data = pdf.printed(pages([plan], paper=paper, alone=True))
        assert len(PdfReader(io.BytesIO(data)).pages) == 1, (size, plan.name)


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_photograph_on_a_panel_is_four_pages_and_none_is_nearly_empty(paper: str) -> None:
    for plan in (on_a_panel("glossy photo paper, whole"), like("print on a panel, tight")):
        data = pdf.printed(pages([plan], paper=paper))
        sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(data)).pages]
        assert len(sheets) <= 4
        assert all(len(sheet) > 400 for sheet in sheets)


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("name", "like_name"), [("collage", "tissue collage"), ("unknown", "unknown paper")])
def test_no_step_or_trial_breaks_across_pages(seen: dict[str, Any], name: str, like_name: str, paper: str) -> None:
    def bare(text: str) -> str:
        return re.sub(r"\s", "", unicodedata.normalize("NFKC", text))  # fi and fl are one letter in a PDF

    sheets = [bare(sheet) for sheet in pages_of(seen["folder"], name, paper)]
    assert 2 <= len(sheets) <= 6
    brief = compose(like(like_name))
    for phase in brief.phases:
        for step in phase.steps:
            assert [s for s in sheets if bare(step.how) in s and bare(step.name) in s], step.name
            assert bare(step.done)[:-1] in sheets[0], step.name
    for trial in brief.trials:
        assert bare(trial.name) in sheets[0]
        assert all(bare(f.sees) in sheets[0] for f in trial.forks), trial.name


@needs_browser
def test_the_program_prints_a_pdf_by_itself_on_the_paper_asked_for() -> None:
    # ISO 216 A4 is 210 x 297 mm; ANSI/ASME Y14.1 A (Letter) is 8.5 x 11 in; a PDF point is 1/72 in (ISO
    # 32000-1, 8.3.2.3)
    for paper, height, width in (("A4", 210 / 25.4 * 72, 297 / 25.4 * 72), ("Letter", 8.5 * 72, 11 * 72)):
        made = PdfReader(io.BytesIO(pdf.printed(pages([tissue_collage()], paper=paper))))
        box = made.pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx((width, height), abs=1)
        assert "Gull over the pier" in made.pages[0].extract_text()


@needs_browser
def test_every_page_is_valid_by_html_validate(seen: dict[str, Any], tmp_path: Path) -> None:
    (tmp_path / "bad.html").write_text(FAULTY.replace("<h1>x</h1>", "<ul><p>x</p></ul><b id='a'></b><i id='a'></i>"))
    validate = [str(HERE / "node_modules" / ".bin" / "html-validate"), "--preset", "standard"]
    files = [str(seen["folder"] / f"{name}.html") for name in GOOD]
    good = subprocess.run([*validate, *files], capture_output=True, text=True, timeout=120)
    assert good.returncode == 0, good.stdout[-3000:]
    bad = subprocess.run([*validate, str(tmp_path / "bad.html")], capture_output=True, text=True, timeout=120)
    assert bad.returncode == 1


def test_without_a_browser_one_line_says_how_to_print(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(pdf.NoPdf) as told:
        pdf.printed("<p>x</p>")
    assert str(told.value) == pdf.HOW_TO_PRINT
    assert "print" in pdf.HOW_TO_PRINT
    assert "\n" not in pdf.HOW_TO_PRINT


@pytest.mark.parametrize(
    ("script", "says"),
    [("exit 1", "made no PDF"), ("sleep 30", "took longer"), ("echo no > brief.pdf", "made no PDF")],
)
def test_a_browser_that_fails_is_told_in_one_line(
    script: str, says: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    fake = tmp_path / "chromium"
    fake.write_text(f"#!/bin/sh\n{script}\n")
    fake.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    with pytest.raises(pdf.NoPdf, match=says) as told:
        pdf.printed("<p>x</p>", seconds=0.5 if "sleep" in script else 20)
    assert "\n" not in str(told.value)
