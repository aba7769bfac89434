"""Writing what the owner sets once: home water, zone, units."""

from __future__ import annotations

from sqlmodel import Session

from logbook.model.fields import MILLIKELVIN
from logbook.model.values import Settings
from logbook.record.file.store import Store
from logbook.record.file.zone import local_zone
from logbook.record.schema import shapes
from logbook.record.schema.tables import HomeMonthRow, SettingRow
from logbook.record.writing import journal


def write(store: Store, settings: Settings) -> None:
    """Replaces all settings."""
    with store.action("change the settings") as session:
        put(session, settings)


def put(session: Session, settings: Settings) -> None:
    """Replaces all settings inside an action that is under way."""
    columns = shapes.settings_columns(settings)
    months = [
        {"setting_id": 1, "month": month, "water_mk": MILLIKELVIN.kept(water_c)}
        for month, water_c in enumerate(settings.home.monthly_c or (), start=1)
    ]
    journal.replace_rows(session, SettingRow, columns["id"], [columns])
    journal.replace_rows(session, HomeMonthRow, columns["id"], months)


def begin(store: Store) -> None:
    """The settings of a new record: the zone of the machine on which it is begun. No step of undo."""
    with store.transaction() as session:
        session.add(SettingRow(**shapes.settings_columns(Settings(zone=local_zone()))))
