"""A brief as PDF, printed by a browser of the system if there is one. Nothing is fetched from anywhere."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
from pathlib import Path

BROWSERS = ("chromium", "chromium-browser", "chrome")
NAMED_BY = "BEFOREPOUR_BROWSER"  # the environment may name another of the same kind
HOW_TO_PRINT = (
    "No browser was found that could make a PDF. Write the brief as HTML instead, open it in any browser, "
    "and print it from there, to paper or to PDF. Or name a Chromium kind of browser in BEFOREPOUR_BROWSER."
)
_QUIET = (
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--no-pdf-header-footer",
)


class NoPdf(Exception):
    """No PDF could be made; the message is one line that says what to do instead."""


def browser() -> str | None:
    """The path of a browser that can print, or None."""
    names = (os.environ.get(NAMED_BY, ""), *BROWSERS)
    return next((found for name in names if name and (found := shutil.which(name))), None)


def printed(html: str, *, seconds: float = 90.0) -> bytes:
    """The page as PDF. The page itself names its paper (`rendering.pages(..., paper="A4")`). Raises NoPdf."""
    program = browser()
    if program is None:
        raise NoPdf(HOW_TO_PRINT)
    with tempfile.TemporaryDirectory(prefix="beforepour-", ignore_cleanup_errors=True) as folder:
        page, made = Path(folder, "brief.html"), Path(folder, "brief.pdf")
        page.write_text(html, encoding="utf-8")
        _run(
            [
                program,
                *_QUIET,
                *_as_root(),
                f"--user-data-dir={folder}/profile",
                f"--print-to-pdf={made}",
                page.as_uri(),
            ],
            folder,
            seconds,
        )
        data = made.read_bytes() if made.exists() else b""
    if not data.startswith(b"%PDF-"):
        raise NoPdf(f"The browser {Path(program).name} made no PDF. Open the brief as HTML and print it from there.")
    return data


def _as_root() -> list[str]:
    """A browser refuses to start its sandbox as root; the page is our own and holds no script."""
    return ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []


def _run(command: list[str], folder: str, seconds: float) -> None:
    """To its end, with all its helpers, in a folder of its own; what it chatters is not shown."""
    try:
        process = subprocess.Popen(
            command,
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as fault:
        raise NoPdf(f"The browser did not start ({fault.strerror}). Open the brief as HTML and print it.") from None
    try:
        process.wait(seconds)
    except subprocess.TimeoutExpired:
        raise NoPdf(f"The browser took longer than {seconds:g} seconds. Open the brief as HTML and print it.") from None
    finally:
        _end(process)


def _end(process: subprocess.Popen[bytes]) -> None:
    """Only the browser that was started here, and what it started."""
    if process.poll() is None:
        if hasattr(os, "killpg"):
            os.killpg(process.pid, signal.SIGKILL)
        else:
            process.kill()
        process.wait()
