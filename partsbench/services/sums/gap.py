"""Will it still fit: the play of each drawer after its film, in the dry and in the damp month."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import (
    BOTTOM_WIDTH,
    LEFT_HEIGHT,
    RIGHT_HEIGHT,
    TOP_WIDTH,
)
from partsbench.core.sums import units
from partsbench.core.sums.fit import Fit, Paint, Season, fit
from partsbench.core.sums.fit_advice import Edge
from partsbench.core.sums.fit_measured import Ends, Measured
from partsbench.core.sums.paths import PathFilm, path_film, stated_film
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.wood import Cut, Wood, find_wood
from partsbench.core.wording import listed, notes, plural, sentences
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import SumGround, drawers, ground
from partsbench.services.sums.told import Told, once
from partsbench.store import figures
from partsbench.store.figures import TypedSize

UNMEASURED = "sizes"
"""What a refusal is about where sizes are missing; all others tell of sizes that cannot be."""


@dataclass(frozen=True, slots=True)
class OwnFilm:
    """Figures of one's own for the film: coats, wet film in µm, volume solids in %."""

    coats: int
    wet_um: float
    solids: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """The forecast of each drawer; a refusal where sizes are missing or cannot be."""

    measures: units.Measures
    of: Mapping[str, Fit | Refused]
    films: Mapping[str, tuple[PathFilm, ...]]
    season_lacks: tuple[str, ...]
    season_sources: tuple[str, ...]

    @property
    def fits(self) -> dict[str, Fit]:
        """The drawers that an answer was found for."""
        return {short: found for short, found in self.of.items() if isinstance(found, Fit)}

    @property
    def tight(self) -> tuple[str, ...]:
        """The drawers that want something done before the paint goes on."""
        return tuple(short for short, found in self.fits.items() if not found.fits)

    @property
    def wrong(self) -> dict[str, Refused]:
        """The drawers whose measures cannot be, by what is wrong with them."""
        return {
            short: found
            for short, found in self.of.items()
            if isinstance(found, Refused) and found.about != UNMEASURED
        }

    @property
    def sentence(self) -> str:
        """`Of 5 drawers measured, 3 will be tight: D1, D3, D5.` One alone says all of its own."""
        said = " ".join(filter(None, (self._of_fits, self._of_wrong, self._unknown)))
        return said or "No drawer has its sizes taken, so no gap can be foretold."

    @property
    def _of_fits(self) -> str:
        if not self.fits:
            return ""
        if len(self.of) == 1:
            short, found = next(iter(self.fits.items()))
            return f"{short}: {found.say(self.measures)}"
        many = len(self.fits)
        count = plural(many, "1 drawer", f"{many} drawers")
        if self.tight:
            named = ", ".join(self.tight)
            return f"Of {count} measured, {len(self.tight)} will be tight: {named}."
        seasons = all(one.swell_mm is not None for one in self.fits.values())
        damp = "in the damp month too" if seasons else ""
        fits = f"{notes(f'{count} measured: each still fits after its coats', damp)}."
        return sentences(fits, *self._halves)

    @property
    def _halves(self) -> tuple[str, ...]:
        """What was measured of one way only, as nothing is said of the other."""
        found = self.fits.items()
        high = [short for short, one in found if one.now.side is None]
        wide = [short for short, one in found if one.now.top is None]
        return (
            f"Nothing is known of the width of {listed(high)}." if high else "",
            f"Nothing is known of the height of {listed(wide)}." if wide else "",
        )

    @property
    def _of_wrong(self) -> str:
        return " ".join(f"{short} {why.say(self.measures)}" for short, why in self.wrong.items())

    @property
    def _unknown(self) -> str:
        """What the films leave out, as the answer is better than it may be without it."""
        films = [film for of_one in self.films.values() for film in of_one]
        if not self.fits or not any(film.lacks for film in films):
            return ""
        return "Coats whose film is not known are left out of this."


def forecast(
    shop: Shop, tag: str, only: Sequence[str] = (), own: OwnFilm | None = None
) -> Forecast | Refused:
    """The play of every measured drawer, or of those named in `only`."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    wanted = _wanted(on.piece, only)
    if isinstance(wanted, Refused):
        return wanted
    stated = stated_film(own.coats, own.wet_um, own.solids) if own else None
    if isinstance(stated, Refused):
        return stated.told_in(on.measures)
    woods = figures.woods(shop.book, on.key)
    months = _months(on)
    film_of = _films(shop)
    found: dict[str, Fit | Refused] = {}
    films: dict[str, tuple[PathFilm, ...]] = {}
    for part in wanted:
        sizes = _measured(on, part)
        if sizes == Measured() and not only:
            continue
        films[part.short], paint = _paint(film_of, on.piece, part, stated)
        season = _season(on, woods, part, months)
        found[part.short] = (
            season if isinstance(season, Refused) else fit(sizes, paint, shipped.play(), season)
        )
    seasons = [f for f in found.values() if isinstance(f, Fit) and f.swell_mm is not None]
    words = _season_words(on) if seasons else ((), ())
    return Forecast(on.measures, found, films, *words)


def tell_forecast(found: Forecast) -> Told:
    """One row for each drawer: gaps now, dry, damp, and what to do."""
    show = found.measures
    rows: list[tuple[str, ...]] = []
    for short, one in found.of.items():
        if isinstance(one, Refused):
            rows.append((short, "", "", "", "", "", "", one.say(show)))
            continue
        gaps = (one.now.side, one.least.side, one.now.top, one.dry.top, one.damp.top)
        cells = [("" if mm is None else units.show_gap(mm, show)) for mm in gaps]
        film = units.show_film(one.film_side_mm, show)
        todo = ", ".join(advice.say(show) for advice in one.advice) or _fits(one)
        rows.append((short, cells[0], film, *cells[1:], todo))
    answers = list(found.fits.values())
    return Told(
        found.sentence,
        ("drawer", "side now", "film a side", "side after", "top now", "top dry", "top damp", "do"),
        tuple(rows),
        once(*(x for f in answers for x in f.lacks),
             *(x for films in found.films.values() for f in films for x in f.lacks),
             *_unmeasured(found), *found.season_lacks),
        once(*(x for f in answers for x in f.sources),
             *(x for films in found.films.values() for f in films for x in f.sources),
             *found.season_sources),
        next((f.caution for f in answers if f.caution), ""),
        data={"drawers": {short: _data(one, show) for short, one in found.of.items()}},
        measures=show,
    )  # fmt: skip


def _unmeasured(found: Forecast) -> list[str]:
    """What to measure where no answer could be given."""
    if not found.of:
        return ["width and height of a drawer and of its opening"]
    return [
        f"the same size of {short} and of its opening"
        for short, one in found.of.items()
        if isinstance(one, Refused) and one.about == UNMEASURED
    ]


def _data(found: Fit | Refused, measures: units.Measures) -> dict[str, object]:
    if isinstance(found, Refused):
        return {"refused": found.say(measures)}
    gaps = {"now": found.now, "dry": found.dry, "damp": found.damp, "least": found.least}
    return {
        "fits": found.fits,
        **{name: {"side_mm": g.side, "top_mm": g.top} for name, g in gaps.items()},
        "film_side_mm": found.film_side_mm,
        "film_top_mm": found.film_top_mm,
        "swell_mm": found.swell_mm,
        "swell_side_mm": found.swell_side_mm,
        "advice": [
            {"do": a.remedy.value, "where": a.where, "mm": a.mm, "edges": [*a.edges]}
            for a in found.advice
        ],
        "lacks": list(found.lacks),
    }


def _fits(found: Fit) -> str:
    """What is said of a drawer that wants nothing done: as far as it was measured."""
    if found.now.side is None:
        return "fits in its height"
    return "fits in its width" if found.now.top is None else "fits"


def _wanted(piece: Piece, only: Sequence[str]) -> list[Part] | Refused:
    every = drawers(piece)
    known = {p.short: p for p in every}
    missing = [name for name in only if name.upper() not in known]
    if missing:
        return Refused(f"{piece.codename} has no drawer “{missing[0]}” in an opening.")
    return [known[name.upper()] for name in only] if only else every


def _measured(on: SumGround, part: Part) -> Measured:
    opening, drawer = on.of_opening(part.home.number), on.of(part)
    return Measured(
        _ends(opening, TOP_WIDTH, BOTTOM_WIDTH),
        _ends(drawer, TOP_WIDTH, BOTTOM_WIDTH),
        _ends(opening, LEFT_HEIGHT, RIGHT_HEIGHT),
        _ends(drawer, LEFT_HEIGHT, RIGHT_HEIGHT),
    )


def _ends(own: Mapping[str, TypedSize], one: str, other: str) -> Ends | None:
    found = [own[name].mm if name in own else None for name in (one, other)]
    return None if found == [None, None] else Ends(*found)


def _films(shop: Shop) -> Callable[[str], PathFilm]:
    """The film of a finish path by its key, each worked out once."""
    known: dict[str, PathFilm] = {}

    def film_of(path: str) -> PathFilm:
        if path not in known:
            known[path] = path_film(shop.path(path), shipped.coats())
        return known[path]

    return film_of


def _paint(
    film_of: Callable[[str], PathFilm], piece: Piece, part: Part, stated: PathFilm | None
) -> tuple[tuple[PathFilm, ...], Paint]:
    """The film of each edge by its own path; one that was stated, on each edge that gets any."""
    faces = {edge: part.face(f"{edge.value} edge") for edge in Edge}
    own = {edge: film_of(face.path) for edge, face in faces.items() if face and face.finished}
    carcase = next((p for p in piece.present if p.family is Family.CARCASE), None)
    rails = carcase.face("rails") if carcase else None
    around = dict.fromkeys(Edge, film_of(rails.path)) if rails else {}
    drawer, opening = _coated(own), _coated(around)
    if stated and not drawer and not opening:
        drawer = opening = dict.fromkeys(Edge, stated)
    elif stated:
        drawer, opening = dict.fromkeys(drawer, stated), dict.fromkeys(opening, stated)
    films = dict.fromkeys((*drawer.values(), *opening.values()))
    return tuple(films), Paint(_mm(drawer), _mm(opening))


def _coated(films: Mapping[Edge, PathFilm]) -> dict[Edge, PathFilm]:
    """The edges that get a film, also one that nothing is known of."""
    return {edge: film for edge, film in films.items() if film.coats or film.lacks}


def _mm(films: Mapping[Edge, PathFilm]) -> dict[Edge, float]:
    return {edge: film.mm for edge, film in films.items()}


def _months(on: SumGround) -> tuple[float, float, float]:
    """Moisture of wood, %: while measuring, in the dry and in the damp month."""
    now, dry, damp = (on.habits.air(name) for name in ("air now", "dry month", "damp month"))
    low, high = shipped.season_span()
    return (
        now.percent if now else shipped.start_moisture().value,
        dry.percent if dry else low.value,
        damp.percent if damp else high.value,
    )


def _season(
    on: SumGround,
    woods: Mapping[tuple[str, int], tuple[str, str]],
    part: Part,
    months: tuple[float, float, float],
) -> Season | Refused | None:
    """The drawer's wood, else the piece's; None while nobody has said what it is made of."""
    carcase = next((p for p in on.piece.present if p.family is Family.CARCASE), None)
    case = woods.get((carcase.family.value, carcase.number)) if carcase else None
    said_wood = woods.get((part.family.value, part.number)) or case
    if said_wood is None:
        return None
    wood, around = _wood(said_wood), _wood(case) if case else None
    if isinstance(wood, Refused):
        return wood
    if isinstance(around, Refused):
        return around
    return Season(wood, Cut(said_wood[1]), *months, around)


def _wood(said_wood: tuple[str, str]) -> Wood | Refused:
    """What was noted, looked up again: a book from elsewhere may have any words in it."""
    if said_wood[1] not in set(Cut):
        return wrong("cut", f"“{said_wood[1]}” is none of {', '.join(Cut)}")
    return find_wood(shipped.woods(), said_wood[0])


def _season_words(on: SumGround) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is missing of the airs, and where the figures used instead come from."""
    low, high = shipped.season_span()
    instead = {
        "air now": shipped.start_moisture(),
        "dry month": low,
        "damp month": high,
    }
    missing = [name for name in instead if on.habits.air(name) is None]
    lacks = tuple(f"the {name}: temperature and humidity" for name in missing)
    return lacks, once(*(f"{instead[n].value:g} %: {instead[n].cited}" for n in missing))
