"""A sheet of paper being copied: who wrote it, and when what it says was done."""

from datetime import datetime

from tests.phone.gang import Gang

WRITER = "Tamsin Orbell"


def written(gang: Gang, when: datetime) -> None:
    """Say who wrote the paper, and when it was done."""
    phone = gang.phone
    phone.tap('[data-field="paper"]')
    phone.tap('[data-value="paper"]')
    phone.page.fill("#writer", WRITER)
    phone.tap('[data-field="when"]')
    gang.figure(when.strftime("%d%m%H%M"))
