"""As of when the shed knows what it tells, and whose entries may still be on their way."""

import click

from shedbook.cli.opening import ChosenGarden
from shedbook.records.models import db
from shedbook.records.notebooks import present_devices
from shedbook.words import Words, compose

DAY_MS = 86_400_000


def print_known(garden: ChosenGarden, words: Words, now_ms: int) -> None:
    """When this was known, and every device that was silent for a day or has entries missing."""

    def say(key: str, **values: object) -> str:
        return compose(words, f"terminal.{key}", values, zone=garden.zone)

    click.echo("\n" + say("known", known_instant=now_ms // 1000))
    for device in present_devices(db.session(), garden.id):
        if device.heard_at_ms is None:
            click.echo("  " + say("never", name=device.name))
        elif now_ms - device.heard_at_ms > DAY_MS:
            heard = device.heard_at_ms // 1000
            click.echo("  " + say("silent", name=device.name, heard_instant=heard))
        if device.waiting or device.missing:
            count = device.waiting + device.missing
            click.echo("  " + say("behind", name=device.name, count=count))
