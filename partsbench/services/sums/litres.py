"""How much to mix for the faces on a finish path: each of its products by itself, by load."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from partsbench.core.finish.steps import Step
from partsbench.core.key_words import choice_word
from partsbench.core.naming import few
from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import FaceArea, areas
from partsbench.core.said_often import no_finish_path
from partsbench.core.sums import units
from partsbench.core.sums.film import Transfer
from partsbench.core.sums.litres import CoatKind, Layer, Litres, ProductMix, product_mix, show_range
from partsbench.core.sums.mix import Rate, Surface, film_rate, wiped_rate
from partsbench.core.sums.paths import coat_steps
from partsbench.core.sums.refusal import amount, wrong
from partsbench.services.known.climate import products
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.told import Told, once, told_of

USUAL_CUP_ML = 600.0
USUAL_TOOL = "hvlp"


@dataclass(frozen=True, slots=True)
class Laid:
    """How one product goes on: what a coat takes, where that is from, what would tell it better.

    `rate` is None where nothing is known of it; `wet_um` is set where it leaves a film.
    """

    rate: Rate | None = None
    wet_um: float | None = None
    sources: tuple[str, ...] = ()
    lack: str = ""


@dataclass(frozen=True, slots=True)
class Mixing:
    """What one path's faces take of each product, and where the figures come from."""

    path: str
    litres: Litres
    laid: Mapping[CoatKind, Laid]
    tool: Transfer
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    measures: units.Measures


def to_mix(
    shop: Shop,
    tag: str,
    path: str = "",
    *,
    only: Sequence[str] = (),
    wet: str = "",
    coats: int | None = None,
) -> Mixing | Refused:
    """What the faces on a finish path, by default the most used, take of each of its products.

    Coats that are optional count on faces of which was said that they get them. Faces in visual
    rows, so that a load ends where a row does. `wet` is the film as typed, of all that leaves one;
    `coats` are those of each product.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    path = path or next(iter(paths_of(on.piece)), "paint")
    if path not in shop.paths:
        return Refused(no_finish_path(path, shop.paths))
    bad = None if coats is None else amount("coats", coats, least=1, most=20)
    if bad:
        return bad.told_in(on.measures)
    known = areas(on.piece, on.mm())
    faces = in_rows([f for f in known.faces if f.path == path and _named(f, only)])
    if not faces:
        return Refused(f"No face of {on.piece.codename} whose area is known is on “{path}”.")
    due = _coats_due(shop, on, path, faces, coats)
    tool = shipped.transfers()[on.habits.word("tool", USUAL_TOOL)]
    laid = _all_laid(on, path, due, wet, tool)
    if isinstance(laid, Refused):
        return laid.told_in(on.measures)
    found = _litres(on, faces, due, laid)
    if isinstance(found, Refused):
        return found.told_in(on.measures)
    lacks = once(*(() if only else known.lacks(path)), *(one.lack for one in laid.values()),
                 *_settings(on))  # fmt: skip
    sources = once(*(source for one in laid.values() for source in one.sources))
    return Mixing(path, found, laid, tool, lacks, sources, on.measures)


def tell_mixing(found: Mixing) -> Told:
    """One row for each load of each product, in spray order."""
    films = any(one.wet_um for one in found.laid.values())
    told = told_of(
        found.litres,
        found.measures,
        head=("product", "coat", "cup", "volume", "parts in order", ""),
        rows=[row for one in found.litres.products for row in _rows(one, found.measures)],
        lacks=found.lacks,
        sources=found.sources,
        caution=found.tool.sentence if films else "",
        data={
            "m2": found.litres.m2,
            "transfer": found.tool.share.value,
            "transfer_ends": list(found.tool.ends),
            "products": [_product_data(one, found.laid[one.kind])
                         for one in found.litres.products],
        },
    )  # fmt: skip
    return replace(told, lacks=few(told.lacks))


def _rows(product: ProductMix, show: units.Measures) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for layer in product.layers:
        coat = f"{layer.first}"
        if layer.last > layer.first:
            coat = f"{layer.first} to {layer.last}"
        if layer.mix is None:
            parts = ", ".join(_parts_in([face.name for face in layer.faces]))
            rows.append((product.name, coat, "", choice_word("not known"), parts, ""))
            continue
        goes = layer.mix.least_ml / layer.mix.coat_ml
        for i, load in enumerate(layer.mix.loads, 1):
            volume = show_range(load.ml * goes, load.ml, show)
            breaks = "breaks inside a row" if load.breaks_row else ""
            parts = ", ".join(_parts_in(load.faces))
            rows.append((product.name, coat, str(i), volume, parts, breaks))
    return rows


def _product_data(product: ProductMix, laid: Laid) -> dict[str, object]:
    return {
        "product": product.kind.product,
        "name": product.name,
        "tinted": product.kind.tinted,
        "coats": product.coats,
        "ml": product.ml,
        "ml_least": product.least_ml,
        "wet_um": laid.wet_um,
        "layers": [_layer_data(layer) for layer in product.layers],
    }


def _layer_data(layer: Layer) -> dict[str, object]:
    mix = layer.mix
    return {
        "first": layer.first,
        "last": layer.last,
        "m2": sum(face.m2 for face in layer.faces),
        "coat_ml": mix.coat_ml if mix else None,
        "coat_ml_least": mix.least_ml if mix else None,
        "loads": [{"ml": x.ml, "faces": [s.key for s in x.faces], "breaks_row": x.breaks_row}
                  for x in mix.loads] if mix else [],
    }  # fmt: skip


def in_rows(faces: Sequence[FaceArea]) -> list[FaceArea]:
    """The faces of one visual row together, in the order in which rows first come."""
    rows = list(dict.fromkeys(f.row for f in faces))
    return sorted(faces, key=lambda f: rows.index(f.row))


def _coats_due(
    shop: Shop, on: SumGround, path: str, faces: Sequence[FaceArea], coats: int | None
) -> dict[CoatKind, list[int]]:
    """How many coats of each kind each face gets, kinds in the order of the path; `coats` of each
    that it gets, when that was said."""
    own: dict[Spot, Counter[CoatKind]] = {
        part.part.spot(face.name): Counter(map(_kind, coat_steps(face.path)))
        for part in piece_state(shop, on.piece).parts.values()
        for face in part.faces
    }
    kinds = dict.fromkeys(map(_kind, shop.path(path).steps))
    due = {kind: [own[face.spot][kind] for face in faces] for kind in kinds}
    return {
        kind: [coats if coats is not None and count else count for count in counts]
        for kind, counts in due.items()
        if any(counts)
    }


def _kind(step: Step) -> CoatKind:
    return CoatKind(step.product, step.tinted)


def _litres(
    on: SumGround,
    faces: Sequence[FaceArea],
    due: Mapping[CoatKind, Sequence[int]],
    laid: Mapping[CoatKind, Laid],
) -> Litres | Refused:
    """Each product on the faces that get it."""
    surfaces = [Surface(f.spot, f.m2, f.row) for f in faces]
    cup = on.habits.number("cup", USUAL_CUP_ML)
    found = []
    for kind, counts in due.items():
        coated = list(zip(surfaces, counts, strict=True))
        product = product_mix(kind, _name_of(kind), coated, laid[kind].rate, cup)
        if isinstance(product, Refused):
            return product
        found.append(product)
    return Litres(sum(face.m2 for face in faces), tuple(found))


def _all_laid(
    on: SumGround, path: str, due: Collection[CoatKind], wet: str, tool: Transfer
) -> dict[CoatKind, Laid] | Refused:
    """How each kind goes on; `wet` is the film as typed, "" for the usual ones."""
    typed = units.film(wet, on.measures, "wet film") if wet.strip() else None
    if isinstance(typed, Refused):
        return typed
    found: dict[CoatKind, Laid] = {}
    for kind in due:
        laid = _laid(kind, None if typed is None else typed.value, tool)
        if isinstance(laid, Refused):
            return laid
        found[kind] = laid
    if any(laid.rate for laid in found.values()):
        return found
    return wrong("wet film", f"nothing is known of the coats of “{path}”: read it off a film "
                   "gauge or the tin, as in 4 mil")  # fmt: skip


def _laid(kind: CoatKind, typed: float | None, tool: Transfer) -> Laid | Refused:
    """How a product goes on: wiped by hand, else with the shop's tool at the film that is known."""
    known, name = shipped.coats(), _name_of(kind)
    if kind.product in known.wiped:
        low, high = known.wiped[kind.product]
        wiped = wiped_rate(low.value, high.value)
        lack = f"how far {name} goes on this wood: read it off its tin"
        return wiped if isinstance(wiped, Refused) else Laid(wiped, None, (low.cited,), lack)
    if kind.product in known.without_film:
        return Laid(lack=f"how far {name} goes: read it off its tin")
    coat = known.by_product.get(kind.product)
    if typed is not None:
        wet, source, lack = typed, "your own wet film", ""
    elif coat:
        wet, source = coat.wet.value, coat.wet.cited
        lack = "the wet film you lay: read it off a film gauge"
    else:
        return Laid(lack=f"the wet film of {name}: read it off a film gauge or its tin")
    sprayed = film_rate(wet, tool.share.value)
    if isinstance(sprayed, Refused):
        return sprayed
    return Laid(sprayed, wet, (source, *tool.sources), lack)


def _name_of(kind: CoatKind) -> str:
    """`tinted water-borne clear`"""
    known = products().get(kind.product)
    name = known.name if known else kind.product.replace("_", " ")
    return f"tinted {name}" if kind.tinted else name


def _parts_in(faces: Sequence[Spot]) -> list[str]:
    """`D5 front, D5 top edge` as D5; a part whose faces lie in several loads stands in each."""
    return list(dict.fromkeys(spot.part for spot in faces))


def _named(face: FaceArea, only: Sequence[str]) -> bool:
    """`D5` means its front and edges, `D5 front` that face alone."""
    wanted = {Spot.of(name) for name in only}
    return not wanted or Spot(face.spot.part) in wanted or face.spot in wanted


def _settings(on: SumGround) -> tuple[str, ...]:
    wanted = {"tool": "what the coats go on with", "cup": "what your cup holds"}
    return tuple(words for name, words in wanted.items() if name not in on.habits.typed)


def paths_of(piece: Piece) -> list[str]:
    """The finish paths that faces of a piece are on, the most used first."""
    faces = [f.path for p in piece.present for f in p.faces if f.finished]
    return sorted(dict.fromkeys(faces), key=lambda path: -faces.count(path))
