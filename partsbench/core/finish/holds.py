"""What is refused until insisted upon: rules over a situation, each with its name and source.

A rule is a small function that answers with a reason, or with "" when it has nothing to say.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from partsbench.core.finish.clocks import films_on, said_source
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import EXPERIENCE, PRACTICE, TIN_RULE, Finding, Level
from partsbench.core.finish.masks import MASKED_FOR, MaskState
from partsbench.core.finish.old_finish import Lead
from partsbench.core.finish.own_readiness import BEFORE, last_try
from partsbench.core.finish.products import COATS, readiness_for
from partsbench.core.finish.situation import Room, Situation
from partsbench.core.finish.steps import Operation
from partsbench.core.sources import Source, Status
from partsbench.core.sums.shown import show_limit
from partsbench.core.wording import or_list

DEW_SPREAD_C = 3.0
MOST_HUMID = 85.0
LEAST_WATER_BORNE_C = 10.0
LEAST_OIL_C = 4.0

Check = Callable[[Situation], str]

LEAD_RULE = Source(
    "a test record or another way of working; local rules and licensed practice come first",
    Status.COMMON_PRACTICE,
)
LIMITS = Source(
    "the tin; where it says nothing: Wood Handbook, USDA Forest Products Laboratory, "
    "FPL-GTR-190 (2010), chapter 16 (10 and 4 °C); 3 °C over the dew point and 85 %: rules for "
    "steel (ISO 8502-4, ISO 12944-7) as trade pages tell them, borrowed for wood",
    Status.READ_IN_A_COPY,
)
AWAY_RULE = "away"
OLD_FINISH_RULE = "old finish not answered"
LATE_RULE = "window closed"
EARLY_RULE = "not dry yet"
WATER_OVER_OIL_RULE = "water over oil too soon"
TAPE_RULE = "tape too soon"
TAPE_SET_RULE = "tape not to come off yet"
DOUBT_RULE = "time in doubt"
SAY_WHEN = "Say what time it was: “What time was it…” in the window, or what-time"
WRONG_CUP = "wrong cup"
OTHER_SIDE = "the other side first"
SAME_WAIT = frozenset({WATER_OVER_OIL_RULE, TAPE_RULE})
"""The wait of EARLY_RULE, told by its danger: the two are one hold."""

BEFORE_STRIP = "Test it before the stripper takes it off, or say that it is worked by chemistry"
_DISTURBS = frozenset({Operation.SAND, Operation.SCRAPE, Operation.STRIP})
_TINT_COUNTS = frozenset({Operation.TOPCOAT, Operation.CLEAR, Operation.SEAL})
"""Clear products, which tint turns into something else; a body paint is coloured anyhow."""

_NOT_CLEARED = {
    Lead.FOUND: "lead was found in the old finish of this face",
    Lead.UNKNOWN: "it is not known whether the old finish of this face holds lead",
    Lead.NOT_SAID: "nobody has said what is on this face: bare, newer than your local rules name, "
    "or tested",
}
YOUR_WORD = Source("the day that you noted", Status.OWN)
JOURNAL = Source("the order of the records in this book", Status.OWN)
TRIED = Source("your own try of this film", Status.OWN)
WATER_OVER_OIL = Source(
    "engineerfix.com, 'How Long After I Stain Can I Polyurethane?', read 2026-11-28: 24 to 48 h; "
    "catwood.netlify.app, read before 2026-11: 24 to 72 h; longer when cold or damp",
    Status.TRADE_PRESS,
)


@dataclass(frozen=True, slots=True)
class Rule:
    """A named rule: how grave, where it comes from, and the check itself."""

    name: str
    level: Level
    source: Source
    check: Check


def findings(situation: Situation, rules: Sequence[Rule]) -> tuple[Finding, ...]:
    """What the rules have to say, in the order of the rules; one wait is said once."""
    found = [
        Finding(rule.level, rule.name, reason, rule.source, situation.step.key)
        for rule in rules
        if (reason := rule.check(situation))
    ]
    twice = {EARLY_RULE} if any(f.rule in SAME_WAIT for f in found) else set()
    return tuple(f for f in found if f.rule not in twice)


def time_in_doubt(s: Situation) -> str:
    """A wait that counts from a time which the computer's clock told wrong, or may have."""
    doubts = {name: why for w in (*s.tape.values(), s.window) for name, why in w.doubts.items()}
    said = [f"{name}: {why}" for name, why in doubts.items()]
    return f"{', '.join(said)}. {SAY_WHEN}" if said else ""


def too_early(s: Situation) -> str:
    opens = s.window.opens
    if opens is None or opens.doubt or not s.window.is_early(s.now):
        return ""
    return f"{opens.wait.why_not_yet()}: {said_source(opens.source)}"


def _early(s: Situation) -> bool:
    opens = s.window.opens
    return opens is not None and not opens.doubt and s.window.is_early(s.now)


def water_over_oil(s: Situation) -> str:
    """The same wait told by its danger: a water-borne film over an oil one that is still drying."""
    product, under = s.product, s.films[-1] if s.films else None
    below = s.shop.products.get(under.product) if under else None
    if not (product and below and under and _early(s)):
        return ""
    if s.step.operation in COATS and product.film == "water" and below.film == "oil":
        return f"{s.step.name} is a water film and {under.name} is oil that is still drying"
    return ""


def mask_on_stain(s: Situation) -> str:
    if s.step.operation is Operation.MASK and s.films and _early(s):
        return f"tape on {s.films[-1].name} now would lift it"
    return ""


def window_closed(s: Situation) -> str:
    window = s.window
    closes, missed = window.closes, window.missed
    if closes is None or closes.doubt or missed is None or not window.is_late(s.now):
        return ""
    if missed.step == s.step.key:
        return ""
    return f"{closes.wait.why_no_longer()}. {missed.say}"


def old_finish(s: Situation) -> str:
    """Dry sanding, dry scraping and the stripper wait until it is known what is on the face.

    The stripper as well: what it takes off can no longer be tested. A face under new film of ours
    is not asked about again.
    """
    if s.step.operation not in _DISTURBS or s.facts.old.cleared or s.coated:
        return ""
    if s.step.operation is Operation.STRIP:
        return "" if s.facts.old.chemical else f"{_NOT_CLEARED[s.facts.old.lead]}. {BEFORE_STRIP}"
    if s.wet or (s.step.operation is Operation.SCRAPE and s.stripped and s.facts.old.chemical):
        return ""
    return _dry(s)


def _dry(s: Situation) -> str:
    old = s.facts.old
    if old.lead is Lead.FOUND:
        return f"{_NOT_CLEARED[old.lead]}: never dry, also after stripping"
    if old.wet:
        return "it is to be worked wet: say that it is done wet"
    if old.chemical and not s.stripped:
        return "it is to be worked by chemistry, and no stripper was on it"
    if s.stripped:
        return f"{_NOT_CLEARED[old.lead]}, and stripper leaves residue: test the bare wood, or wet"
    return _NOT_CLEARED[old.lead]


def wrong_cup(s: Situation) -> str:
    """What is in the gun against what the step takes: its class of product, and its tint."""
    cup, step = s.mixes.cup, s.step
    if cup is None or step.operation not in COATS:
        return ""
    takes = tuple(_name(s, key) for key in step.products)
    if not cup.product:
        return f"nobody said what cup {cup.key} ({cup.name}) holds; {step.name} takes {_or(takes)}"
    if takes and cup.product not in step.products:
        holds = _name(s, cup.product)
        return f"cup {cup.key} ({cup.name}) holds {holds}; {step.name} takes {_or(takes)}"
    if step.operation in _TINT_COUNTS and cup.tinted and not step.tinted:
        return f"cup {cup.key} ({cup.name}) holds tint; {step.name} takes {_or(takes)} without tint"
    if step.operation in _TINT_COUNTS and step.tinted and not cup.tinted:
        return f"cup {cup.key} ({cup.name}) holds no tint; {step.name} takes it tinted"
    return ""


def _or(names: Sequence[str]) -> str:
    return or_list(names) or "none of it"


def neighbour_mask(s: Situation) -> str:
    if s.step.operation not in MASKED_FOR:
        return ""
    open_ = [face for face, state in s.neighbours.items() if state is MaskState.UNKNOWN]
    if not open_:
        return ""
    why = f"it is not known whether {', '.join(map(str, open_))} is masked"
    ends = s.step.operation is Operation.CLEAR
    return f"{why}: reverse mask there, or a brush line that needs none?" if ends else why


def unmask_too_soon(s: Situation) -> str:
    if s.step.operation is not Operation.UNMASK:
        return ""
    return "; ".join(s.masked_for)


def tape_set(s: Situation) -> str:
    """Tape comes off when the film that it was put on for has set, whichever side says so."""
    opens = s.tape_opens
    if opens is None or opens[1].doubt or s.now >= opens[1].at:
        return ""
    face, bound = opens
    return f"{face}: {bound.wait.why_not_yet()}"


def limits(s: Situation) -> str:
    """Room and surface against the tin, or the published limits where the tin is silent."""
    room = s.room
    if room is None or s.step.operation not in COATS:
        return ""
    return "; ".join(_outside(s))


def _outside(s: Situation) -> list[str]:
    room, tin, product = s.room, s.tin, s.product
    if room is None:
        return []
    usual = LEAST_WATER_BORNE_C if product and product.water_borne else LEAST_OIL_C
    least = tin.least_c if tin and tin.least_c is not None else usual
    humid = tin.most_humidity if tin and tin.most_humidity is not None else MOST_HUMID
    spread = tin.over_dew_c if tin and tin.over_dew_c is not None else DEW_SPREAD_C
    surface = room.temperature_c if room.surface_c is None else room.surface_c
    air = _warm(room.temperature_c, room)
    found = []
    if room.temperature_c < least:
        found.append(f"{air} is under the {_warm(least, room)} it needs")
    if tin and tin.most_c is not None and room.temperature_c > tin.most_c:
        found.append(f"{air} is over the {_warm(tin.most_c, room)} it bears")
    if room.humidity > humid:
        found.append(f"{room.humidity:g} % humidity is over {humid:g} %")
    if surface < room.dew_point_c + spread:
        least_c = round(room.dew_point_c + spread, 1)
        found.append(f"the surface must be over {_warm(least_c, room)}, clear of dew")
    return found


def _warm(celsius: float, room: Room) -> str:
    return show_limit(celsius, "°C", room.measures)


def layers(s: Situation) -> str:
    """The tins' own lists of what goes over and under what."""
    tin, under = s.tin, next((f for f in reversed(s.films) if f.product), None)
    if under is None or s.step.operation not in COATS or not s.step.product:
        return ""
    if tin and tin.over and under.product not in tin.over:
        return f"the tin of {tin.name} does not name {_name(s, under.product)} as a ground"
    below = s.shop.tin(under)
    if below and below.under and s.step.product not in below.under:
        return f"the tin of {below.name} does not name {_name(s, s.step.product)} as a coat over it"
    return ""


def _name(s: Situation, product: str) -> str:
    known = s.shop.products.get(product)
    return known.name if known else product


def open_loop(s: Situation) -> str:
    ends = s.step.operation
    coming = {Operation.SCRAPE, *(loop.ends for loop in s.loops)}
    held = [loop for loop in s.loops if loop.holds and ends not in coming]
    works = s.step.operation in COATS or s.step.operation is Operation.SAND
    return held[0].say if held and works else ""


def tried_not_ready(s: Situation) -> str:
    """What was tried last on this very film and was not ready, whatever the figures say."""
    ready = readiness_for(s.step.operation) if s.tries else None
    films = films_on(s.at)
    if ready is None or not films:
        return ""
    mark, film = films[-1]
    tried = last_try(s.tries, ready, film.product, mark.at)
    if tried is None or tried.is_ready:
        return ""
    length = say_duration(tried.at - tried.film_at)
    return f"tried {length} after {film.name}, not ready {BEFORE[ready]}: try it again first"


def away(s: Situation) -> str:
    if s.away is None or s.now >= s.away:
        return ""
    return "its part is at an outside workshop; say when it is back"


TAPE_OFF = (
    Rule("masked-for coat to come", Level.HOLD, PRACTICE, unmask_too_soon),
    Rule(TAPE_SET_RULE, Level.HOLD, EXPERIENCE, tape_set),
)
"""What holds tape on, wherever its taking off is recorded."""

HOLDS = (
    Rule(OLD_FINISH_RULE, Level.HOLD, LEAD_RULE, old_finish),
    Rule(WRONG_CUP, Level.HOLD, PRACTICE, wrong_cup),
    Rule("outside the limits", Level.HOLD, LIMITS, limits),
    Rule("layers do not go together", Level.HOLD, TIN_RULE, layers),
    Rule("open loop", Level.HOLD, PRACTICE, open_loop),
    *TAPE_OFF,
    Rule("neighbour's mask not known", Level.HOLD, PRACTICE, neighbour_mask),
    Rule(DOUBT_RULE, Level.HOLD, JOURNAL, time_in_doubt),
    Rule(LATE_RULE, Level.HOLD, PRACTICE, window_closed),
    Rule(WATER_OVER_OIL_RULE, Level.HOLD, WATER_OVER_OIL, water_over_oil),
    Rule(TAPE_RULE, Level.HOLD, EXPERIENCE, mask_on_stain),
    Rule(EARLY_RULE, Level.HOLD, PRACTICE, too_early),
    Rule("tried, not ready", Level.HOLD, TRIED, tried_not_ready),
    Rule(AWAY_RULE, Level.HOLD, YOUR_WORD, away),
)
"""The gravest first: what harms people, then what spoils the finish, then what only waits."""
