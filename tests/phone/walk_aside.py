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


def register(gang: Gang) -> Iterator[Stop]:
    """The register, as whoever may only read it sees it, and whoever enters items."""
    row = "await tap('[data-field={}]');"
    yield Stop("register, read only", "/register")
    yield Stop("register, entering refused", "/register/new")
    gang.phone.page.evaluate(_ENTERS, "foreman")
    yield Stop("register", "/register", "await tap('[data-kind=bar]');")
    yield Stop("register, found", "/register", "await type('#find', 'warm');")
    yield Stop("register, not found", "/register", "await type('#find', 'no such');")
    yield Stop("an item", "/register/item/jack-a", "await seen('dl.facts');")
    yield Stop("no such item", "/register/item/none")
    yield Stop("new item, its kind", "/register/new", "await seen('.fields');")
    label = "await seen('.fields');" + row.format("label")
    yield Stop("new item, its label", "/register/new/Warm,%20A%205501%20%2F%20B%205502",
               f"{label} await tap('#dock [data-key=go]');")  # fmt: skip
    yield Stop("new item, before the camera", "/register/new", f"{label}"
               "await tap('#scan-item'); await seen('#label-scan');")  # fmt: skip
    yield Stop("new item, its day", "/register/new",
               "await seen('.fields');" + row.format("expires")
               + "await figure('3102');")  # fmt: skip
    yield Stop("new certificate", "/register/renew/bar-01",
               "await seen('.fields');" + row.format("expires"))  # fmt: skip
    yield Stop("correcting a jack", "/register/correct/jack-a",
               "await seen('.fields');" + row.format("points"))  # fmt: skip
    yield Stop("correcting, why", "/register/correct/grout-g1",
               "await seen('.fields');" + row.format("reason"))  # fmt: skip
    yield Stop("correcting, photos", "/register/correct/grout-g1",
               "await seen('.fields');" + row.format("photos"))  # fmt: skip
    yield Stop("form, an item to enter", f"/form/{JOINT}/faces/-",
               row.format("thermometer") + "await type('#label', 'x-99');")  # fmt: skip
    gang.phone.page.evaluate(_ENTERS, "stores")


_ENTERS = """async (role) => {
  const { transact } = await import("/phone/device/database.js");
  const { refresh } = await import("/phone/screens/model.js");
  const told = JSON.parse(await transact(["library"], "readonly", (s) =>
    s("library").get("bundle")));
  told.register.roles = [role];
  await transact(["library"], "readwrite", (s) =>
    s("library").put(JSON.stringify(told), "bundle"));
  await refresh();
}"""
"""Lets a role enter items, as if the site's files named it."""


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
