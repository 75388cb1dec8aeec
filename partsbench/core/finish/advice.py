"""What is said once and then let pass: warnings and advice over a situation."""

from __future__ import annotations

from partsbench.core.finish.clocks import overstayed, standing_steps
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import EXPERIENCE, PRACTICE, TIN_RULE, Level
from partsbench.core.finish.grits import (
    COARSEST_LAST,
    FINEST_BEFORE_STAIN,
    GRIT_SOURCE,
    JUMP_SOURCE,
    is_jump,
)
from partsbench.core.finish.holds import JOURNAL, LEAD_RULE, SAY_WHEN, Rule
from partsbench.core.finish.loads import coats_on
from partsbench.core.finish.masks import in_doubt, overdue
from partsbench.core.finish.old_finish import Lead
from partsbench.core.finish.products import COATS, Ready
from partsbench.core.finish.situation import Situation
from partsbench.core.finish.steps import Operation, PathKind
from partsbench.core.sources import Source, Status

MOST_SAND_BACKS = 2
RECOAT_SOURCE = Source(
    "greenyplace.com, 'How long should oil-based polyurethane dry before second coat', and "
    "engineerfix.com, 'How long between coats of oil-based polyurethane', read 2026-11-28: within "
    "24 h without sanding",
    Status.TRADE_PRESS,
)
_SPRAYED = frozenset({Operation.COLOUR, Operation.TOPCOAT})
_DISTURBS = frozenset({Operation.STRIP, Operation.SCRAPE, Operation.SAND})


def clock_wrong(s: Situation) -> str:
    return s.clock


def too_fine_before_stain(s: Situation) -> str:
    last = s.last_sanding
    wood = s.step.operation in (Operation.STAIN, Operation.DYE) and not s.films
    if wood and last and (last.grit or 0) > FINEST_BEFORE_STAIN:
        return f"sanded to {last.grit}: over {FINEST_BEFORE_STAIN} the wood takes stain poorly"
    return ""


def last_grit(s: Situation) -> str:
    """The pages differ on where to stop before a stain; who sands hears both."""
    finest = s.path.kind is PathKind.STAIN and s.step.operation is Operation.SAND and not s.films
    if finest and COARSEST_LAST < (s.step.grit or 0) <= FINEST_BEFORE_STAIN:
        return f"{s.step.grit} is the rule; some stop at 150 to {COARSEST_LAST} for a deeper stain"
    return ""


def grit_jump(s: Situation) -> str:
    last = s.last_sanding
    if s.step.operation is not Operation.SAND or not last or s.films:
        return ""
    if is_jump(last.grit, s.step.grit):
        return f"from {last.grit} to {s.step.grit} skips too much: scratches will stay"
    return ""


def filler_under_stain(s: Situation) -> str:
    stains = s.path.kind is PathKind.STAIN
    if stains and s.step.operation is Operation.FILL and s.step.filler != "stainable":
        return "filler shows as a pale spot under stain"
    return ""


def bleeding(s: Situation) -> str:
    paints = s.step.operation is Operation.COLOUR and s.path.kind is PathKind.PAINT
    primed = any(f.operation in (Operation.PRIME, Operation.COLOUR) for f in s.films)
    if paints and s.facts.bleeds and not primed:
        return "old red-brown colour or tannin may bleed through: no barrier coat yet"
    return ""


def bare_and_not_asked(s: Situation) -> str:
    """Paint on a face without a barrier of which nobody has said whether it bleeds."""
    paints = s.step.operation is Operation.COLOUR and s.path.kind is PathKind.PAINT
    if paints and not s.films and not s.facts.bleeds_said:
        return (
            "nobody has said whether it may bleed: bare red-brown wood and old red-brown colour "
            "want a barrier coat first"
        )
    return ""


def wiped_late(s: Situation) -> str:
    """What to look for before anything is built on a stain that stood too long."""
    under = s.films[-1] if s.films else None
    if under is None or under.operation is not Operation.WIPE or s.step.operation not in COATS:
        return ""
    late = overstayed(s.at, s.shop)
    if late is None:
        return ""
    return (
        f"the stain was wiped off {say_duration(late)} late: is it sticky or lapped anywhere? "
        "Then sand back and stain again"
    )


def recoat_window_over(s: Situation) -> str:
    """The class of the coat below, or its tin, ends the time for another coat without sanding;
    where the path ends it too and says what mends that, the path holds it."""
    steps = [step for _, step in standing_steps(s.at)]
    bare_film = bool(s.films) and steps[-1] is s.films[-1]
    held = s.window.closes is not None and s.window.missed is not None
    answer = s.ready(Ready.RECOAT)
    if s.step.operation not in COATS or not bare_film or held or answer.until is None:
        return ""
    if s.now <= answer.until:
        return ""
    first = answer.missed or "its tin says what must come first"
    ago = say_duration(s.now - answer.until)
    return f"the time for another coat over {s.films[-1].name} ended {ago} ago: {first}"


def waxed_shellac(s: Situation) -> str:
    """A water film holds on shellac that has no wax in it."""
    product, under = s.product, s.films[-1] if s.films else None
    below = s.shop.products.get(under.product) if under else None
    if product and below and product.film == "water" and below.film == "shellac":
        return "was that shellac dewaxed? A water film may not hold on wax; scuff it at the least"
    return ""


def touch_up_on_a_seal(s: Situation) -> str:
    sealed = any(f.operation is Operation.SEAL for f in s.films)
    oil = s.product is not None and s.product.film == "oil"
    if s.step.operation is Operation.TOUCH_UP and sealed and oil:
        return (
            "over the seal coat stain lies on top and does not sink in: dab it on thin, and leave "
            "it longer; it rubs off until it is coated"
        )
    return ""


def silicone(s: Situation) -> str:
    coated = any(f.operation in COATS for f in s.films)
    if s.step.operation in COATS and s.facts.silicone and not coated and not s.facts.tested_patch:
        return "silicone polish was used on it: no barrier coat and no test patch yet"
    return ""


def brush_or_reverse(s: Situation) -> str:
    """A stain that is too young for tape leaves two ways to a clean line; the shop says which."""
    too_young = s.step.operation is Operation.MASK and s.films and s.window.is_early(s.now)
    if not too_young:
        return ""
    return (
        "brush line or reverse mask? Until tape holds on it, tape the other side instead once that "
        "film bears it, or say that no mask is needed and end the paint at a brush line"
    )


def other_part_uncovered(s: Situation) -> str:
    if not s.maybe_beside:
        return ""
    return (
        f"{', '.join(map(str, s.maybe_beside))} may be in place beside it: take it out, or cover it"
    )


def thick_first(s: Situation) -> str:
    same = any(f.operation is s.step.operation for f in s.films)
    thick = s.step.thickness == "full" and s.step.operation in _SPRAYED
    if thick and s.facts.upright and not same:
        return "the first coat on an upright face is best thin, or it runs"
    return ""


def old_finish_not_said(s: Situation) -> str:
    """From the first step on: a test takes days where a laboratory does it."""
    if s.facts.old.lead is not Lead.NOT_SAID or s.coated:
        return ""
    return (
        "nobody has said what is on it now; old finish may hold lead: ask and test before it "
        "is stripped or sanded"
    )


def lead_in_it(s: Situation) -> str:
    """Work on a finish that holds lead, or may: also wet and by chemistry, and under new film."""
    if s.facts.old.cleared or s.step.operation not in _DISTURBS:
        return ""
    if s.coated:
        found = s.facts.old.lead is Lead.FOUND
        return "lead was found under this film: do not sand through" if found else ""
    return (
        "what comes off may hold lead: gather it wet; local rules and licensed practice come first"
    )


def thinned_too_far(s: Situation) -> str:
    cup, tin = s.mixes.cup, s.tin
    if cup and tin and tin.thin_most is not None and cup.thinned > tin.thin_most:
        return f"thinned {cup.thinned:g} %, the tin allows {tin.thin_most:g} %"
    return ""


def unstrained(s: Situation) -> str:
    cup = s.mixes.cup
    if cup and not cup.strained and s.step.operation in COATS:
        return f"cup {cup.key} was not strained"
    return ""


def second_lot(s: Situation) -> str:
    cup, row = s.mixes.cup, s.mixes.row
    if cup and row and any(other.lots != cup.lots for other in row):
        return "another lot or mix was used on this visible row: the colour may step"
    return ""


def tint_changed(s: Situation) -> str:
    cup, before = s.mixes.cup, s.mixes.before
    tints = {c.tint for c in before if c.tinted}
    if cup and cup.tinted and tints and cup.tint not in tints:
        return f"{cup.tint:g} % tint now, {', '.join(f'{t:g}' for t in sorted(tints))} % before"
    return ""


def sheen_changed(s: Situation) -> str:
    cup, others = s.mixes.cup, (*s.mixes.before, *s.mixes.row)
    sheens = {c.sheen for c in others if c.sheen}
    if cup and cup.sheen and sheens and cup.sheen not in sheens:
        return f"{cup.sheen} now, {', '.join(sorted(sheens))} before"
    return ""


def thin_veneer(s: Situation) -> str:
    bare = s.step.operation is Operation.SAND and not s.films
    if bare and s.facts.veneer and s.facts.sand_backs >= MOST_SAND_BACKS:
        return (
            f"veneer that was sanded back {s.facts.sand_backs} times: tone it or paint it instead"
        )
    return ""


def old_tape(s: Situation) -> str:
    late, doubted = overdue(s.masks, s.now), in_doubt(s.masks)
    if doubted:
        return f"how long the tape is on is not known: {doubted[0].doubt}. {SAY_WHEN}"
    if not late or late[0].off_by is None:
        return ""
    return f"the tape is {say_duration(s.now - late[0].off_by)} over its rating"


def straggles(s: Situation) -> str:
    if s.step.operation is not Operation.TOPCOAT or not s.siblings:
        return ""
    coats = coats_on(s.at)
    most = max(s.siblings)
    return f"it has {coats} coats, a sibling {most}: level them first" if coats < most else ""


def rags(s: Situation) -> str:
    return s.rags.say if s.rags else ""


def wet_on_bare(s: Situation) -> str:
    if s.step.operation is Operation.SAND and s.wet and not s.films:
        return "wet sanding swells bare wood and loosens filler"
    return ""


def dust_on_tacky(s: Situation) -> str:
    if s.step.operation is not Operation.SAND or s.room is None:
        return ""
    tacky = {face: until for face, until in s.room.tacky.items() if until > s.now}
    if not tacky:
        return ""
    wait = say_duration(max(tacky.values()) - s.now)
    return f"{', '.join(sorted(tacky))} in this room: tacky for another {wait}"


def pot_life(s: Situation) -> str:
    cup = s.mixes.cup
    if cup and cup.pot_life and cup.doubt:
        return f"how old cup {cup.key} is, is not known: {cup.doubt}. {SAY_WHEN}"
    if cup and cup.is_over(s.now):
        return f"cup {cup.key} is over its pot life"
    return ""


def test_patch(s: Situation) -> str:
    first = s.step.operation is Operation.COLOUR and not s.films
    if first and s.neighbours and not s.facts.tested_patch:
        return "try tape and colour on a hidden patch before the full spray"
    return ""


def one_mix(s: Situation) -> str:
    first = s.step.operation is Operation.COLOUR and not s.films
    return "stir one large mix for the whole job" if first and not s.mixes.row else ""


def repairs_first(s: Situation) -> str:
    first = s.step.operation in COATS and not s.films
    return "runner and fit repairs come before finish" if first and s.facts.repairs_open else ""


def too_soon_for(s: Situation, ready: Ready) -> str:
    """For fitting pulls (HANDLE) and closing drawers (TOUCH), which are no steps of a path."""
    answer = s.ready(ready)
    if answer.at is None or s.now >= answer.at:
        return ""
    return f"{answer.because}: {say_duration(answer.at - s.now)} more"


WARNINGS = (
    Rule("clock", Level.WARN, JOURNAL, clock_wrong),
    Rule("old finish not said", Level.WARN, LEAD_RULE, old_finish_not_said),
    Rule("lead in the old finish", Level.WARN, LEAD_RULE, lead_in_it),
    Rule("too fine before stain", Level.WARN, GRIT_SOURCE, too_fine_before_stain),
    Rule("grit jump", Level.WARN, JUMP_SOURCE, grit_jump),
    Rule("filler under stain", Level.WARN, PRACTICE, filler_under_stain),
    Rule("may bleed", Level.WARN, PRACTICE, bleeding),
    Rule("bleeding not said", Level.WARN, PRACTICE, bare_and_not_asked),
    Rule("wiped late", Level.WARN, PRACTICE, wiped_late),
    Rule("recoat window over", Level.WARN, RECOAT_SOURCE, recoat_window_over),
    Rule("shellac under a water film", Level.WARN, PRACTICE, waxed_shellac),
    Rule("touch-up over a seal coat", Level.WARN, PRACTICE, touch_up_on_a_seal),
    Rule("silicone", Level.WARN, EXPERIENCE, silicone),
    Rule("other part not covered", Level.WARN, PRACTICE, other_part_uncovered),
    Rule("thick coat first", Level.WARN, PRACTICE, thick_first),
    Rule("thinned too far", Level.WARN, TIN_RULE, thinned_too_far),
    Rule("not strained", Level.WARN, PRACTICE, unstrained),
    Rule("second lot in a row", Level.WARN, PRACTICE, second_lot),
    Rule("tint changed", Level.WARN, PRACTICE, tint_changed),
    Rule("sheen changed", Level.WARN, PRACTICE, sheen_changed),
    Rule("veneer sanded back", Level.WARN, EXPERIENCE, thin_veneer),
    Rule("tape over its rating", Level.WARN, TIN_RULE, old_tape),
    Rule("straggler", Level.WARN, PRACTICE, straggles),
    Rule("rags not answered", Level.WARN, PRACTICE, rags),
    Rule("wet sanding on bare wood", Level.WARN, PRACTICE, wet_on_bare),
    Rule("dust on tacky faces", Level.WARN, PRACTICE, dust_on_tacky),
    Rule("over its pot life", Level.WARN, TIN_RULE, pot_life),
    Rule("last grit before stain", Level.ADVISE, GRIT_SOURCE, last_grit),
    Rule("test patch", Level.ADVISE, PRACTICE, test_patch),
    Rule("brush line or reverse mask", Level.ADVISE, PRACTICE, brush_or_reverse),
    Rule("one mix", Level.ADVISE, PRACTICE, one_mix),
    Rule("repairs first", Level.ADVISE, PRACTICE, repairs_first),
)


def _handle(s: Situation) -> str:
    return too_soon_for(s, Ready.HANDLE)


def _touch(s: Situation) -> str:
    return too_soon_for(s, Ready.TOUCH)


HANDLING = (Rule("handled before its time", Level.WARN, EXPERIENCE, _handle),)
FITTING_PULLS = (Rule("pulls before handling time", Level.WARN, EXPERIENCE, _handle),)
CLOSING_DRAWERS = (Rule("closed before touching time", Level.WARN, EXPERIENCE, _touch),)
