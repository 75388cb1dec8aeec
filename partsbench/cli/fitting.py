"""Sums of a piece: sizes, gaps, orphans, swaps, how it stands, and what is masked."""

from __future__ import annotations

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    book_options,
    good,
    in_book,
    json_option,
    say,
    say_done,
    say_json,
)
from partsbench.cli.telling import at, measures_of, own_habits, tell, tell_after, told_by
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import CUT_OF_WOOD, no_setting
from partsbench.core.sums import units
from partsbench.services.acts import returning
from partsbench.services.known.state import piece_state
from partsbench.services.sums import gap, masking, measure, orphan, standing
from partsbench.services.sums.gap import OwnFilm
from partsbench.services.sums.habits import KNOWN, set_habit


@click.command("setting")
@click.argument("name", default="")
@click.argument("value", default=None, required=False)
@json_option
@click.pass_context
def setting(ctx: click.Context, name: str, value: str | None, as_json: bool) -> int:
    """The shop's own figures for the sums, kept as typed; an empty value forgets one."""
    if name and value is not None:
        given = value
        return say_done(in_book(ctx, lambda shop: set_habit(shop, name, given)), as_json)
    wanted = name.lower().replace("-", " ")
    if wanted and wanted not in KNOWN:
        raise BadInputError(no_setting(name, KNOWN))
    own = own_habits(ctx)
    typed = own.typed
    rows = [h for h in KNOWN.values() if not wanted or h.name == wanted]
    means = {h.name: h.means(typed[h.name]) for h in rows if h.means and h.name in typed}
    if as_json:
        say_json([{"name": h.name, "value": typed.get(h.name), "about": h.about,
                   "means": means.get(h.name)} for h in rows])  # fmt: skip
        return OK
    for habit in rows:
        value = typed.get(habit.name) or "-"
        say(f"{habit.name:<12} {value:<12} {habit.about}, as in {habit.shown(own.measures)}")
        if habit.name in means:
            say(f"{'':<25} {means[habit.name]}")
    return OK


@click.command("measure")
@click.argument("tag")
@click.argument("part", default="")
@click.argument("what", default="")
@click.argument("size", default="")
@click.option("--forget", is_flag=True, help="Take this size back.")
@json_option
@click.pass_context
def take_size(
    ctx: click.Context, tag: str, part: str, what: str, size: str, forget: bool, as_json: bool
) -> int:
    """Note a size of a part or home as typed (`D5 width "23 1/2"`), or list the sizes taken."""
    shop, piece = at(ctx, tag)
    if not part and not what:
        return tell(measure.measured(shop, piece.tag), as_json)
    if not part or not what or not (size or forget):
        raise BadInputError("Say what was measured and how large: D5 width 598, H5 height 188.")
    return say_done(measure.measure(shop, piece.tag, part, what, "" if forget else size), as_json)


@click.command("wood")
@click.argument("tag")
@click.argument("wood")
@click.argument("parts", nargs=-1)
@click.option("--cut", default="mixed", help=CUT_OF_WOOD)
@json_option
@click.pass_context
def wood(
    ctx: click.Context, tag: str, wood: str, parts: tuple[str, ...], cut: str, as_json: bool
) -> int:
    """Say what parts, or the whole piece, are made of: a wood, a board (plywood, MDF,
    particleboard), “oak veneer on MDF”, or a wood with a coefficient of your own, “pear 0.0025”."""
    shop, piece = at(ctx, tag)
    return say_done(measure.set_wood(shop, piece.tag, parts, wood, cut), as_json)


@click.command("gap")
@click.argument("tag")
@click.argument("drawers", nargs=-1)
@click.option("--coats", type=click.IntRange(0, 50), help="Coats that leave a film.")
@click.option("--wet", default="", help="Wet film of one coat: “4 mil”, 100 µm.")
@click.option("--solids", default="", help="Solids by volume, %.")
@json_option
@click.pass_context
def will_it_fit(
    ctx: click.Context,
    tag: str,
    drawers: tuple[str, ...],
    coats: int | None,
    wet: str,
    solids: str,
    as_json: bool,
) -> int:
    """The gap left after the film, in the dry and in the damp month, and what to do."""
    shop, piece = at(ctx, tag)
    own = _own_film(coats, wet, solids, measures_of(shop))
    found = good(gap.forecast(shop, piece.tag, drawers, own))
    return tell(gap.tell_forecast(found), as_json)


def _own_film(coats: int | None, wet: str, solids: str, measures: units.Measures) -> OwnFilm | None:
    if coats is None and not wet and not solids:
        return None
    film = units.film(wet, measures, "wet film")
    share = units.percent(solids, "solids")
    if coats is None:
        raise BadInputError("With a film of your own: --coats, --wet and --solids.")
    if isinstance(film, Refused):
        raise BadInputError(film.sentence)
    if isinstance(share, Refused):
        raise BadInputError(share.sentence)
    return OwnFilm(coats, film.value, share.value)


@click.command("orphan")
@click.argument("tag")
@click.argument("name", default="")
@click.option("--width", default="", help="Width, both ends alike.")
@click.option("--top", default="", help="Width at the top.")
@click.option("--bottom", default="", help="Width at the bottom.")
@click.option("--height", default="", help="Height, both ends alike.")
@click.option("--left", default="", help="Height at the left.")
@click.option("--right", default="", help="Height at the right.")
@click.option("--depth", default="", help="Depth.")
@click.option("--mark", default="", help="Old marks on it, separated by commas.")
@click.option("--wear", default="", help="Wear to be seen, in words separated by commas.")
@click.option("--found", is_flag=True, help="It is no orphan any more.")
@json_option
@click.pass_context
def whose(
    ctx: click.Context,
    /,
    tag: str,
    name: str,
    mark: str,
    wear: str,
    found: bool,
    as_json: bool,
    **sizes: str,
) -> int:
    """Whose drawer is this: note one without a label, and ask for the home of each."""
    shop, piece = at(ctx, tag)
    done = None
    if not name and (found or mark or wear or any(sizes.values())):
        raise BadInputError("Say which orphan: a name, as in “the one with the burn”.")
    if name and found:
        return say_done(orphan.drop_orphan(shop, piece.tag, name), as_json)
    if name:
        done = orphan.note_orphan(shop, piece.tag, name, sizes, mark, wear)
    ask = told_by(orphan.tell_orphans, lambda: orphan.whose(shop, piece.tag))
    return tell_after(done, ask, as_json)


@click.command("swaps")
@click.argument("tag")
@json_option
@click.pass_context
def swaps(ctx: click.Context, tag: str, as_json: bool) -> int:
    """The fewest moves that bring swapped parts home, with one free place on the bench."""
    shop, piece = at(ctx, tag)
    state = piece_state(shop, piece)
    sentence = returning.moves_sentence(state)
    if as_json:
        moves = [
            {"part": m.part, "from": m.source if isinstance(m.source, int) else None,
             "to": m.target if isinstance(m.target, int) else None}
            for m in returning.moves_home(state)
        ]  # fmt: skip
        say_json({"sentence": sentence, "moves": moves})
    else:
        say(sentence)
    return OK


@click.command("mask-paper")
@click.argument("tag")
@json_option
@click.pass_context
def mask_paper(ctx: click.Context, tag: str, as_json: bool) -> int:
    """Tape and paper, and what each covered face and opening takes."""
    shop, piece = at(ctx, tag)
    return tell(masking.tell_mask_paper(good(masking.mask_paper(shop, piece.tag))), as_json)


@click.command("level")
@click.argument("tag")
@click.option("--rock-at", default="", help="The foot that stands free: “rear left”.")
@click.option("--rock", default="", help="The gap under it: 1.5 mm.")
@json_option
@click.pass_context
def level(ctx: click.Context, tag: str, rock_at: str, rock: str, as_json: bool) -> int:
    """Which foot wants which shim: from leg heights measured, or from the rock at one foot."""
    shop, piece = at(ctx, tag)
    found = good(standing.level(shop, piece.tag, rock_at, rock))
    return tell(standing.tell_level(found, measures_of(shop)), as_json)


@click.command("symmetry")
@click.argument("tag")
@click.argument("other", default="")
@click.option("--wanted", default="", metavar="FRONT", help="This front is meant to differ.")
@click.option("--unwanted", default="", metavar="FRONT", help="It is not meant to any more.")
@json_option
@click.pass_context
def symmetry(
    ctx: click.Context, tag: str, other: str, wanted: str, unwanted: str, as_json: bool
) -> int:
    """Where finish or pulls break the symmetry of a front, or of a pair."""
    shop, piece = at(ctx, tag)
    twin = at(ctx, other)[1].tag if other else ""
    done = None
    if wanted and unwanted:
        raise BadInputError("--wanted and --unwanted: say one at a time.")
    ask = told_by(standing.tell_pattern, lambda: standing.pattern(shop, piece.tag, twin))
    if wanted or unwanted:
        good(ask())  # All that was given is understood before anything is noted.
        done = standing.want_break(shop, piece.tag, wanted or unwanted, bool(wanted))
    return tell_after(done, ask, as_json)


@click.command("tip-over")
@click.argument("tag")
@click.option("--mass", help="Note what it weighs: 38 kg, 84 lb; empty: forget it.")
@json_option
@click.pass_context
def tip_over(ctx: click.Context, tag: str, mass: str | None, as_json: bool) -> int:
    """The three scope tests of the tip-over standard for a piece that is sold; advice."""
    shop, piece = at(ctx, tag)
    show = measures_of(shop)
    done = None if mass is None else standing.weigh(shop, piece.tag, mass)
    ask = told_by(
        lambda found: standing.tell_tip_over(found, show),
        lambda: standing.tip_over(shop, piece.tag),
    )
    return tell_after(done, ask, as_json)


COMMANDS = {
    c.name: book_options(c)
    for c in (
        setting, take_size, wood, will_it_fit, whose, swaps, mask_paper, level, symmetry, tip_over,
    )
}  # fmt: skip
