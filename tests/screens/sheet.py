"""The contact sheet: one row a screen, one column a language and size."""

import html
from pathlib import Path

STYLE = """
body { font: 16px sans-serif; margin: 1rem; background: #ddd }
table { border-collapse: collapse }
th { text-align: left; padding: .5rem; vertical-align: top }
td { padding: .5rem; vertical-align: top }
img { max-width: 24rem; max-height: 40rem; border: 1px solid #888 }
"""


def write_sheet(folder: Path) -> Path:
    """A page over all pictures that lie in the folder, those of an earlier run too."""
    sets = sorted(path for path in folder.glob("*/*") if path.is_dir())
    names = sorted({file.stem for one in sets for file in one.glob("*.png")})
    heads = "".join(f"<th>{html.escape(str(one.relative_to(folder)))}" for one in sets)
    rows = "".join(
        f"<tr><th>{html.escape(name)}" + "".join(_cell(folder, one, name) for one in sets)
        for name in names
    )
    sheet = folder / "index.html"
    sheet.write_text(
        f"<!doctype html><meta charset=utf-8><title>Screens</title><style>{STYLE}</style>"
        f"<table><tr><th>{heads}{rows}</table>",
        encoding="utf-8",
    )
    return sheet


def _cell(folder: Path, one: Path, name: str) -> str:
    file = one / f"{name}.png"
    if not file.exists():
        return "<td>–"
    address = html.escape(file.relative_to(folder).as_posix())
    alt = html.escape(name)
    return f'<td><a href="{address}"><img src="{address}" loading="lazy" alt="{alt}"></a>'
