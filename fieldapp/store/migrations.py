"""The schema, as the list of steps that led to it; its length is the version.

A step is never edited once it has shipped: a change is a new step at the end. The
triggers make the ledger append-only even for a hand at the SQL prompt.
"""

_FIRST = """
CREATE TABLE meta (name TEXT PRIMARY KEY, value TEXT NOT NULL);
CREATE TABLE bodies (
    hash TEXT PRIMARY KEY,
    kind TEXT NOT NULL,
    body TEXT NOT NULL
);
CREATE TABLE accounts (
    name TEXT PRIMARY KEY,
    person TEXT NOT NULL,
    password TEXT NOT NULL,
    office INTEGER NOT NULL,
    made BIGINT NOT NULL
);
CREATE TABLE sessions (
    token TEXT PRIMARY KEY,
    account TEXT NOT NULL REFERENCES accounts (name),
    made BIGINT NOT NULL,
    seen BIGINT NOT NULL
);
CREATE TABLE failures (
    source TEXT PRIMARY KEY,
    tries INTEGER NOT NULL,
    last BIGINT NOT NULL
);
CREATE TABLE codes (
    code TEXT PRIMARY KEY,
    person TEXT NOT NULL,
    issued_by TEXT NOT NULL,
    made BIGINT NOT NULL,
    expires BIGINT NOT NULL,
    used BIGINT,
    device TEXT,
    public TEXT
);
CREATE TABLE devices (
    device TEXT PRIMARY KEY,
    token TEXT NOT NULL UNIQUE,
    made BIGINT NOT NULL,
    revoked BIGINT
);
CREATE TABLE ledger (
    place BIGINT PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL,
    sig TEXT NOT NULL,
    head TEXT NOT NULL,
    received BIGINT NOT NULL,
    kind TEXT NOT NULL,
    subject TEXT,
    person TEXT NOT NULL,
    device TEXT NOT NULL,
    seq BIGINT NOT NULL
);
CREATE INDEX ledger_subject ON ledger (subject, place);
CREATE INDEX ledger_device ON ledger (device, seq);
CREATE TABLE quarantine (
    id TEXT NOT NULL,
    sig TEXT NOT NULL,
    body TEXT NOT NULL,
    reason TEXT NOT NULL,
    received BIGINT NOT NULL,
    pusher TEXT NOT NULL,
    PRIMARY KEY (id, sig)
);
CREATE INDEX quarantine_pusher ON quarantine (pusher);
CREATE TABLE receipts (
    number INTEGER PRIMARY KEY,
    device TEXT NOT NULL,
    made BIGINT NOT NULL,
    body TEXT NOT NULL,
    sig TEXT NOT NULL
)
"""
# INSERT OR REPLACE deletes without a DELETE trigger: hence the check of the id too.
_GUARDS = (
    """
    CREATE TRIGGER ledger_gapless BEFORE INSERT ON ledger BEGIN
        SELECT RAISE(ABORT, 'the ledger has no gaps and no repeats')
        WHERE NEW.place IS NOT (SELECT COALESCE(MAX(place), 0) + 1 FROM ledger)
        OR EXISTS (SELECT 1 FROM ledger WHERE id = NEW.id);
    END
    """,
    """
    CREATE TRIGGER ledger_kept BEFORE DELETE ON ledger BEGIN
        SELECT RAISE(ABORT, 'the ledger is never deleted from');
    END
    """,
    """
    CREATE TRIGGER ledger_fixed BEFORE UPDATE ON ledger BEGIN
        SELECT RAISE(ABORT, 'the ledger is never changed');
    END
    """,
)

_PHOTOS = (
    """
    CREATE TABLE photos (
        hash TEXT PRIMARY KEY,
        type TEXT NOT NULL,
        width INTEGER NOT NULL,
        height INTEGER NOT NULL,
        body BLOB NOT NULL,
        device TEXT NOT NULL,
        received BIGINT NOT NULL
    )
    """,
    "CREATE INDEX photos_device ON photos (device)",
    """
    CREATE TRIGGER photos_kept BEFORE DELETE ON photos BEGIN
        SELECT RAISE(ABORT, 'a photo is never deleted');
    END
    """,
    """
    CREATE TRIGGER photos_fixed BEFORE UPDATE ON photos BEGIN
        SELECT RAISE(ABORT, 'a photo is never changed');
    END
    """,
)

_KEPT = """
    CREATE TRIGGER {table}_kept BEFORE DELETE ON {table} BEGIN
        SELECT RAISE(ABORT, '{table} are never deleted');
    END
    """
_FIXED = """
    CREATE TRIGGER {table}_fixed BEFORE UPDATE ON {table} BEGIN
        SELECT RAISE(ABORT, '{table} are never changed');
    END
    """
# A replacing insert deletes without a DELETE trigger unless the connection asks.
_SINGLE = """
    CREATE TRIGGER {table}_single BEFORE INSERT ON {table} BEGIN
        SELECT RAISE(ABORT, '{table} are never replaced')
        WHERE EXISTS (SELECT 1 FROM {table} WHERE {key} = NEW.{key});
    END
    """
_EVIDENCE = tuple(
    guard.format(table=table, key=key)
    for table, key, guards in (
        ("receipts", "number", (_KEPT, _FIXED, _SINGLE)),
        ("bodies", "hash", (_KEPT, _FIXED, _SINGLE)),
        ("photos", "hash", (_SINGLE,)),
    )
    for guard in guards
)
# People and sheets are asked for in every batch, whatever else the site has entered.
_SITE_KINDS = (
    "CREATE INDEX ledger_site ON ledger (kind, place) WHERE subject IS NULL",
)
_ARCHIVE = (
    """
    CREATE TABLE revisions (
        number INTEGER PRIMARY KEY,
        subject TEXT NOT NULL,
        revision INTEGER NOT NULL,
        hash TEXT NOT NULL,
        basis TEXT NOT NULL,
        body TEXT NOT NULL,
        sig TEXT NOT NULL,
        pdf BLOB NOT NULL,
        UNIQUE (subject, revision)
    )
    """,
    """
    CREATE TRIGGER revisions_gapless BEFORE INSERT ON revisions BEGIN
        SELECT RAISE(ABORT, 'revisions have no gaps and no repeats')
        WHERE NEW.number IS NOT (SELECT COALESCE(MAX(number), 0) + 1 FROM revisions)
        OR NEW.revision IS NOT (SELECT COALESCE(MAX(revision), 0) + 1 FROM revisions
            WHERE subject = NEW.subject);
    END
    """,
    _KEPT.format(table="revisions"),
    _FIXED.format(table="revisions"),
)
# Worked out from the ledger and never evidence: it may be emptied and made again.
_STRUCK = ("CREATE TABLE struck (id TEXT PRIMARY KEY)",)

MIGRATIONS: tuple[tuple[str, ...], ...] = (
    (*_FIRST.split(";"), *_GUARDS),
    _PHOTOS,
    _EVIDENCE + _SITE_KINDS,
    _STRUCK,
    _ARCHIVE,
)
