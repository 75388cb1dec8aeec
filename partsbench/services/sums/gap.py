"""Will it still fit: the play of each drawer after its film, in the dry and in the damp month."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

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
from partsbench.core.sums.fit import Edge, Ends, Fit, Measured, Paint, Season, fit
from partsbench.core.sums.paths import PathFilm, path_film, stated_film
from partsbench.core.sums.refusal import Refusal
from partsbench.core.sums.wood import Cut
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import Ground, drawers, ground
from partsbench.services.sums.told import Told, once, said
from partsbench.store import figures
from partsbench.store.figures import Size


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
    of: Mapping[str, Fit | Refusal]
    films: Mapping[str, PathFilm]
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
    def sentence(self) -> str:
        """`These 3 will be tight: D1, D3, D5.` One drawer alone says all of its own answer."""
        if not self.fits:
            return "No drawer has its sizes taken, so no gap can be foretold."
        if len(self.of) == 1:
            short, found = next(iter(self.fits.items()))
            return f"{short}: {said(found, self.measures)}{self._unknown}"
        count = f"{len(self.fits)} drawer{'' if len(self.fits) == 1 else 's'}"
        if not self.tight:
            seasons = all(one.swell_mm is not None for one in self.fits.values())
            damp = ", in the damp month too" if seasons else ""
            return f"{count} measured: each still fits after its coats{damp}.{self._unknown}"
        named = ", ".join(self.tight)
        return f"Of {count} measured, {len(self.tight)} will be tight: {named}.{self._unknown}"

    @property
    def _unknown(self) -> str:
        """What the films leave out, as the answer is better than it may be without it."""
        if not any(film.lacks for film in self.films.values()):
            return ""
        return " Coats whose film is not known are left out of this."


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
    if isinstance(stated, Refusal):
        return Refused(stated.sentence)
    woods = figures.woods(shop.book, on.key)
    months = _months(on)
    film_of = _films(shop)
    found: dict[str, Fit | Refusal] = {}
    films: dict[str, PathFilm] = {}
    for part in wanted:
        sizes = _measured(on, part)
        if sizes == Measured() and not only:
            continue
        film, paint = _paint(film_of, on.piece, part, stated)
        films[part.short] = film
        season = _season(on, woods, part, months)
        found[part.short] = (
            season if isinstance(season, Refusal) else fit(sizes, paint, shipped.play(), season)
        )
    seasons = [f for f in found.values() if isinstance(f, Fit) and f.swell_mm is not None]
    words = _season_words(on) if seasons else ((), ())
    return Forecast(on.measures, found, films, *words)


def tell_forecast(found: Forecast) -> Told:
    """One row for each drawer: gaps now, dry, damp, and what to do."""
    show = found.measures
    rows: list[tuple[str, ...]] = []
    for short, one in found.of.items():
        if isinstance(one, Refusal):
            rows.append((short, "", "", "", "", "", "", one.sentence))
            continue
        gaps = (one.now.side, one.damp.side, one.now.top, one.dry.top, one.damp.top)
        cells = [("" if mm is None else units.show_gap(mm, show)) for mm in gaps]
        film = units.show_gap(one.film_side_mm, show)
        rows.append((short, cells[0], film, *cells[1:], _advice(one, show)))
    answers = list(found.fits.values())
    return Told(
        found.sentence,
        ("drawer", "side now", "film a side", "side after", "top now", "top dry", "top damp", "do"),
        tuple(rows),
        once(*(x for f in answers for x in f.lacks),
             *(x for f in found.films.values() for x in f.lacks),
             *_unmeasured(found), *found.season_lacks),
        once(*(x for f in answers for x in f.sources),
             *(x for f in found.films.values() for x in f.sources), *found.season_sources),
        next((f.caution for f in answers if f.caution), ""),
        data={"drawers": {short: _data(one) for short, one in found.of.items()}},
    )  # fmt: skip


def _unmeasured(found: Forecast) -> list[str]:
    """What to measure where no answer could be given."""
    if not found.of:
        return ["width and height of a drawer and of its opening"]
    return [
        f"the same size of {short} and of its opening"
        for short, one in found.of.items()
        if isinstance(one, Refusal) and one.what == "sizes"
    ]


def _data(found: Fit | Refusal) -> dict[str, object]:
    if isinstance(found, Refusal):
        return {"refused": found.sentence}
    gaps = {"now": found.now, "dry": found.dry, "damp": found.damp}
    return {
        "fits": found.fits,
        **{name: {"side_mm": g.side, "top_mm": g.top} for name, g in gaps.items()},
        "film_side_mm": found.film_side_mm,
        "film_top_mm": found.film_top_mm,
        "swell_mm": found.swell_mm,
        "advice": [{"do": a.remedy.value, "where": a.where, "mm": a.mm} for a in found.advice],
        "lacks": list(found.lacks),
    }


def _advice(found: Fit, measures: units.Measures) -> str:
    """`plane 0.5 mm off the top, leave the sides bare`; `fits` when nothing is to do."""
    done = []
    for advice in found.advice:
        where = "the sides" if advice.where == "side" else "the top"
        words = {
            "wax": f"wax {where}",
            "leave bare": f"leave {where} bare",
            "plane": f"plane {units.show_gap(advice.mm, measures)} off {where}",
        }
        done.append(words[advice.remedy.value])
    return ", ".join(done) or "fits"


def _wanted(piece: Piece, only: Sequence[str]) -> list[Part] | Refused:
    every = drawers(piece)
    known = {p.short: p for p in every}
    missing = [name for name in only if name.upper() not in known]
    if missing:
        return Refused(f"{piece.codename} has no drawer “{missing[0]}” in an opening.")
    return [known[name.upper()] for name in only] if only else every


def _measured(on: Ground, part: Part) -> Measured:
    opening, drawer = on.of_opening(part.home.number), on.of(part)
    return Measured(
        _ends(opening, TOP_WIDTH, BOTTOM_WIDTH),
        _ends(drawer, TOP_WIDTH, BOTTOM_WIDTH),
        _ends(opening, LEFT_HEIGHT, RIGHT_HEIGHT),
        _ends(drawer, LEFT_HEIGHT, RIGHT_HEIGHT),
    )


def _ends(own: Mapping[str, Size], one: str, other: str) -> Ends | None:
    """Both ends; one end alone stands for both."""
    known = [own[name].mm for name in (one, other) if name in own]
    return Ends(known[0], known[-1]) if known else None


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
) -> tuple[PathFilm, Paint]:
    """The thicker of the films of drawer front and rails, on the edges that get any."""
    edges = {edge: part.face(f"{edge.value} edge") for edge in Edge}
    films = {edge: film_of(face.path) for edge, face in edges.items() if face and face.finished}
    carcase = next((p for p in piece.present if p.family is Family.CARCASE), None)
    rails = carcase.face("rails") if carcase else None
    of_rails = film_of(rails.path) if rails else None
    coated = frozenset(edge for edge, film in films.items() if film.coats or film.lacks)
    opening = frozenset(Edge) if of_rails and (of_rails.coats or of_rails.lacks) else frozenset()
    both = [*films.values(), *([of_rails] if of_rails and opening else [])]
    thickest = max(both, key=_thickness, default=PathFilm(0, 0, (), ()))
    film = stated or replace(thickest, lacks=once(*(x for film in both for x in film.lacks)))
    if stated and not both:
        coated, opening = frozenset(Edge), frozenset(Edge)
    return film, Paint(film.mm, coated, opening)


def _thickness(film: PathFilm) -> float:
    return film.dry_um


def _months(on: Ground) -> tuple[float, float, float]:
    """Moisture of wood, %: while measuring, in the dry and in the damp month."""
    now, dry, damp = (on.habits.air(name) for name in ("air now", "dry month", "damp month"))
    low, high = shipped.season_span()
    return (
        now.percent if now else shipped.start_moisture().value,
        dry.percent if dry else low.value,
        damp.percent if damp else high.value,
    )


def _season(
    on: Ground,
    woods: Mapping[tuple[str, int], tuple[str, str]],
    part: Part,
    months: tuple[float, float, float],
) -> Season | Refusal | None:
    """The drawer's wood, else the piece's; None while nobody has said what it is made of."""
    carcase = next((p for p in on.piece.present if p.family is Family.CARCASE), part)
    said_wood = woods.get((part.family.value, part.number)) or woods.get(
        (carcase.family.value, carcase.number)
    )
    if said_wood is None:
        return None
    wood = shipped.woods().get(said_wood[0])
    if wood is None or said_wood[1] not in set(Cut):
        return Refusal("wood", f"{said_wood[0]} is not in the table")
    return Season(wood, Cut(said_wood[1]), *months)


def _season_words(on: Ground) -> tuple[tuple[str, ...], tuple[str, ...]]:
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
