"""A few of each kind in every run; `python -m tests.bench.mishaps --count 10000` does the rest."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


EACH = 6


@pytest.mark.long
@pytest.mark.skipif(not hasattr(os, "fork"), reason="mishaps are forked")
def test_nothing_that_shops_do_to_files_is_missed() -> None:
    run = subprocess.run(
        [sys.executable, "-m", "tests.bench.mishaps", "--count", str(EACH)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=280,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    kinds = [line.split() for line in run.stdout.splitlines()[1:] if line]
    assert [k[0] for k in kinds] == ["flips", "cuts", "rows", "waits", "mixes", "fills", "feeds"]
    assert [int(k[1]) for k in kinds] == [EACH] * 7
