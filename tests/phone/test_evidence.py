"""What a signer is shown, and what is said of an entry that is kept but not shown."""

import re

from tests.phone.gang import ALL_READ, JOINT, Gang
from tests.phone.read_points import gates, reading

MINUTE_MS = 60_000
MOST_S = {"lift": 40, "mixing": 45, "weight": 53}
"""What an honest reading and the signature may take; the aim is a minute."""
MOST_EVERY_S = {"lift": 48, "mixing": 54, "weight": 62}
"""The same for whoever reads every word, the head's and the keys' as well."""
FRESH = r"Faces and air\s+\S*(\d\d):(\d\d) \(until .*?(\d\d):(\d\d)\)"
"""When it was read, and until when the plan takes it."""
_UNREADABLE = """() => {
  const { getAll } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.getAll = function (...asked) {
    if (this.name === "meta") throw new DOMException("no reading", "UnknownError");
    return getAll.apply(this, asked);
  };
}"""
"""Nothing can be read any more that a screen needs besides the entries."""


def test_what_is_within_limits_is_folded_and_what_is_not_stands_open(
    gang: Gang,
) -> None:
    phone = gang.phone
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("This gate is not ready")
    phone.until("() => document.querySelector('[data-rest]') !== null")
    shown = phone.page.locator("#screen, #dock").all_inner_texts()
    said = phone.page.locator(".missing li").all_inner_texts()
    assert said
    assert {one: "".join(shown).count(one) for one in said} == dict.fromkeys(said, 1)

    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    gang.prepare_surfaces()
    gang.act()
    # Warm: 15 to 35 °C, as sample_site/products.toml has it.
    folded = '.folded[data-rest="faces"]'
    phone.sees("Coldest: new face 18.4 · old face 17.9 ≥ 15.0 °C", folded)
    phone.sees("Hottest: new face 21.5 · old face 20.0 ≤ 35.0 °C", folded)
    assert phone.page.locator('[data-rest="faces"] dl').count() == 0
    phone.tap("#unfold")
    phone.sees("Rag stays dry", '[data-rest="faces"] dl')
    phone.tap("#unfold")
    phone.sees("Faces and air", folded)

    late = phone.page.evaluate("() => Date.now()") - 20 * MINUTE_MS
    gang.tell({"step": "faces", "values": ALL_READ, "at": late})
    phone.sees("Recorded late", '[data-rest="faces"]')
    phone.sees("Rag stays dry", '[data-rest="faces"] dl')
    assert phone.page.locator(folded).count() == 0


def test_a_step_that_warns_as_a_whole_is_not_told_as_within_its_limits(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    # Each point within 5 mm; eight segment lengths on it is 1.5 + 8 x 3.5 = 29.5 mm.
    levels = {"level-lf": 15, "level-rf": 15, "level-lb": -20, "level-rb": -20}
    gang.tell(*(
        {"step": "survey", "line": line, "values": {"off": off}}
        for line, off in levels.items()
    ))  # fmt: skip
    # Done, but a caution stands: the column says so without being opened.
    phone.sees("done", '[data-step="survey"].yellow .badge.yellow')
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    above = 'article[data-rest="survey"]:not(.folded)'
    phone.sees("the tip would be more than 25 mm off", above)
    phone.sees("Tip: 30 mm", above)
    assert phone.page.locator(f"{above} h3 .badge.yellow").count() == 1
    within = phone.page.evaluate(_AFTER_WITHIN)
    assert "Faces and air" in within
    assert "Line" in within
    assert "Levels" not in within


def test_a_photo_added_after_a_release_leaves_it_and_is_no_correction(
    gang: Gang,
) -> None:
    phone = gang.phone
    told = gang.tell({"step": "faces", "values": ALL_READ}, {"step": "ready"})
    gang.release("leofric")
    phone.sees("released", '[data-point="mixing"]')
    target = told[-1]["id"]
    about = {"target": target, "reason": "Photo added"}
    added = {"kind": "correction", "step": "ready", "values": {}, "about": about}
    gang.sign({**added, "photos": ["ab" * 32]})
    phone.sees("released", '[data-point="mixing"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("Photo added", '[data-rest="ready"]')
    assert "correction" not in phone.page.inner_text("#screen").lower()
    assert phone.page.locator("#lapsed-by").count() == 0


def test_what_lapsed_by_a_correction_says_the_old_figure_and_the_new(
    gang: Gang,
) -> None:
    phone = gang.phone
    told = gang.tell({"step": "faces", "values": ALL_READ}, {"step": "ready"})
    gang.release("leofric")
    phone.sees("released", '[data-point="mixing"]')
    about = {"target": told[0]["id"], "reason": "Misread"}
    gang.sign({"kind": "correction", "step": "faces", "values": {"air": 163},
               "about": about})  # fmt: skip
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    before = f"{ALL_READ['air'] / 10:.1f} °C"
    phone.sees(f"Faces and air: Air {before} → 16.3 °C", "#lapsed-by")
    # Above what lies over the foot of the screen: nobody has to look for it.
    phone.until("""() => document.querySelector("#lapsed-by").getBoundingClientRect()
      .bottom <= document.querySelector("#dock").getBoundingClientRect().top""")
    # Of what was read side by side with it the figure is another one's.
    said = phone.page.evaluate(_BESIDE, told[0]["id"]).replace("\u00a0", " ")
    assert f"Air {before} → 16.3 °C" in said


_BESIDE = """async (target) => {
  const { pointFacts } = await import("/phone/screens/facts.js");
  const { model } = await import("/phone/screens/model.js");
  const { entries } = model.open;
  const read = entries.find(({ id }) => id === target);
  const beside = { ...read, id: "beside", values: { ...read.values, air: 99 } };
  const open = { ...model.open, entries: [read, beside,
    ...entries.filter((one) => one !== read)] };
  return pointFacts(open, "mixing", () => {})
    .find((one) => one?.id === "lapsed-by").textContent;
}"""


_AFTER_WITHIN = """() => [...document.querySelectorAll(".within ~ *")]
  .map((one) => one.textContent).join(" ")"""


def test_nobody_signs_a_gate_whose_evidence_is_not_on_the_phone(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    phone.page.evaluate(_FORGET, "/phone/screens/rests.js")
    phone.restart()
    phone.sees("Look and decide", "#dock")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("it needs the network once", "#screen")
    assert phone.page.locator("#release").count() == 0
    assert phone.page.locator("#refuse").count() == 1


_FORGET = """async (path) => {
  for (const name of await caches.keys()) await (await caches.open(name)).delete(path);
}"""


def test_what_is_kept_and_cannot_be_shown_is_not_called_unsaved(gang: Gang) -> None:
    phone = gang.phone
    before = len(phone.storage("entries"))
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/ready/-'; }}")
    phone.until("() => document.body.dataset.screen === 'form'")
    phone.page.evaluate(_UNREADABLE)
    for _ in range(2):
        gang.choose("1")
    gang.save()
    phone.sees("Saved", "#notice")
    phone.sees("do not record it again", "#notice")
    assert "NOT SAVED" not in phone.page.inner_text("body")
    assert len(phone.storage("entries")) == before + 1
    phone.faults.clear()


def test_an_honest_reading_of_a_gate_and_its_signature_take_less_than_a_minute(
    gang: Gang,
) -> None:
    took = {}
    for gate in gates(gang):
        found = reading(gang, gate)
        # Nothing that decides is lost for brevity: each figure has its limit beside it.
        took[gate] = (found.seconds, found.every_second)
        if gate.endswith("/lift"):
            assert "Hook load 489 (465…513) kN" in found.text
        elif gate.endswith("/mixing"):
            # How long the reading is of use stands beside when it was read: an hour.
            asked = re.search(FRESH, found.text)
            assert asked is not None
            hour, minute, until, past = map(int, asked.groups())
            assert (until, past) == ((hour + 1) % 24, minute)
            assert "within the last 60 minutes" not in found.text
            assert "Twist 0.0 (±5.0) mm" in found.text
            # What has no figure shares a row: that it was good, and one tap to when.
            assert re.search(r"Ready to mix\s*\u00b7?\s*Segment hung", found.text)
        elif gate.endswith("/weight"):
            # What the gate demands of a figure stands beside the figure, once.
            place = "On the face: mean 0.391 ≥ 0.276 · least 0.271 ≥ 0.207 MPa"
            assert place in found.text
            assert "Weight on the bars: mean 0.391 ≥ 0.276 MPa" in found.text
            assert re.search(r"Spread: .* 0\.\d{3} ≤ 0\.500 MPa", found.text)
            assert found.text.count("0.276") == 2, "on the gear, and on the bars"
            assert "Not every bar has its extension in the last round." in found.text
            assert found.text.count("Jorun Faleck") == 1
    assert len(took) == 3
    for most, place in ((MOST_S, 0), (MOST_EVERY_S, 1)):
        limits = {gate: most[gate.rsplit("/")[-1]] for gate in took}
        assert {
            gate: each[place] for gate, each in took.items()
            if each[place] > limits[gate]
        } == {}  # fmt: skip


def test_what_is_behind_folds_into_a_line_and_what_is_not_as_it_should_be_stays(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    phone.sees("6 done", '[data-fold="day-before"]')
    phone.sees("released", '[data-point="lift"]')
    # What was just done, and what keeps people safe, stays at hand.
    phone.sees("Faces and air", '[data-step="faces"]')
    phone.sees("Segment set back down", '[data-step="set-down"]')
    assert phone.page.locator('[data-step="day-before"]').count() == 0
    phone.tap('[data-fold="day-before"] .row')
    phone.sees("done", '[data-step="day-before"]')
    assert phone.page.locator('[data-fold="day-before"]').count() == 0

    gang.release("leofric")
    gang.go_on()
    phone.page.evaluate("() => dispatchEvent(new HashChangeEvent('hashchange'))")
    # Bars without their extensions: a caution stands in sight.
    phone.sees("done", '[data-step="bars"]')
    phone.sees("3 done", '[data-fold="pot-kept"]')


def test_words_and_things_out_of_row_are_not_folded_to_their_ends(gang: Gang) -> None:
    folded = gang.phone.page.evaluate(_FOLDED)
    assert "clean \u00b7 crack at the corner \u00b7 dry" in folded
    assert "Bar 01 \u00b7 Bar 09 \u00b7 Bar 03, 32 mm" in folded


_FOLDED = """async () => {
  const { withinRows } = await import("/phone/screens/within.js");
  const bar = (name) => ({ label: `Bar ${name}, 32 mm`, kind: "bar", numbers: {} });
  const sheet = {
    items: { a: bar("01"), b: bar("09"), c: bar("03") },
    steps: { s: { title: "S", fields: [
      { id: "note", kind: "text" }, { id: "bar", kind: "item", items: "bar" },
    ] } },
  };
  const line = (id, bar, note) =>
    [id, { at: 0, person: "p", values: { bar, note }, entries: [] }];
  const lines = [line("1", "a", "clean"), line("2", "b", "crack at the corner"),
    line("3", "c", "dry")];
  const open = { sheet, state: { steps: { s: {} } }, entries: [] };
  const [row] = withinRows(open, [["s", lines]],
    { named: false, demands: [], photos: () => null });
  return row.textContent;
}"""


def test_a_noun_stays_as_it_is_written_where_figures_share_a_line(gang: Gang) -> None:
    said = gang.phone.page.evaluate(_FIGURES)
    assert said == [
        "On the face: mean 1 \u00b7 least 2",
        "Auf der Fl\u00e4che: Mittel 1 \u00b7 Kleinstwert 2",
        "Alte Fl\u00e4che: K\u00e4lteste Stelle 1 \u00b7 Hei\u00dfeste Stelle 2",
        "Old face: coldest 1 \u00b7 hottest 2",
    ]


_FIGURES = """async () => {
  const { figureLines } = await import("/phone/screens/figures.js");
  const line = (...labels) => figureLines(labels.map((label, place) =>
    ({ label, unit: "", ends: {}, figures: String(place + 1) })))
    .map((one) => one.textContent.trim()).join(" / ");
  return [line("Mean on the face", "Least on the face"),
    line("Mittel auf der Fl\u00e4che", "Kleinstwert auf der Fl\u00e4che"),
    line("K\u00e4lteste Stelle, alte Fl\u00e4che",
      "Hei\u00dfeste Stelle, alte Fl\u00e4che"),
    line("Coldest, old face", "Hottest, old face")];
}"""
