"""`shedbook rules`: the rule book, to read in a terminal or to write as pages."""

from pathlib import Path

import click

from shedbook.cli.rule_page import listing, page, pages
from shedbook.rules.rulebook import load_rulebook
from shedbook.words import load_words


@click.command()
@click.argument("rule_id", metavar="[RULE]", required=False)
@click.option(
    "--pages",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    help="Write all pages into this folder, and the list of sources beside it.",
)
def rules(rule_id: str | None, folder: Path | None) -> None:
    """List the rules, or show RULE with its numbers, source and caution."""
    words = load_words()
    if folder is not None:
        click.echo(f"Wrote {write_pages(folder)} pages.")
    elif rule_id is None:
        click.echo("\n".join(listing(words)))
    else:
        known = {rule["id"]: rule for rule in load_rulebook()["rules"]}
        if rule_id not in known:
            raise click.UsageError(f"There is no rule {rule_id}. List them by `shedbook rules`.")
        click.echo(page(known[rule_id], words), nl=False)


def write_pages(folder: Path) -> int:
    """Write every page, and take away those of rules that are no more; how many were written."""
    folder.mkdir(parents=True, exist_ok=True)
    made = pages()
    for old in folder.glob("*.md"):
        if old.name not in made:
            old.unlink()
    for name, text in made.items():
        (folder / name).write_text(text, encoding="utf-8")
    return len(made)
