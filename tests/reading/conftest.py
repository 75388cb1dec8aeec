"""The reader is made for one thread of matrix sums; set before numpy is loaded."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
