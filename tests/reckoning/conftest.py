"""How hypothesis runs here: without a time limit for one example, since the machine may be busy."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
