"""Tape and paper for a piece as it stands: what each face and opening takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.finish.masks import MaskState, to_cover
from partsbench.core.outcomes import Refused
from partsbench.core.piece.parts import Part
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import (
    Sizes,
    face_area,
    opening_size,
    openings_to_paper,
    with_usual_depths,
)
from partsbench.core.sums import masking, units
from partsbench.core.sums.masking import Cover, Hole, Masking, Take
from partsbench.core.wording import listed
from partsbench.services.acts import masks
from partsbench.services.acts.masks import SeamLine
from partsbench.services.rules.neighbours import closed_openings
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.litres import USUAL_TOOL
from partsbench.services.sums.told import Told, once, told_of

BRUSH = "brush"
"""The tool that throws no mist: what lies beside it wants tape and no paper."""
FLAT_BEHIND = ("top", "front", "whole")
"""The broad face of a board, behind its edges."""


@dataclass(frozen=True, slots=True)
class TapeAndPaper:
    """Tape and paper of a piece, each seam, and the faces that each covered one is covered from."""

    masking: Masking
    seams: tuple[SeamLine, ...]
    against: Mapping[Spot, tuple[Spot, ...]]
    lacks: tuple[str, ...]
    measures: units.Measures


def mask_paper(shop: Shop, tag: str) -> TapeAndPaper | Refused:
    """Tape along every seam that wants it, of one part and of two that are together; paper over
    openings and, unless the brush is the shop's tool, over the whole of what lies beside paint."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    seams = [s for s in masks.seams(shop, tag) if s.state is not MaskState.NOT_NEEDED]
    shorts = {spot.part for s in seams for spot in (s.a, s.b)}
    sizes, lacks = with_usual_depths(on.piece, on.mm(), shorts)
    tool = on.habits.word("tool", "")
    sprayed = (tool or USUAL_TOOL) != BRUSH
    against = _against(shop, on, seams, sizes)
    covers, missing = _covers(on, seams, against, sizes, sprayed)
    openings = openings_to_paper(on.piece, closed_openings(shop, on.piece)) if sprayed else ()
    holes = [Hole(Spot(f"H{o.number}"), *opening_size(on.piece, o, sizes)) for o in openings]
    if not covers and not holes:
        name = on.piece.codename
        return Refused(f"Nothing of {name} is to be masked: there is no seam and no opening.")
    answer = masking.masking(covers, holes, shipped.laps())
    if isinstance(answer, Refused):
        return answer.told_in(on.measures)
    wanted = () if tool else ("what the coats go on with: a brush wants no paper",)
    return TapeAndPaper(answer, tuple(seams), against, once(*lacks, *missing, *wanted), on.measures)


def tell_mask_paper(found: TapeAndPaper) -> Told:
    show = found.measures
    against = found.against
    rows = [_row(take, listed(against[take.name]), show) for take in found.masking.faces]
    rows += [_row(take, "the carcase is coated", show) for take in found.masking.openings]
    keys = {name: [s.key for s in coated] for name, coated in against.items()}
    data = {
        "seams": found.masking.seams,
        "openings": len(found.masking.openings),
        "tape_m": found.masking.tape_mm / 1000,
        "paper_m2": found.masking.paper_m2,
        "covered": [{**_figures(t), "against": keys[t.name]} for t in found.masking.faces],
        "papered": [_figures(t) for t in found.masking.openings],
        "each": [{"a": s.a.key, "b": s.b.key, "mm": s.length_mm} for s in found.seams],
    }
    head = ("cover", "tape", "paper", "while coated")
    valid = "as the parts stand now; a face covered in whole takes its own area, laps not counted"
    return told_of(
        found.masking, show, head=head, rows=rows, lacks=found.lacks, valid=valid, data=data
    )


def _row(take: Take, against: str, measures: units.Measures) -> tuple[str, str, str, str]:
    tape = units.show_run(take.tape_mm, measures) if take.tape_mm else ""
    paper = units.show_area(take.paper_m2, measures) if take.paper_m2 else ""
    return str(take.name), tape, paper, against


def _figures(take: Take) -> dict[str, object]:
    return {"name": take.name.key, "tape_m": take.tape_mm / 1000, "paper_m2": take.paper_m2}


def _against(
    shop: Shop, on: SumGround, seams: Sequence[SeamLine], sizes: Sizes
) -> dict[Spot, tuple[Spot, ...]]:
    """Each face that is covered, with the faces that it is covered from, in the order of seams."""
    found: dict[Spot, tuple[Spot, ...]] = {}
    for seam in seams:
        covered, coated = _sides(shop, on, seam, sizes)
        for name in (covered, *_flat_behind(on, covered, coated)):
            found[name] = tuple(dict.fromkeys((*found.get(name, ()), coated)))
    return found


def _sides(shop: Shop, on: SumGround, seam: SeamLine, sizes: Sizes) -> tuple[Spot, Spot]:
    """(the face that is covered, the face that is coated); of two paints the larger is covered."""
    ways = [
        (other, name)
        for name, other in ((seam.a, seam.b), (seam.b, seam.a))
        if to_cover(shop.path(_path(on, name)), shop.path(_path(on, other)))
    ]
    return max(ways, key=lambda way: _mm2(on, way[0], sizes))


def _covers(
    on: SumGround,
    seams: Sequence[SeamLine],
    against: Mapping[Spot, tuple[Spot, ...]],
    sizes: Sizes,
    sprayed: bool,
) -> tuple[list[Cover], list[str]]:
    """What each covered face takes, and the sizes that are missing for it."""
    found, lacks = [], []
    for name, coated in against.items():
        along = tuple(
            s.length_mm
            for s in seams
            if (s.a == name and s.b in coated) or (s.b == name and s.a in coated)
        )
        area = face_area(on.piece, _part(on, name), name.face, sizes) if sprayed else 0.0
        if isinstance(area, str):
            lacks.append(area)
        broad = 0.0 if name.face.endswith(" edge") or isinstance(area, str) else area
        if along or broad:
            found.append(Cover(name, along, broad))
    return found, lacks


def _flat_behind(on: SumGround, edge: Spot, coated: Spot) -> tuple[Spot, ...]:
    """The broad face of the board whose edge is taped, but for one that is coated alike."""
    if not edge.face.endswith(" edge"):
        return ()
    part = _part(on, edge)
    flat = next((f for word in FLAT_BEHIND if (f := part.face(word))), None)
    return () if flat is None or flat.path == _path(on, coated) else (part.spot(flat.name),)


def _mm2(on: SumGround, spot: Spot, sizes: Sizes) -> float:
    area = face_area(on.piece, _part(on, spot), spot.face, sizes)
    return 0.0 if isinstance(area, str) else area


def _path(on: SumGround, spot: Spot) -> str:
    face = _part(on, spot).face(spot.face)
    assert face is not None, str(spot)
    return face.path


def _part(on: SumGround, spot: Spot) -> Part:
    part = on.piece.part(spot.part)
    assert part is not None, str(spot)
    return part
