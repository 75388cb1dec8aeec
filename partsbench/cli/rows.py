"""Values as JSON: the keys that the pages of help document, and no others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from partsbench.cli.base import iso
from partsbench.core.finish.path import After, FinishPath, Step
from partsbench.core.journal_lines import JournalLine
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.parts import FAMILY_NAMES
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.sources import Source
from partsbench.services.acts.places import Sighting
from partsbench.services.known.cautions import words
from partsbench.services.known.state import FaceState, PartState

JsonRow = dict[str, Any]


def part_row(piece: Piece, state: PartState) -> JsonRow:
    part = state.part
    return {
        "number": part.short,
        "code": str(piece.code(part)),
        "home": home_words(piece, part),
        "home_code": str(piece.home_code_of(part)),
        "family": FAMILY_NAMES[part.family],
        "name": part.name,
        "parent": part.parent,
        "faces": [face_row(face) for face in state.faces],
        "status": state.status,
        "where": state.where.value,
        "place": state.place,
        "fit": state.fit.result if state.fit else None,
        "old_mark": part.old_mark,
        "note": part.note,
        "contents": part.contents,
        "group": part.group,
        "fragile": part.fragile,
        "hidden": part.hidden,
    }


def face_row(face: FaceState) -> JsonRow:
    following = face.progress.next
    return {
        "name": face.name,
        "path": face.path.key,
        "step": following.key if following else None,
    }


def outcome_row(outcome: Outcome) -> JsonRow:
    return {
        "answer": outcome.answer.value,
        "until": iso(outcome.until),
        "because": outcome.because,
        "source": outcome.source,
        "face": outcome.faces[0] if outcome.faces else None,
        "faces": list(outcome.faces),
        "step": outcome.step,
        "step_name": outcome.step_name,
        "sentence": outcome.sentence,
        "cautions": words(outcome.cautions),
        "tag": outcome.tag,
        "part": outcome.part,
        "code": outcome.code,
        "recorded": outcome.recorded,
        "held": list(outcome.held),
        "holds": [{"rule": h.rule, "because": h.because} for h in outcome.holds],
        "checks": list(outcome.checks),
        "note": outcome.note,
        "warnings": list(outcome.warnings),
        "recover": outcome.recover or None,
    }


def sighting_row(seen: Sighting) -> JsonRow:
    return {
        "tag": seen.tag,
        "codename": seen.codename,
        "number": seen.short,
        "where": seen.where,
        "seen": iso(seen.seen),
        "old_mark": seen.old_mark,
    }


def entry_row(entry: JournalLine) -> JsonRow:
    return {
        "id": entry.id,
        "at": iso(entry.at),
        "who": entry.who,
        "kind": entry.kind,
        "sentence": entry.sentence,
        "tag": entry.tag,
        "target": entry.target,
    }


def path_row(path: FinishPath) -> JsonRow:
    return {
        "key": path.key,
        "name": path.name,
        "kind": path.kind.value,
        "about": path.about,
        "steps": [step_row(step) for step in path.steps],
    }


def step_row(step: Step) -> JsonRow:
    """A step; its two ends in minutes, and the source of the figure that bounds it."""
    source = step.source_of("earliest") or step.source_of("latest")
    source = source or next(iter(step.sources), None)
    return {
        "key": step.key,
        "name": step.name,
        "operation": step.operation.value,
        "optional": step.optional,
        "earliest": _minutes(step.earliest),
        "latest": _minutes(step.latest),
        "source": source.text if source else None,
        "sources": _sources(step.sources),
        "after": [_after_row(after) for after in step.after],
    }


def _after_row(after: After) -> JsonRow:
    """A wait counted from a step that is named, for one case of face or for all."""
    return {
        "step": after.step,
        "only_when": after.only_when,
        "earliest": _minutes(after.earliest),
        "latest": _minutes(after.latest),
        "sources": _sources(after.sources),
    }


def _sources(sources: Sequence[Source]) -> list[JsonRow]:
    return [
        {"figure": s.figure, "text": s.text, "status": s.status.value, "said": s.said}
        for s in sources
    ]


def _minutes(span: Any) -> float | None:
    return None if span is None else span.total_seconds() / 60
