"""Findings as a terminal shows them: plain lines, the state in words and never by colour alone."""

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

import click

from shedbook.cli.rule_page import citation
from shedbook.words import Words, format_value

Finding = Mapping[str, Any]
Names = Mapping[str, str]

_FIGURES = "noted"


def print_findings(
    findings: Sequence[Finding],
    names: Names,
    words: Words,
    heading: str,
    asked_for: Sequence[str] = (),
) -> None:
    """One block for each state, in the order given; mere figures only where they are asked for."""
    click.echo(heading)
    figures = [one for one in findings if one["state"] == _FIGURES]
    if _FIGURES not in asked_for:
        findings = [one for one in findings if one["state"] != _FIGURES]
    if not findings:
        click.echo("\nNothing to tell.")
    for state, group in groupby(findings, key=lambda one: one["state"]):
        told = list(group)
        click.echo(f"\n{click.style(_state_word(words, state).upper(), bold=True)} ({len(told)})")
        for one in told:
            click.echo(f"  {_place(one, names, words)}: {one['text']['title']}")
            click.echo(f"    {one['text']['message']}")
            click.echo(click.style(f"    {one['key']}", dim=True))
    if figures and _FIGURES not in asked_for:
        click.echo(f"\n{len(figures)} figures with nothing due: --state {_FIGURES} shows them.")


def print_reasons(finding: Finding, names: Names, words: Words) -> None:
    """One finding with its arithmetic, its source and its caution."""
    text = finding["text"]
    click.echo(f"{_place(finding, names, words)}: {text['title']}")
    click.echo(f"{_state_word(words, finding['state']).capitalize()}. {text['message']}")
    for reason in text["reasons"]:
        click.echo(f"  - {reason}")
    click.echo(f"Source: {citation(text['source'])}")
    if text["caution"]:
        click.echo(f"Mind: {text['caution']}")
    click.echo(f"Key: {finding['key']}")
    if finding["entries"]:
        click.echo(f"Entries: {', '.join(finding['entries'])}")


def _place(finding: Finding, names: Names, words: Words) -> str:
    subject = finding["subject"]
    parts = [names[subject[slot]] for slot in ("bed", "planting") if subject.get(slot) in names]
    if "plants" in subject:
        parts.append(format_value(words, "plants", subject["plants"], names, "UTC"))
    return ", ".join(parts) or finding["key"]


def _state_word(words: Words, state: str) -> str:
    return words.get(f"state.{state}", state)
