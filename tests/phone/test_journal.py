"""Making entries: one chain whatever tabs are open, saved only when read back."""

import pytest

from fieldapp.core.entries import read_entry
from tests.phone.conftest import BARE
from tests.phone.handset import Handset

ENROLLED = """async () => {
  const keys = await import("/phone/device/keys.js");
  const database = await import("/phone/device/database.js");
  const row = await keys.makeKey("274951");
  await keys.keepKey(row, "274951");
  await keys.nameKey(row.key, { person: "ida" });
  const signer = await keys.unlock(row.key, "274951");
  await keys.startShift(signer, Date.now() + 3600000);
  await database.putMeta("identity", {
    device: "gang", site: "tarn", shell: "v1", officeKey: "0".repeat(64) });
}"""
RECORD = """async (count) => {
  const journal = await import("/phone/device/journal.js");
  const keys = await import("/phone/device/keys.js");
  const signer = await keys.shiftSigner();
  const made = [];
  for (let n = 0; n < count; n += 1) {
    const about = { text: `note ${n}` };
    made.push(journal.record({ kind: "note", subject: "J1", about }, signer));
  }
  return (await Promise.all(made)).map((entry) => entry.id);
}"""


@pytest.fixture
def phone(emptied: Handset) -> Handset:
    emptied.page.evaluate(ENROLLED)
    return emptied


def test_entries_made_at_once_in_two_tabs_are_one_chain(phone: Handset) -> None:
    other = phone.browser.contexts[0].new_page()
    other.goto(phone.url + BARE)
    here = phone.page.evaluate_handle(f"({RECORD})(12)")
    there = other.evaluate(RECORD, 12)
    made = here.json_value() + there
    entries = [read_entry(row["bytes"].encode()) for row in phone.storage("entries")]
    assert {entry.id for entry in entries} == set(made)
    by_number = sorted(entries, key=lambda entry: entry.seq)
    assert [entry.seq for entry in by_number] == list(range(1, 25))
    before = [entry.id for entry in by_number[:-1]]
    assert [entry.prev for entry in by_number] == [None, *before]
    # Every entry has seen all before it: no false concurrency.
    seen = [(), *((entry_id,) for entry_id in before)]
    assert [entry.after for entry in by_number] == seen


def test_what_was_said_saved_is_there_after_a_kill(phone: Handset) -> None:
    ids = phone.page.evaluate(RECORD, 3)
    phone.kill()
    phone.start(BARE)
    rows = phone.storage("entries")
    assert sorted(row["id"] for row in rows) == sorted(ids)
    assert all(row["waiting"] == 1 for row in rows)
    more = phone.page.evaluate(RECORD, 1)
    last = [row for row in phone.storage("entries") if row["id"] in more]
    assert last[0]["seq"] == 4


def test_a_closed_connection_is_opened_again(phone: Handset) -> None:
    phone.page.evaluate(
        """async () => {
          const { reopen } = await import("/phone/device/database.js");
          await reopen();
        }"""
    )
    assert len(phone.page.evaluate(RECORD, 2)) == 2


def test_a_fault_of_storage_is_told_and_never_called_saved(phone: Handset) -> None:
    fault = phone.page.evaluate(
        """async () => {
          const journal = await import("/phone/device/journal.js");
          const keys = await import("/phone/device/keys.js");
          const signer = await keys.shiftSigner();
          IDBObjectStore.prototype.add = () => {
            throw new DOMException("full", "QuotaExceededError");
          };
          const note = { kind: "note", subject: "J1", about: { text: "x" } };
          try {
            await journal.record(note, signer);
            return "saved";
          } catch (error) { return error.name; }
        }"""
    )
    assert fault == "QuotaExceededError"
    assert phone.storage("entries") == []
