"""Invented codenames to offer: birds, trees and plain things, short to say and to letter."""

from __future__ import annotations

from collections.abc import Iterable

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
    numbers = ("", *(f" {n}" for n in range(2, 1000)))
    names = (f"{name}{number}" for number in numbers for name in NAMES)
    return next((name for name in names if name.casefold() not in used), NAMES[0])
