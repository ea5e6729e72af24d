"""Property tests draw the same cases on every CI run; on a bench they go on exploring."""

import os

from hypothesis import settings

settings.register_profile("ci", derandomize=True, deadline=None)
settings.register_profile("bench", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "bench")
