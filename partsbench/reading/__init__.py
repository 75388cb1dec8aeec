"""Scans in: keystroke bursts, pictures, PDF pages, and labels that no decoder reads."""

import os

# The last resort multiplies many small matrices. More threads do not make that faster, and beside
# other work five times slower (measured). Heeded if numpy has not been loaded yet.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
