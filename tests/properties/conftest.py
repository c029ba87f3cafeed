"""How hard Hypothesis tries: the same draws every time, few enough for the whole suite to stay quick."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "linkkit",
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("linkkit")
