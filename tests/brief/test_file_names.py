"""File names from piece names. What is forbidden is as the platforms' own documents have it:
"Naming Files, Paths, and Namespaces" (Microsoft), POSIX.1-2017 section 3.170 (filename), and 255 bytes a name
as ext4, APFS and NTFS allow at the most.
"""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from interview.brief.file_names import safe

DEVICES = [
    "CON",
    "PRN",
    "AUX",
    "NUL",
    "COM1",
    "COM9",
    "COM0",
    "LPT1",
    "LPT9",
    "COM\u00b9",
    "LPT\u00b3",
    "CONIN$",
    "CONOUT$",
]


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Gull over the pier", "Gull-over-the-pier"),
        ("Gull: over / the pier?", "Gull-over-the-pier"),
        ("Anna's tide table", "Annas-tide-table"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\temp\\x", "C-temp-x"),
        ("-rf", "rf"),
        (".hidden", "hidden"),
        ("NUL", "NUL-piece"),
        ("aux", "aux-piece"),
        ("con.html", "con-html"),
        ("", "piece"),
        ("???", "piece"),
        ("\U0001f600\U0001f41a", "piece"),
        ("gull \U0001f600 2", "gull-2"),
        ("\u202eexe.fdp", "exe-fdp"),
        ("\u05e1\u05d9\u05e8\u05d4", "\u05e1\u05d9\u05e8\u05d4"),
        ("caf\u00e9", "caf\u00e9"),
        ("cafe\u0301", "caf\u00e9"),
        ("\uff21\uff22", "AB"),
        ("a\x00b\x1b[31mc", "abc"),
        ("tab\tand\nline", "tab-and-line"),
    ],
)
def test_names_a_person_types(typed: str, name: str) -> None:
    assert safe(typed) == name


@given(st.text(max_size=400))
@example("\u0301")
@example("-\u0301a")
@example("\U0001f468\u200d\U0001f469\u200d\U0001f467")
@example("\u1e9e" * 100)
@example("\ufdfa" * 80)
@example("con\u200b")
def test_any_name_is_safe_anywhere(typed: str) -> None:
    name = safe(typed)
    assert name
    assert len(name.encode("utf-8")) + len("-12.steps.csv") <= 255
    assert not set(name) & set('<>:"/\\|?*\0')
    assert not any(unicodedata.category(c)[0] in "CZ" for c in name)
    assert not name.startswith((".", "-", " ", "~"))
    assert not name.endswith((".", " ", "-"))
    assert name.casefold() not in {d.casefold() for d in DEVICES}
    assert safe(name) == name


@pytest.mark.parametrize("device", DEVICES)
def test_no_device_of_any_spelling(device: str) -> None:
    for typed in (device, device.lower(), f" {device}.", f"{device}:", f"{device[0]}\u200b{device[1:]}"):
        folded = unicodedata.normalize("NFKC", safe(typed)).casefold()
        assert folded.partition(".")[0] not in {unicodedata.normalize("NFKC", d).casefold() for d in DEVICES}
