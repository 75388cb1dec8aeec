"""Invented codenames to offer: birds, trees and plain things, short to say and to letter."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

NAMES = (
    "Alder", "Finch", "Bramble", "Cedar", "Dunlin", "Elder", "Flint", "Gannet", "Hazel", "Iris",
    "Juniper", "Kestrel", "Linden", "Magpie", "Nettle", "Osprey", "Plover", "Quince", "Rowan",
    "Siskin", "Teasel", "Umber", "Vetch", "Willow", "Yarrow", "Aspen", "Bittern", "Clover",
    "Drake", "Egret", "Fern", "Grouse", "Hawthorn", "Ivy", "Jackdaw", "Knapweed", "Lapwing",
    "Maple", "Nuthatch", "Oriole", "Pintail", "Quail", "Redpoll", "Sorrel", "Thistle", "Upland",
    "Verbena", "Wagtail", "Yew", "Avocet", "Birch", "Curlew", "Dove", "Ember", "Fieldfare",
    "Gorse", "Hornbeam", "Kingcup", "Lark", "Marten",
)  # fmt: skip


def free_codename(taken: Iterable[str]) -> str:
    """The first name that no job of the book bears; a number is put behind when all are taken."""
    used = {name.casefold() for name in taken}
    numbered = (f"{name} {number}" for number in range(2, 1000) for name in NAMES)
    free = (name for name in chain(NAMES, numbered) if name.casefold() not in used)
    return next(free, NAMES[0])
