"""Every kind of entry this version knows, by name: the one definition of what can be logged."""

from shedbook.log.kinds import book, care, harvest, health, photo, places, raising, weather
from shedbook.log.kinds.making import Details, Kind

_GROUPS = (places, raising, care, health, harvest, weather, book, photo)

KINDS: dict[str, Kind] = {kind.name: kind for group in _GROUPS for kind in group.KINDS}

__all__ = ["KINDS", "Details", "Kind"]
