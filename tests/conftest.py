"""One profile for all property tests: the same examples on every machine, no timing.

A run that fails can so be repeated; wider searches belong to `make test-slow`.
"""

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")
