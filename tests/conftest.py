"""What holds for every test: the same cases on every CI run, and a terminal of one width.

Property tests draw the same cases in CI; on a bench they go on exploring. Text is printed for a
terminal of 100 columns, whatever the tests are started from.
"""

import os

from hypothesis import settings

settings.register_profile("ci", derandomize=True, deadline=None)
settings.register_profile("bench", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "bench")
os.environ["COLUMNS"] = "100"
