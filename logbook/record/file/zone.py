"""The time zone of this machine, which a new record keeps as its owner's."""

from __future__ import annotations

import os


def local_zone() -> str:
    """The IANA name of this machine's time zone, from `TZ` or the system's link to it; else UTC."""
    from zoneinfo import ZoneInfo

    linked = os.path.realpath("/etc/localtime").partition("zoneinfo/")[2]
    for name in (os.environ.get("TZ", "").lstrip(":"), linked):
        try:
            if name:
                return ZoneInfo(name).key
        except (KeyError, ValueError, OSError):
            continue
    return "UTC"
