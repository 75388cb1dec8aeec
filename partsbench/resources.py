"""Where the files that travel with the program are: in an installed wheel and in a clone."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_ASSETS = ("_assets", "assets")
_SAMPLES = ("_sample_projects", "sample_projects")
_NOT_A_SAMPLE = {"", ".md", ".txt"}


def asset(name: str) -> Path:
    """The file `name` (with its folder, "fonts/…") under assets; FileNotFoundError if not there."""
    return _found(_folder(*_ASSETS), name)


def sample(name: str) -> Path:
    """The sample project called `name`, with or without its ending; FileNotFoundError if none."""
    folder = _folder(*_SAMPLES)
    for path in samples():
        if name in (path.name, path.stem):
            return path
    return _found(folder, name)


def samples() -> list[Path]:
    """Every sample project, by name."""
    entries = _folder(*_SAMPLES).iterdir()
    return sorted(e for e in entries if e.is_file() and e.suffix not in _NOT_A_SAMPLE)


def _folder(installed: str, cloned: str) -> Path:
    """A wheel carries the folder inside the package, a clone beside it."""
    inside = _PACKAGE / installed
    return inside if inside.is_dir() else _PACKAGE.parent / cloned


def _found(folder: Path, name: str) -> Path:
    path = folder / name
    if not path.is_file():
        raise FileNotFoundError(f"{name} is not in {folder}")
    return path
