"""`python -m partsbench` and the command `partsbench`."""

from __future__ import annotations

import sys


def main() -> int:
    """Run the command given on the command line, the window when there is none."""
    from partsbench.cli.group import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
