"""What may be said of an old finish, as options: of a new piece, and later."""

from __future__ import annotations

import click

from partsbench.core.finish.old_finish import AGES, ON_IT

on_it_option = click.option(
    "--on-it",
    type=click.Choice(ON_IT),
    default=None,
    help="What is on it now; none is bare wood.",
)
age_option = click.option(
    "--age",
    type=click.Choice(AGES),
    default=None,
    help="Against the year that your local rules name for lead (USA: 1978).",
)
