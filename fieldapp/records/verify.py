"""Checks a record with nothing but the file, and says no more than was checked.

*Authentic*: everything holds, against a site key the reader holds from elsewhere.
*Consistent*: everything holds, but the site key is only the file's own. *No*: the
reasons. Whether the pages say what the evidence says is checked by setting them again.
"""

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from fieldapp.records.evidence import Evidence
from fieldapp.records.figures import grouped, moment
from fieldapp.records.files import UnreadableFiles, read_files, read_list
from fieldapp.records.opened import open_evidence, state_hash
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.records.proofs import (
    Read,
    entry_faults,
    item_faults,
    ledger_faults,
    photo_faults,
    read_rows,
    receipt_faults,
    registered,
    revoked,
    sheet_faults,
    site_faults,
)
from fieldapp.records.record import record_pdf, set_by
from fieldapp.signatures import key_id

AUTHENTIC, CONSISTENT, NO = "authentic", "consistent", "no"
SAME, NOT_COMPARED, OTHER = "same", "not compared", "other"
REGISTER_STATED = "what the register said then"
MALFORMED = (LookupError, TypeError, ValueError, AttributeError, ArithmeticError)
OTHERWISE = (
    "set again from its evidence the file comes out otherwise:"
    " altered, or set with other typefaces"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What was found: `result`, the file's site key, what was checked and what not.

    reasons: why it is "no"; limits: what was taken as stated; pages: "same" as set
    again from the evidence, "not compared", or "other"; revision: which one the file
    says it is.
    """

    result: str
    site_key: str = ""
    entries: int = 0
    pages: str = NOT_COMPARED
    revision: str = ""
    reasons: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """Give the verdict in one line."""
        if self.result == NO:
            return "no: " + "; ".join(self.reasons)
        said = f"authentic against site key {self.site_key}"
        if self.result == CONSISTENT:
            said = f"consistent, with site key {self.site_key} as the file states it"
        pages = "the pages are what its evidence says"
        if self.pages != SAME:
            pages = "the pages were not compared with its evidence"
        return f"{said}; {self.entries} entries; {pages}"


def verify_record(pdf: bytes, site_key: str | None = None) -> Verdict:
    """Check a record, against a site key's fingerprint if the reader holds one."""
    try:
        files = unpack(pdf)
        return _judge(pdf, read_files(files), read_list(files), _plain(site_key))
    except UnreadableFiles as fault:
        return Verdict(result=NO, reasons=(str(fault),))
    except MALFORMED as fault:
        # Somebody's own key may have signed nonsense: no, and not a crash.
        return Verdict(result=NO, reasons=(f"not the evidence of a record: {fault!r}",))


def _judge(
    pdf: bytes, evidence: Evidence, listed: dict[str, Any], wanted: str
) -> Verdict:
    faults: list[str] = []
    office = read_rows(evidence.office, faults)
    entries = read_rows(evidence.entries, faults)
    faults += [*_faults(evidence, office, entries), *_revision_faults(evidence)]
    if faults:
        return Verdict(result=NO, reasons=tuple(faults), entries=len(entries))
    own = key_id(evidence.site_public)
    pages = _pages(pdf, evidence, listed["set_by"])
    reasons = [*_state_faults(pdf, evidence, listed["state"]), *_page_faults(pages)]
    if wanted and wanted != own:
        reasons.append(f"its site key is {own}, not {wanted}")
    return Verdict(
        result=NO if reasons else (AUTHENTIC if wanted else CONSISTENT),
        site_key=own,
        entries=len(entries),
        pages=pages,
        revision=revision_told(evidence),
        reasons=tuple(reasons),
        limits=tuple(_limits(evidence, office, entries)),
    )


def revision_told(evidence: Evidence) -> str:
    """Give which revision a record says it is, when archived, in place of which."""
    told, title = evidence.archive, evidence.title
    if told is None:
        return f"{title.document}, a print: not archived"
    at = moment(told.at, int(evidence.site.get("zone", 0)))
    former = told.earlier[-1] if told.earlier else None
    place = f", in place of revision {former.revision}" if former else ""
    digest = f" (SHA-256 {former.hash})" if former else ""
    named = f"{title.document}, revision {title.revision}"
    return f"{named}, archived {at} by {told.account}{place}{digest}"


def _revision_faults(evidence: Evidence) -> list[str]:
    told, revision = evidence.archive, evidence.title.revision
    earlier = [each.revision for each in told.earlier] if told else []
    if (told is None) != (revision == 0) or (
        told and earlier != list(range(1, revision))
    ):
        return ["its revision and those it names before it do not agree"]
    return []


def unpack(pdf: bytes) -> dict[str, bytes]:
    """Give the files a PDF carries, by name. Errors: `UnreadableFiles`."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        found = PdfReader(BytesIO(pdf)).attachments
        files = {name: list(found[name]) for name in found}
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError) as fault:
        raise UnreadableFiles(f"not a readable PDF ({fault})") from fault
    for name, contents in files.items():
        if len(contents) != 1:
            raise UnreadableFiles(f"{name}: attached {len(contents)} times")
    return {name: contents[0] for name, contents in files.items()}


def _faults(evidence: Evidence, office: Read, entries: Read) -> list[str]:
    """Give what does not hold; later checks are made only on what earlier ones hold."""
    faults = list(site_faults(evidence, office))
    if not faults:
        faults += sheet_faults(evidence, office)
        faults += ledger_faults(office, entries)
    if not faults:
        faults += entry_faults(evidence, office, entries)
        faults += receipt_faults(evidence, entries)
        faults += item_faults(evidence, office)
        faults += photo_faults(evidence, entries)
    return faults


def _state_faults(pdf: bytes, evidence: Evidence, listed: str) -> list[str]:
    opened = open_evidence(evidence)
    state = state_hash(opened)
    printed = "".join(_text(pdf).split())
    faults = []
    if state != listed:
        faults.append(f"folded again the state is {state[:10]}, not {listed[:10]}")
    for name, digest in (("state", listed), ("site key", opened.site_key)):
        if grouped(digest).replace(" ", "") not in printed:
            faults.append(f"the {name} printed on the pages is not the file's")
    return faults


def _text(pdf: bytes) -> str:
    from pypdf import PdfReader

    return "".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def _pages(pdf: bytes, evidence: Evidence, made_by: str) -> str:
    try:
        if made_by != set_by():
            return NOT_COMPARED
        return SAME if record_pdf(evidence) == pdf else OTHER
    except PaperUnavailable:
        return NOT_COMPARED


def _page_faults(pages: str) -> list[str]:
    return [OTHERWISE] if pages == OTHER else []


def _limits(evidence: Evidence, office: Read, entries: Read) -> list[str]:
    """Say what this check takes as stated."""
    limits = ["that the evidence is all there was at its index range"]
    if evidence.archive:
        limits.append("its revision, who archived it, and that none came after it")
    if evidence.standing.get("subjects"):
        limits.append("what other subjects said then")
    if evidence.standing.get("items"):
        limits.append(
            "how many other subjects had used an item then"
            if registered(office)
            else REGISTER_STATED
        )
    if evidence.photos:
        limits.append("that printed photographs show what the named ones do")
    count = revoked(office, entries, key_id(evidence.site_public))
    if count:
        limits.append(f"that {count} entries were made before their key was revoked")
    return limits


def _plain(site_key: str | None) -> str:
    """Give a fingerprint as typed from paper without its spaces."""
    return "".join((site_key or "").split()).lower()
