"""Pages with hostile text on them, made once for whatever reads them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.dossier import content
from logbook.dossier.content import Dossier
from logbook.dossier.words import typed
from tests.dossier import making
from tests.dossier.hostile import HOSTILE, TAME


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Dossier]:
    """The page of a watch for each text, which stands wherever a person may write."""
    made = {}
    with making.new_store(tmp_path_factory.mktemp("hostile") / "record.logbook") as store:
        for text in [*TAME, *HOSTILE]:
            page = making.page_of(store, making.written_all_over(store, text), with_notes=True)
            # As though a wish had got past the edge.
            made[text] = replace(page, asked=(typed(text, content.ASKED_LENGTH),))
    return made
