"""Stops beside the work at a joint: what waits for the office, no shift, a plan."""

from collections.abc import Iterator
from pathlib import Path

from tests.phone.gang import JOINT, Gang
from tests.phone.office import Office
from tests.phone.stop import Stop, typed
from tests.plan.sample import copied, spoil

WRONG = "await pin('111111');"


def outbox(gang: Gang) -> Iterator[Stop]:
    """What waits, what was not taken, and a history that does not hold."""
    yield Stop("office not reached", "/office")
    gang.phone.page.evaluate(_SPOIL)
    yield Stop("office, entries not taken", "/office")
    for alarm in ("hole", "history", "restored", "receipt"):
        gang.phone.page.evaluate(_ALARM, alarm)
        yield Stop(f"office, alarm {alarm}", "/office")
    gang.phone.page.evaluate(_ALARM, None)


_SPOIL = """async () => {
  const { transact } = await import("/phone/device/database.js");
  const { refresh } = await import("/phone/screens/model.js");
  const all = await transact(["entries"], "readonly", (s) => s("entries").getAll());
  const why = ["unknown_key", "bad_signature", "other_device", "revoked_key"];
  const rows = all.filter((row) => row.subject && !row.mine).slice(0, why.length)
    .map((row, place) => ({ ...row, id: `f${row.id.slice(1)}`, office: "quarantined",
      reason: why[place], fault: "signature" }));
  rows.push({ ...rows[0], id: "f".repeat(64), bytes: '{"kind":"done","sub',
    fault: "unreadable", reason: undefined });
  await transact(["entries"], "readwrite", (s) => rows.map((r) => s("entries").put(r)));
  await refresh();
}"""
"""Keeps rows as they are kept when the office did not take them, or nobody can."""
_ALARM = """async (alarm) => {
  const { syncStatus } = await import("/phone/device/sync.js");
  const { model, changed } = await import("/phone/screens/model.js");
  model.sync = { ...syncStatus(), alarm };
  changed();
}"""


def nobody(gang: Gang) -> Iterator[Stop]:
    """A phone on which no shift runs."""
    gang.phone.page.evaluate(_END_SHIFT)
    yield Stop("joint, no shift", f"/joint/{JOINT}")
    yield Stop("card, no shift", f"/stop/{JOINT}/rain")
    yield Stop("people, no shift", "/people")


_END_SHIFT = """async () => {
  const { endShift } = await import("/phone/device/keys.js");
  const { refresh } = await import("/phone/screens/model.js");
  await endShift();
  await refresh();
}"""


def with_office(gang: Gang, office: Office, folder: Path) -> Iterator[Stop]:
    """A plan that waits for signatures, and an office that answers no."""
    site = copied(folder / "site")
    spoil(site, "site.toml", "revision = 1", "revision = 2")
    office.command("load", str(site))
    office.start()
    gang.phone.page.evaluate(_KICK)
    gang.phone.until(_PLAN_CAME)
    yield Stop("plan to sign", "/plan")
    yield Stop("plan, PIN", "/plan", "await tap('#sign-plan'); await seen('.pinpad');")
    yield Stop("site with a plan to sign", "/", "await seen('#to-plan');")
    yield Stop("more with a plan to sign", "/more", "await seen('#to-plan');")
    yield Stop("office reached", "/office")
    yield Stop("enrol, code not known", "/enrol", typed("ABCD-EFGH")
               + "await seen('#screen .note:not(:empty)');")  # fmt: skip
    code = typed(office.code("isaura")) + "await seen('.pinpad');"
    yield Stop("enrol, PIN", "/enrol", code)
    yield Stop("enrol, easy PIN", "/enrol", f"{code} {WRONG}")
    yield Stop("enrol, PINs differ", "/enrol",
               f"{code} await pin('274951'); await pin('274952');")  # fmt: skip


_KICK = """async () => {
  const { kick } = await import("/phone/device/sync.js");
  kick();
}"""
_PLAN_CAME = """async () => {
  const { waitingPlan } = await import("/phone/device/library.js");
  const { model } = await import("/phone/screens/model.js");
  return Boolean(model.plan && await waitingPlan());
}"""
