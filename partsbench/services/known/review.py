"""What a finish path itself gets wrong, before anybody works by it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from partsbench import files, trade
from partsbench.core.finish.findings import Finding
from partsbench.core.finish.path import FinishPath, parse_paths
from partsbench.core.finish.review import review
from partsbench.core.outcomes import Refused
from partsbench.services.known import climate
from partsbench.services.shop import Shop, read_path

LARGEST_FILE = 500_000


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A path that was read, and what the rules found; `faults` when it could not be read."""

    path: FinishPath | None
    findings: tuple[Finding, ...] = ()
    faults: tuple[str, ...] = ()


def review_text(text: str, name: str = "") -> Reviewed:
    """Review the text of a path; every fault is told with its line."""
    read = read_path(text)
    if isinstance(read, tuple):
        return Reviewed(None, faults=tuple(f"{name}: {f}" if name else str(f) for f in read))
    return Reviewed(read, review(read, climate.products()))


def review_file(file: Path) -> Reviewed | Refused:
    """Review a path file; refused when it is no text file."""
    text = read_file(file)
    return text if isinstance(text, Refused) else review_text(text, str(file))


def read_file(file: Path) -> str | Refused:
    """The text of a path file."""
    return files.read_text(file, LARGEST_FILE)


def review_key(shop: Shop, key: str) -> Reviewed | Refused:
    """Review a path of the shop."""
    return _of(shop.paths, key)


def review_shipped(key: str) -> Reviewed | Refused:
    """Review a shipped path, without a book."""
    return _of(parse_paths(trade.load_paths()), key)


def _of(paths: Mapping[str, FinishPath], key: str) -> Reviewed | Refused:
    path = paths.get(key)
    if path is None:
        return Refused(f"There is no finish path “{key}”; there are {', '.join(paths)}.")
    return Reviewed(path, review(path, climate.products()))
