"""Warnings and cautions that are said once a session, by whichever way they come."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.outcomes import Outcome
from partsbench.services.session import Session


def once(session: Session | None, outcome: Outcome) -> Outcome:
    """The outcome without the warnings that were heard in this session already."""
    if session is None or not outcome.warnings:
        return outcome
    fresh = []
    for words in outcome.warnings:
        name = f"{outcome.tag} {words}"
        if name not in session.heard:
            session.heard.add(name)
            fresh.append(words)
    return replace(outcome, warnings=tuple(fresh))
