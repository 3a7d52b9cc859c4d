"""The office's house in the simulation: its process, its disk, its old backups.

The process is the real one, ended with SIGKILL; a full disk is a limit on how far its
files may grow; a backup is the program's own, or a copy of the files of a dead server.
"""

import contextlib
import io
import resource
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.cli import main
from fieldapp.config import DATABASE, open_door
from fieldapp.intake.door import Door
from fieldapp.intake.office import end_key
from fieldapp.store.database import connected, disconnect, writing
from fieldapp.store.devices import issue_code, revoke_device
from fieldapp.store.ledger import rows_of_subject
from tests.people import put_in_force
from tests.phone.office import Office
from tests.simulation.books import SHEETS, Books, read_books

UNLIMITED = resource.RLIM_INFINITY


@dataclass(slots=True, kw_only=True)
class House:
    """One site's office and what stands behind it."""

    office: Office
    backups: list[Path]
    folder: Path

    @property
    def database(self) -> Path:
        """Give the ledger's file."""
        return self.office.data / DATABASE

    @property
    def serving(self) -> bool:
        """Say whether the server runs."""
        return self.office.process is not None

    def books(self) -> Books:
        """Read what is on disk."""
        return read_books(self.database)

    def site_key(self) -> str:
        """Give the id of the site's own key."""
        with self._door() as door:
            return door.office.id

    def believed(self, subject: str) -> set[str]:
        """Give the ids of a subject's entries that the office's pages are made of."""
        with self._door() as door:
            return {row.id for row in rows_of_subject(door.store, subject)}

    def copy(self, folder: Path) -> "House":
        """Give a copy of the house whose server does not run."""
        data = shutil.copytree(self.office.data, folder / "office")
        office = Office(data=Path(data), port=self.office.port)
        return House(office=office, backups=[], folder=folder)

    def cell(self, table: str, column: str, where: str) -> Any:
        """Read one cell of the database."""
        question = f"SELECT {column} FROM {table} WHERE {where}"
        with closing(sqlite3.connect(self.database, timeout=10)) as opened:
            return opened.execute(question).fetchone()[0]

    def code(self, person: str, now: int) -> str:
        """Make an enrolment code, as the office's command does."""
        with self._door() as door, writing(door.store):
            return issue_code(door.store, person=person, issued_by="o", now=now)

    def revoke(self, device: str, keys: list[tuple[str, str]], now: int) -> None:
        """Take a lost phone out of force, with the keys on it (person, key)."""
        with self._door() as door:
            for person, key in keys:
                end_key(
                    door, person=person, key=key, reason="phone lost", revoked=True,
                    now=now,
                )  # fmt: skip
            with writing(door.store):
                revoke_device(door.store, device, now)

    def fill_disk(self, spare: int) -> None:
        """Let no file of the server grow by more than some bytes."""
        most = self.database.stat().st_size + spare
        self._limit(most)

    def free_disk(self) -> None:
        """Take the limit away."""
        self._limit(UNLIMITED)

    def back_up(self) -> None:
        """Copy the dead server's files aside, and make a backup by the program."""
        assert not self.serving, "a copy of a running server's files is no backup"
        copy = self.folder / f"backup-{len(self.backups)}"
        shutil.copytree(self.office.data, copy)
        self._command("backup", str(copy.with_suffix(".backup")))
        self.backups.append(copy)

    def bring_back(self, backup: Path, *, told: bool, new_disk: bool = False) -> None:
        """Put an old copy in place; `told`: by the program, with a new epoch.

        On a `new_disk` nothing of the lost office is left: it has not even heard of the
        phones enrolled since.
        """
        assert not self.serving, "the server must be dead"
        kept = backup.with_suffix(".backup")
        if told and not new_disk:
            self._command("restore", str(kept), "--over")
            return
        shutil.rmtree(self.office.data)
        if told:
            self._command("restore", str(kept))
            return
        shutil.copytree(backup, self.office.data)

    def _command(self, *words: str) -> None:
        said = io.StringIO()
        with contextlib.redirect_stdout(said):
            status = main([*words, "--data", str(self.office.data)])
        assert status == 0, said.getvalue()

    def _limit(self, most: int) -> None:
        assert self.office.process is not None
        pid = self.office.process.pid
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (most, UNLIMITED))

    @contextmanager
    def _door(self) -> Iterator[Door]:
        door = open_door(self.office.data)
        try:
            with connected(door.store):
                yield door
        finally:
            disconnect(door.store)


def build(folder: Path, port: int) -> House:
    """Put the small site in force in a fresh folder, not served yet."""
    data = folder / "office"
    door = open_door(data)
    put_in_force(door, *SHEETS.values())
    disconnect(door.store)
    return House(office=Office(data=data, port=port), backups=[], folder=folder)
