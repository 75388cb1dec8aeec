"""The shop's own figures as fields: each has the example that its setting has."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.sums.asked.description import SumEntry, SumField, Values
from partsbench.services.sums.habits import KNOWN, habits, set_habit, understood
from partsbench.services.sums.shipped import transfers


def setting(name: str, label: str, choices: tuple[str, ...] = ()) -> SumField:
    """The field of one setting."""
    return SumField(name, label, KNOWN[name].example, choices=choices, us=KNOWN[name].us)


def settings(title: str, *fields: SumField) -> SumEntry:
    """Settings that are kept together."""
    return SumEntry(title, fields, note_habits, lambda shop: habits(shop).typed)


def note_habits(shop: Shop, _: str, values: Values) -> Done | Refused:
    """Keep those of the shop's own figures that were changed."""
    own = habits(shop)
    changed = {name: text for name, text in values.items() if text != own.typed.get(name, "")}
    for name, text in changed.items():  # All is understood before anything is kept.
        found = understood(name, text, own.measures)
        if isinstance(found, Refused):
            return found
    done: Done | Refused = Refused("Nothing was changed.")
    for name, text in changed.items():
        done = set_habit(shop, name, text)
        if isinstance(done, Refused):
            return done
    return done


TOOL = setting("tool", "Put on with", ("", *transfers()))
