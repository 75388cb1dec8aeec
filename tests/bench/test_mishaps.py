"""A few of each kind in every run; `python -m tests.bench.mishaps --count 10000` does the rest."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.long
@pytest.mark.skipif(not hasattr(os, "fork"), reason="mishaps are forked")
@pytest.mark.parametrize(
    ("kind", "count"),
    [("flips", 60), ("cuts", 20), ("waits", 15), ("mixes", 6), ("fills", 4), ("feeds", 16)],
)
def test_nothing_that_shops_do_to_files_is_missed(kind: str, count: int) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "tests.bench.mishaps", "--kind", kind, "--count", str(count)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=280,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    tried = int(run.stdout.splitlines()[1].split()[1])
    assert tried == count
