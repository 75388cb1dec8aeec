"""The commands of the finish paths, and the module of this package that holds each."""

from __future__ import annotations

FINISH = {
    "clock": "clocks",
    "day": "clocks",
    "review": "own_paths",
    "copy-path": "own_paths",
    "keep-path": "own_paths",
    "load": "spray",
    "cup": "spray",
    "mask": "masking",
    "tried": "trying",
    "fact": "shop_floor",
    "old-finish": "old_finish",
    "tin": "shop_floor",
    "air": "shop_floor",
    "rags": "shop_floor",
    "power-cut": "shop_floor",
    "person": "shop_floor",
    "rack": "shop_floor",
    "verbs": "wall",
    "day-sheet": "wall",
}
