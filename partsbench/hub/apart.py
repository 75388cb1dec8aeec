"""The hub in a process of its own, for a window: it must not wait for phones, nor they for it.

`python -m partsbench.hub.apart BOOK HOST PORT WHO`. It says lines of JSON: first how it stands
(`url`, `hexed`, `words`) or why it does not (`fault`), then `recorded` after each record and an
`offer` whenever a line comes in. It ends with its input, and so with the window.
"""

from __future__ import annotations

import contextlib
import json
import sys
from pathlib import Path
from threading import Lock
from typing import Any, TextIO

from partsbench.hub.server import Hub
from partsbench.services.heard.rehearsal import rehearse


def serve(hub: Hub, asked: TextIO, answers: TextIO) -> int:
    """Until nothing more can be asked; the exit code."""
    one_at_a_time = Lock()

    def say(**what: Any) -> None:
        with one_at_a_time, contextlib.suppress(BrokenPipeError):  # nobody hears it any more
            answers.write(f"{json.dumps(what)}\n")
            answers.flush()

    hub.recorded = lambda: say(recorded=True)
    fault = hub.start()
    if fault:
        say(fault=fault.sentence)
        return 1
    try:
        say(url=hub.url, hexed=hub.certificate.hexed, words=hub.certificate.words)
        rehearse()  # a window has loaded the rules when the first phone comes; this process has not
        for _ in asked:
            hub.withdraw()
            say(offer=hub.offer())
    except KeyboardInterrupt:
        pass
    finally:
        hub.stop()
    return 0


def main(words: list[str]) -> int:
    book, host, port, who = words
    return serve(Hub(Path(book), host, int(port), who=who), sys.stdin, sys.stdout)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
