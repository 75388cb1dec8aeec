"""What was acknowledged is in the book, however its writer ended."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROUNDS = 200
ROOT = Path(__file__).parents[2]


@pytest.mark.long
@pytest.mark.skipif(not hasattr(os, "fork"), reason="the killed writer is forked")
def test_a_writer_killed_two_hundred_times_loses_nothing_acknowledged(path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "tests.support.killed_writer", str(path), str(ROUNDS), "20260314"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        timeout=300,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout)
    assert told["rounds"] == ROUNDS
    assert told["acknowledged"] > ROUNDS
    assert told["kept"] >= told["acknowledged"]
    assert told["faults"] == []
