"""How long the desk's pages take over a site with work on it (printed, not judged).

Ten joints of the small race, each recorded to its end; medians of five askings.
"""

import time
from pathlib import Path
from statistics import median

from fieldapp.core.canonical import fingerprint
from fieldapp.store.database import connected
from tests.people import FOREMAN, INSPECTOR, NOON, put_in_force
from tests.web.race import ENGINEER, LIFE, MINUTE_MS, PICTURE, race, race_sheet

JOINTS = 10


def test_the_pages_of_a_site_with_ten_joints(tmp_path: Path) -> None:
    site = race(tmp_path)
    sheets = [race_sheet(f"J{number}", prerequisites=[]) for number in range(JOINTS)]
    with connected(site.desk.site.wired.door.store):
        put_in_force(
            site.desk.site.wired.door, *sheets, people=[ENGINEER], tables=[LIFE],
            **PICTURE,
        )  # fmt: skip
        for each in sheets:
            for minute, (kind, by, fields) in enumerate(WORK):
                site.phone.write(
                    kind, person=by, now=NOON + minute * MINUTE_MS,
                    subject=each["subject"], sheet=fingerprint(each), **fields,
                )  # fmt: skip
        site.desk.site.world.sync(site.phone, NOON)
    site.at(30)
    for path in ("/today", "/", "/queue", "/missing", "/register/", "/joints/J1"):
        took = []
        for _ in range(5):
            began = time.perf_counter()
            assert site.desk.client.get(path).status_code == 200
            took.append(time.perf_counter() - began)
        print(f"{path}: {median(took) * 1_000:.0f} ms")


WORK = [
    ("done", FOREMAN, {"step": "wipe", "values": {"temp": 215, "gauge": "g1"},
                       "photos": ["ab" * 32]}),
    ("called", FOREMAN, {"point": "go"}),
    ("release", INSPECTOR, {"point": "go"}),
    ("done", FOREMAN, {"step": "mix", "line": "k1"}),
    ("done", FOREMAN, {"step": "mix", "line": "k2"}),
    ("release", "elin", {"point": "look"}),
    ("done", FOREMAN, {"step": "close"}),
]  # fmt: skip
