"""Where the built program starts. `-m MODULE` runs a module of ours, as Python's own does."""

from __future__ import annotations

import runpy
import sys

if sys.argv[1:2] == ["-m"] and sys.argv[2:3] and sys.argv[2].split(".")[0] == "partsbench":
    module = sys.argv[2]
    sys.argv[1:] = sys.argv[3:]
    runpy.run_module(module if "." in module else f"{module}.__main__", run_name="__main__")
else:
    from partsbench.__main__ import main

    sys.exit(main())
