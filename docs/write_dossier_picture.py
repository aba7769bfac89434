"""Prints a dossier of the demo with a browser into docs/pictures: `python docs/write_dossier_picture.py`.

Needs `chromium`, `pdftoppm` (poppler) and `convert` (ImageMagick). The demo stands on the day of the other
pictures, so that this one changes only when the dossier does.
"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from logbook.cli.app import run
from logbook.demo import build
from logbook.record.file.practice_file import load_practice

from write_pictures import DAY, PICTURES  # isort: skip

DPI, COLOURS = 75, 56
WATCH, WISH = "Blue bezel", "new gaskets and a pressure test in water"


def main() -> None:
    """Both sheets side by side."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        record, page, printed = folder / "demo.logbook", folder / "page.html", folder / "page.pdf"
        build(record, DAY, load_practice())
        run(["dossier", WATCH, str(page), "--ask", WISH, "--file", str(record), "--today", DAY.isoformat()])
        paper = page.read_text(encoding="utf-8").replace("@page {", "@page { size: A4;", 1)
        page.write_text(paper, encoding="utf-8")
        browser = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
        _do([*browser, f"--print-to-pdf={printed}", str(page)])
        _do(["pdftoppm", "-r", str(DPI), "-png", str(printed), str(folder / "sheet")])
        sheets = [str(sheet) for sheet in sorted(folder.glob("sheet-*.png"))]
        framed = ["-bordercolor", "#7d8994", "-border", "1", "-bordercolor", "#ffffff", "-border", "6"]
        target = str(PICTURES / "dossier.png")
        _do(
            [
                "convert",
                *sheets,
                *framed,
                "+append",
                "-dither",
                "None",
                "-colors",
                str(COLOURS),
                "-strip",
                target,
            ]
        )


def _do(command: list[str]) -> None:
    subprocess.run(command, check=True, capture_output=True)


if __name__ == "__main__":
    main()
