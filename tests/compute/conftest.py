"""Properties are tried on the same cases every time, however slow the machine is."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady",
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("steady")
