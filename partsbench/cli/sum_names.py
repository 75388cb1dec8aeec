"""The commands of the sums, and the module of this package that holds each."""

from __future__ import annotations

_MODULES = {
    "small_sums": ("moisture", "movement", "coverage", "dew-point", "grit", "offer"),
    "fitting": (
        "setting", "measure", "wood", "gap", "orphan", "swaps", "mask-paper", "level", "symmetry",
        "tip-over",
    ),
    "hardware": (
        "census", "order", "allot", "pulls", "holes", "drill-sheet", "drill-check", "screw",
    ),
    "earning": (
        "mix", "mix-again", "tins", "use-tin", "money", "work", "hours", "ledger", "floor-price",
        "ceiling", "quote", "care-sheet",
    ),
}  # fmt: skip

SUMS = {name: module for module, names in _MODULES.items() for name in names}
