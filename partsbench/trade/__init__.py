"""Data, not code: finish paths, product classes, cautions (TOML), each figure with its source."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

_HERE = files(__name__)


def load(name: str) -> dict[str, Any]:
    """The table `name` (ending optional) that lies beside this file; FileNotFoundError if none."""
    stem = name.removesuffix(".toml")
    return tomllib.loads((_HERE / f"{stem}.toml").read_text(encoding="utf-8"))


def load_paths() -> dict[str, dict[str, Any]]:
    """Every shipped finish path as it stands in its file, by the file's name."""
    return {name: tomllib.loads(text) for name, text in path_texts().items()}


def path_texts() -> dict[str, str]:
    """The text of every shipped finish path, to copy and edit."""
    found = [entry for entry in (_HERE / "paths").iterdir() if entry.name.endswith(".toml")]
    return {
        entry.name.removesuffix(".toml"): entry.read_text(encoding="utf-8")
        for entry in sorted(found, key=str)
    }
