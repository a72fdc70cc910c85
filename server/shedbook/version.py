"""Which Shedbook this is."""

from importlib import metadata


def app_version() -> str:
    """The installed version; a checkout that only lies on the path has none."""
    try:
        return metadata.version("shedbook")
    except metadata.PackageNotFoundError:
        return "from a checkout"
