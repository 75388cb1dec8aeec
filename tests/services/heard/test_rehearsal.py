"""After a rehearsal the first real scan loads nothing more."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.support.shops import code, heron, shop_at

SCAN = """
import sys
from pathlib import Path
from partsbench.services.acts.bench import record
from partsbench.services.heard.session import Session
from partsbench.services.shop import open_shop
book, tag, label, how = sys.argv[1:]
if how == "rehearsed":
    from partsbench.services.heard.rehearsal import rehearse
    rehearse()
shop = open_shop(Path(book))
had = set(sys.modules)
Session(shop, tag).scan(label)
assert record(shop, label, here=tag, confirmed=True).recorded
print(*sorted(m for m in sys.modules if m not in had))
"""


def loaded_by_a_scan(folder: Path, how: str) -> list[str]:
    shop = shop_at(folder / f"{how}.partsbench")
    piece = heron(shop)
    shop.close()
    words = [str(folder / f"{how}.partsbench"), piece.tag, code(piece, "D1"), how]
    ran = subprocess.run(
        [sys.executable, "-c", SCAN, *words], check=True, capture_output=True, text=True
    )
    return ran.stdout.split()


def test_the_first_scan_after_it_loads_nothing(tmp_path: Path) -> None:
    assert loaded_by_a_scan(tmp_path, "rehearsed") == []
    assert loaded_by_a_scan(tmp_path, "cold") != []
