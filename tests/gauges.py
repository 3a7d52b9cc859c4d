"""Two joints that choose a gauge from the register, and ways to use and certify it."""

from typing import Any

from fieldapp.lookups import folded
from fieldapp.play.phone import Phone
from tests.people import FOREMAN, NOON, SUBJECT, Stage, sheet

MINUTE_MS = 60_000
STORES = "sif"
PERSON = {"id": STORES, "name": "Sif Hale", "roles": ["stores"],
          "organisation": "build"}  # fmt: skip
GAUGE: dict[str, Any] = {"label": "Gauge 1", "kind": "gauge", "numbers": {"zero": 3},
                         "expires": NOON + 60 * MINUTE_MS}  # fmt: skip


def with_gauge(subject: str = SUBJECT, **item: Any) -> dict[str, Any]:
    """Give the small sheet with a gauge to choose at the first step."""
    made = sheet(subject=subject, title=f"Joint {subject[1:]}")
    made["steps"]["wipe"]["fields"].append(
        {"id": "gauge", "label": "Gauge", "kind": "item", "items": "gauge", "need": 0}
    )
    made["items"] = {
        "g1": GAUGE | item,
        "b1": {"label": "A place", "kind": "bar", "numbers": {}},
    }
    return made


def measure(site: Stage, phone: Phone, subject: str, **fields: Any) -> str:
    found = folded(site.wired.reader, subject, site.now)
    assert found is not None
    known = found.register.get("g1")
    entry = phone.write(
        "done", person=FOREMAN, now=site.now, subject=subject, sheet=found.sheet.hash,
        step="wipe", values={"temp": 215, "gauge": "g1"},
        needs=[known["entry"]] if known else None, **fields,
    )  # fmt: skip
    site.world.sync(phone, site.now)
    return entry.id


def certify(site: Stage, phone: Phone, who: str = STORES, **about: Any) -> str:
    told = {"item": "g1", "kind": "gauge", "label": "Gauge 1", **about}
    entry = phone.write(
        "registered", person=who, now=site.now, about=told, values={"zero": 4}
    )
    site.world.sync(phone, site.now)
    return entry.id


def faults(site: Stage, subject: str) -> list[tuple[str, str]]:
    found = folded(site.wired.reader, subject, site.now)
    assert found is not None
    return [(f["code"], f.get("check", "")) for f in found.state["nonconformances"]]
