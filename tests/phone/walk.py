"""A walk through every screen and state of the phone, with one gang.

`stops` gives one stop after the other and brings the gang on between them: the phone
is in a stop's state until the next one is asked for.
"""

from collections.abc import Iterator
from pathlib import Path

from fieldapp.clock import utc_now_ms
from tests.phone.gang import ALL_READ, JOINT, Gang
from tests.phone.office import Office
from tests.phone.stop import Stop, typed
from tests.phone.walk_aside import WRONG, nobody, outbox, register, with_office

DUCT, DAY = "t-1L", "g2-1"
FACES, POINT = f"/form/{JOINT}/faces/-", f"/point/{JOINT}/mixing"


def stops(gang: Gang, office: Office, folder: Path) -> Iterator[Stop]:
    """Walk from the open gap to the end of the race, and through all else."""
    yield from _way_in()
    yield from _form()
    yield from _people()
    yield from _roads(gang)
    yield from register(gang)
    gang.tell({"step": "faces", "values": ALL_READ})
    yield Stop("a step is next", f"/joint/{JOINT}")
    gang.tell({"step": "ready"})
    yield from _prepared()
    yield from _gate(gang)
    yield from _race(gang)
    yield from _stopped(gang)
    yield from outbox(gang)
    yield from nobody(gang)
    yield from with_office(gang, office, folder)


def _way_in() -> Iterator[Stop]:
    yield Stop("site", "/", "await seen('[data-subject]');")
    yield Stop(
        "site, found", "/", "await seen('[data-subject]');await type('#find', 'w 1');"
    )
    yield Stop(
        "site, not found",
        "/",
        "await seen('[data-subject]');await type('#find', 'nowhere at all');",
    )
    yield Stop("joint before its faces", f"/joint/{JOINT}")
    yield Stop("joint, a done step open", f"/joint/{JOINT}",
               "await tap('[data-step=\"bars-in\"] .row');")  # fmt: skip
    yield Stop("joint to hang next", "/joint/j-w2")
    yield Stop("duct", f"/joint/{DUCT}")
    yield Stop("grouting day", f"/joint/{DAY}")
    yield Stop("no such subject", "/joint/j-none")


def _form() -> Iterator[Stop]:
    yield Stop("form, a choice", FACES)
    air = "await tap('[data-field=\"air\"]');"
    yield Stop("form, a figure", FACES, f"{air} await figure('22.5');")
    yield Stop("form, too fine", FACES, f"{air} await figure('22.55');")
    yield Stop("form, impossible", FACES, f"{air} await figure('77');")
    item = "await tap('[data-field=\"thermometer\"]');"
    yield Stop("form, an item", FACES, item)
    yield Stop("form, a foreign label", FACES, f"{item} await type('#label', 'x-99');")
    yield Stop("form, label before the camera", FACES, f"{item}"
               "await tap('#scan-label'); await seen('#label-scan');")  # fmt: skip
    yield Stop("form, copied from paper", FACES,
               "await tap('[data-field=\"paper\"]'); await tap('[data-value=paper]');"
               "await tap('[data-field=\"when\"]');")  # fmt: skip
    yield Stop("form, photos", FACES, "await tap('[data-field=\"photos\"]');")
    yield Stop("form, a gate passed", f"/form/{JOINT}/mix-warm/kit-1/anyway",
               "await tap('[data-field=\"reason\"]');")  # fmt: skip


def _people() -> Iterator[Stop]:
    yield Stop("people", "/people")
    yield Stop("people, PIN", "/people", "await tap('[data-person=edric] .act');")
    yield Stop("people, wrong PIN", "/people",
               f"await tap('[data-person=caspar] .act'); {WRONG}"
               "await frames(60);", slow=True)  # fmt: skip
    yield Stop("enrol", "/enrol")
    yield Stop("enrol, no office", "/enrol", typed("ABCD-EFGH")
               + "await seen('#screen .note:not(:empty)');")  # fmt: skip
    yield Stop("more", "/more")
    yield Stop("keys of a person", "/keys/own/leofric")
    yield Stop("keys, asking, PIN", "/keys/ask")
    yield Stop("keys, asking", "/keys/ask",
               "await pin('274951'); await pin('274951'); await seen('canvas.qr');",
               slow=True)  # fmt: skip
    yield Stop("keys, damaged", "/keys/sign/FR1:KEY:x")
    yield Stop("plan, none", "/plan")


def _roads(gang: Gang) -> Iterator[Stop]:
    roads = f"/roads/{JOINT}"
    asked = gang.phone.page.evaluate(_ASKED)
    yield Stop("keys, signing", f"/keys/sign/{asked}")
    yield Stop("roads", roads)
    yield Stop("roads of the phone", "/roads")
    yield Stop("roads, a file read", roads,
               f"await give('#entries-file', await parcel('{JOINT}'));"
               "await seen('#received');")  # fmt: skip
    yield Stop("roads, a spoilt file", roads,
               f"await give('#entries-file', await parcel('{JOINT}', true));"
               "await seen('#received');")  # fmt: skip
    yield Stop("roads, no parcel", roads,
               "await give('#entries-file', new Blob(['{']));"
               "await seen('#outcome .bad');")  # fmt: skip
    yield Stop("show, many codes", f"/show/all/{JOINT}", "await seen('#frame-after');")
    yield Stop("show, nothing", "/show/new/j-w9", "await seen('#screen .big');")
    yield Stop("scan, no camera", "/scan", "await frames(20);")
    yield Stop("scan, taken in", "/scan",
               f"await give('#code-pictures', ...await codesOf('{JOINT}'));"
               "await seen('#received');")  # fmt: skip
    yield Stop("scan, a label", "/scan",
               "await give('#code-pictures', await picture('FR1:ITEM:x:y:z'));"
               "await seen('#scan-note:not(:empty)');")  # fmt: skip


_ASKED = """async () => {
  const { askForKey } = await import("/phone/device/roads/further.js");
  const { text } = await askForKey("274951");
  return encodeURIComponent(text);
}"""


def _prepared() -> Iterator[Stop]:
    yield Stop("joint, a gate next", f"/joint/{JOINT}")
    yield Stop("gate ready", POINT)
    yield Stop("nothing wrong", f"/nonconformance/{JOINT}")
    yield Stop("nonconformance, raising", f"/nonconformance/{JOINT}",
               "await tap('#dock .plain');")  # fmt: skip
    yield Stop("line", f"/line/{JOINT}/faces/-")
    yield Stop("line, discarding", f"/line/{JOINT}/bars-in/b1",
               "await tap('#discard');")  # fmt: skip
    yield Stop("correction", f"{FACES}/correct")
    yield Stop("gate, PIN", POINT, "await tap('#release'); await seen('.pinpad');")
    yield Stop("gate, refusing", POINT, "await tap('#refuse');")
    yield Stop("gate, with conditions", POINT, "await tap('#with-conditions');")
    yield Stop("gate, several may", f"/point/{JOINT}/lift", "await tap('#refuse');"
               "await tap('#screen .choice'); await tap('#refuse-now');")  # fmt: skip
    yield Stop("show, one code", f"/roads/{JOINT}",
               "await tap('[data-show=one]'); await seen('canvas.qr');")  # fmt: skip
    yield Stop("witness", f"/point/{JOINT}/weight-seen")


def _gate(gang: Gang) -> Iterator[Stop]:
    gang.sign({"kind": "called", "point": "mixing"})
    yield Stop("gate called", POINT)
    gang.sign({"kind": "refusal", "point": "mixing",
               "about": {"reason": "Not seen at the face"}}, "leofric")  # fmt: skip
    yield Stop("gate refused", POINT)
    yield Stop("joint, gate refused", f"/joint/{JOINT}")
    gang.tell({"step": "ready"})
    gang.sign({"kind": "release", "point": "mixing", "about": {"conditions": [
        {"text": "Clean the drain holes of the soffit", "before": "weight-off"}]},
    }, "leofric")  # fmt: skip
    yield Stop("gate released with conditions", POINT)
    yield Stop("condition, closing", POINT, "await tap('[data-close]');")
    yield Stop("GO", f"/joint/{JOINT}")
    _ahead(gang, 27)
    yield Stop("release runs out", f"/joint/{JOINT}")
    _ahead(gang, 40)
    yield Stop("release expired", POINT)
    _ahead(gang, 0)
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    yield Stop("joint stopped", f"/joint/{JOINT}")
    yield Stop("card of a stop recorded", f"/stop/{JOINT}/rain")
    gang.sign({"kind": "made_safe", "about": {"how": "Rain"}})
    yield Stop("release lapsed", POINT)
    yield Stop("joint, release lapsed", f"/joint/{JOINT}")
    gang.release("leofric")


def _race(gang: Gang) -> Iterator[Stop]:
    gang.first_kit_at(utc_now_ms() - 60_000)
    gang.tell({"step": "mix-warm"}, {"step": "spread"})
    _ahead(gang, 5)
    yield Stop("race", f"/joint/{JOINT}")
    yield Stop("race, bar by bar", f"/form/{JOINT}/bars/b1-r1",
               "await tap('[data-field=pressure]');")  # fmt: skip
    yield Stop("race, a bead with its photo", f"/form/{JOINT}/bead/deck")
    yield Stop("race, a step open", f"/joint/{JOINT}",
               "await tap('[data-step=spots] .row');")  # fmt: skip
    yield from _clocks(gang)
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    faults = f"/nonconformance/{JOINT}"
    yield Stop("nonconformances", faults)
    yield Stop("nonconformance", faults, "await tap('[data-fault]');")
    yield Stop("nonconformance, rework", faults, "await tap('[data-fault]');"
               "await tap('[data-verdict=rework]');")  # fmt: skip


def _clocks(gang: Gang) -> Iterator[Stop]:
    """What the race looks like as its time runs out, and after."""
    race = f"/joint/{JOINT}"
    for name, ahead in (("soon", 22), ("too late", 38), ("over", 80)):
        _ahead(gang, ahead)
        yield Stop(f"race, {name}", race)
    yield Stop("race over, a form", f"/form/{JOINT}/bars/b1-r1")
    _ahead(gang, 0)


def _stopped(gang: Gang) -> Iterator[Stop]:
    yield Stop("STOP, where", "/stop", "await seen('[data-subject]');")
    yield Stop("STOP, why", f"/stop/{JOINT}")
    for card in ("rain", "bar", "duct", "inspector"):
        yield Stop(f"card {card}", f"/stop/{JOINT}/{card}")
    gang.go_on()
    yield Stop("joint after the race", f"/joint/{JOINT}")
    yield Stop("gate of the stresses", f"/point/{JOINT}/weight")
    yield Stop("review", f"/point/{JOINT}/film-signed")


def _ahead(gang: Gang, minutes: int) -> None:
    gang.phone.page.evaluate("(minutes) => walk.ahead(minutes)", minutes)
