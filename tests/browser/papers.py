"""What a browser prints: the words of each page, and how a page looks."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Literal

from PIL import Image
from playwright.sync_api import Page

Paper = Literal["A4", "Letter"]


def print_page(page: Page, folder: Path, paper: Paper | None = None) -> Path:
    """A PDF of the page as the browser's own dialog makes it; without a paper, its own size."""
    file = folder / "printed.pdf"
    if paper is None:
        page.pdf(path=file, prefer_css_page_size=True)
    else:
        page.pdf(path=file, format=paper)
    return file


def words_of(file: Path) -> list[str]:
    """The words of each page, in the order in which they are read."""
    asked = subprocess.run(["pdftotext", str(file), "-"], capture_output=True, check=True)
    # Each page ends in a form feed.
    pages = asked.stdout.decode().split("\f")[:-1]
    return [" ".join(page.split()) for page in pages]


def pictures_of(file: Path, dpi: int) -> list[Image.Image]:
    """Each page as it looks on paper, in grey."""
    subprocess.run(
        ["pdftoppm", "-gray", "-r", str(dpi), str(file), str(file.with_suffix(""))], check=True
    )
    return [Image.open(one).convert("L") for one in sorted(file.parent.glob("printed-*.pgm"))]
