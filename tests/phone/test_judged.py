"""A figure beyond its limits says so before and after it is saved; what is not fit is
not taken over; what only time opens, or a spare, is no next work.
"""

from typing import Any

from tests.phone.gang import ALL_READ, JOINT, PINS, Gang
from tests.phone.handset import Handset

HOT = "3"
LATE = 4 * 60_000
_CALL = """async ([file, name, told]) =>
  (await import(`/phone/screens/${file}.js`))[name](...told) ?? null"""


def test_an_adhesive_chosen_later_judges_the_faces_read_before_it(gang: Gang) -> None:
    phone = gang.phone
    gang.act()
    for _ in range(2):
        gang.choose("1")
    gang.figure("30")
    phone.type_figure("41.5")
    # Inside of what is known by now is not inside of all there is.
    phone.sees("judged further once “Adhesive” is chosen", "#means")
    gang.save()
    for figure in ("30", "39", "33", "40"):
        gang.figure(figure)
    gang.choose_first()
    assert phone.page.locator('[data-field="hot-new"].red').count() == 0
    gang.choose(HOT)
    # The cursor is on the last question; what is beyond stays red with its limit.
    hot = '[data-field="hot-new"].red'
    phone.sees("41.5", hot)
    phone.sees("40.0\u00a0°C", hot)
    assert phone.page.locator('[data-field="hot-old"].red').count() == 0
    gang.choose("1")
    phone.sees("Fails until read again", "#means.red")
    phone.until("() => document.querySelector('[data-key=\"go\"]').dataset.warns")
    gang.save()
    phone.until(f"() => location.hash === '#/joint/{JOINT}'")
    phone.page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/faces/-'; }}")
    phone.sees("failed", "#screen .headline")
    assert "in limits" not in phone.page.inner_text("#screen")
    phone.sees("40.0\u00a0°C", 'dd[data-field="hot-new"] .bad')
    assert phone.page.locator('dd[data-field="hot-old"] .bad').count() == 0


def test_of_two_ends_the_stricter_stands_beside_the_figure(gang: Gang) -> None:
    phone = gang.phone
    read = ALL_READ | {"formulation": 1, "cold-new": 42, "cold-old": 42}
    gang.tell({"step": "faces", "values": read})
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/cold-route/-'; }}")
    # 40 °F would do for the concrete; the adhesive's window begins above that.
    phone.sees("5.0\u00a0°C", '[data-field="coldest"]')
    phone.sees("where that begins lower", "#screen .help")


def test_whoever_starts_a_shift_from_a_joint_goes_on_there(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate("() => { location.hash = '#/people'; }")
    phone.tap('[data-person="jorun"] button', "End shift")
    phone.sees("Start my shift", '[data-person="jorun"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("Start a shift to record", "#dock")
    phone.tap("#dock .main")
    phone.tap('[data-person="jorun"] .act')
    phone.type_pin(PINS["jorun"])
    phone.until(f"() => location.hash === '#/joint/{JOINT}'")
    phone.until("() => document.body.dataset.screen === 'joint'")


def test_an_item_not_fit_for_use_is_not_taken_over(bare_phone: Handset) -> None:
    field = {"id": "jack", "kind": "item", "items": "jack", "same": 1}
    read = {"at": 2, "values": {"jack": "a"}}

    def over(**item: int) -> Any:
        sheet = {"steps": {"bars": {}}, "items": {"a": {"kind": "jack", **item}}}
        state = {"steps": {"bars": {"lines": {"b1": read}}}}
        told = {"sheet": sheet, "state": state, "entries": [], "subject": "j"}
        return call(bare_phone, "taken", "takenOver", told, "bars", "b2", field)

    assert over() == "a"
    assert over(expires=1) is None
    assert over(uses=1, expires=10**14) == "a"


def test_what_only_time_opens_is_no_next_work(bare_phone: Handset) -> None:
    sheet = {
        "flow": ["kept", "cubes"], "points": {},
        "steps": {"kept": {"class": "gated"}, "cubes": {"class": "gated"}},
    }  # fmt: skip
    held = [{"code": "hold_running", "facts": {"hold": "day", "until": 5}}]
    kept = {"status": "closed", "refusals": held}
    steps = {"kept": kept, "cubes": {"status": "open", "refusals": []}}
    told = {"sheet": sheet, "state": {"steps": steps, "points": {}}}
    assert call(bare_phone, "column", "currentOf", told) == "cubes"
    # With nothing else left it stands there, shut, and is not called done.
    steps["cubes"]["status"] = "done"
    assert call(bare_phone, "column", "currentOf", told) == "kept"


def test_a_race_of_a_phone_not_heard_is_taken_over_from_paper(
    bare_phone: Handset,
) -> None:
    now = bare_phone.page.evaluate("() => Date.now()")
    bare_phone.page.evaluate(_SHIFT)
    assert _paper(bare_phone, "other", now - LATE) == "from-paper"
    assert _paper(bare_phone, "other", now) is None
    assert _paper(bare_phone, "mine", now - LATE) is None


def test_a_choice_asks_for_the_figure_it_names(bare_phone: Handset) -> None:
    assert _asked(bare_phone, 2) is True
    assert _asked(bare_phone, 1) is False
    assert _asked(bare_phone, None) is False


def test_save_says_what_is_wanted_and_missing(bare_phone: Handset) -> None:
    def wanted(**extension: Any) -> Any:
        field = {"id": "extension", "label": "Extension", "kind": "number"}
        entries = [
            {"field": {"id": "jack", "label": "Jack", "need": 1}},
            {"field": field} | extension,
            {"photos": 2, "hashes": photos},
        ]
        return call(bare_phone, "wanted", "wantedBy", {"entries": entries})

    photos = ["a", "b"]
    assert wanted() == ""
    assert wanted(asked=True, value=11) == ""
    assert wanted(asked=True) == "missing: Extension"
    assert wanted(asked=True, skipped=True) == "missing: Extension"
    photos.pop()
    assert wanted(asked=True) == "missing: Extension \u00b7 photo missing"
    photos.pop()
    assert wanted() == "2 photos missing"


def test_an_alarm_seen_without_what_asks_for_a_pin_says_so(bare_phone: Handset) -> None:
    page = bare_phone.page
    page.route("**/phone/screens/pin.js", lambda route: route.abort())
    try:
        assert "needs the network once" in page.evaluate(_SEEN)
    finally:
        page.unroute("**/phone/screens/pin.js")


def test_words_with_room_for_all_of_them_cost_no_picture(bare_phone: Handset) -> None:
    # The same place says one thing after another, each as high as it must be.
    assert bare_phone.page.evaluate(_FITTED) == [[False, False]] * 3


def _asked(phone: Handset, chosen: int | None) -> Any:
    offsets = {"id": "offsets", "kind": "choice", "need": True}
    offset = {"id": "offset", "kind": "number", "unit": "mm", "places": 1}
    told = {"word": "reduce", "how": "count", "step": "fit",
            "value": {"word": "reading", "step": "fit", "field": "offset"}}  # fmt: skip
    must = {"word": "any", "of": [
        {"word": "in", "set": [1, 3],
         "value": {"word": "reading", "step": "fit", "field": "offsets"}},
        {"word": "between", "value": "told", "low": 1},
    ]}  # fmt: skip
    steps = {"fit": {"fields": [offsets, offset],
                     "checks": [{"id": "how-much", "must": must}]}}  # fmt: skip
    entries: list[dict[str, Any]] = [{"field": offsets}, {"field": offset, "found": []}]
    if chosen is not None:
        entries[0]["value"] = chosen
    form = {"open": {"sheet": {"steps": steps, "values": {"told": told}}},
            "step": "fit", "line": "", "entries": entries}  # fmt: skip
    return call(phone, "judged", "told", form, entries[1])["asked"]


def call(phone: Handset, file: str, name: str, *told: Any) -> Any:
    return phone.page.evaluate(_CALL, [file, name, list(told)])


def _paper(phone: Handset, device: str, made: int) -> Any:
    entry = {"step": "mix", "made": made, "device": device}
    sheet = {"steps": {"mix": {"class": "raced"}}}
    told = {"sheet": sheet, "entries": [entry], "subject": "j"}
    return phone.page.evaluate(_PAPER, [told, [{"step": "mix", "line": "k2"}]])


_FITTED = """async () => {
  const { fit } = await import("/phone/screens/uncover.js");
  const place = document.createElement("div");
  place.style.cssText = "width: 200px; max-height: 300px; overflow: auto";
  // As a style sheet gives it: of the element itself it is what `fit` makes it.
  const sheet = new CSSStyleSheet();
  sheet.replaceSync("div { height: 40px }");
  document.adoptedStyleSheets = [sheet];
  document.documentElement.append(place);
  const found = ["word ".repeat(60), "word ".repeat(40), "word"].map((said) => {
    place.textContent = said;
    fit(place);
    return [place.classList.contains("long"), place.scrollHeight > place.clientHeight];
  });
  place.remove();
  document.adoptedStyleSheets = [];
  return found;
}"""
_SEEN = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { showAlarm } = await import("/phone/screens/bell.js");
  Object.assign(model, { shift: null, here: [{ person: "jorun" }] });
  const place = document.createElement("div");
  place.id = "alarm";
  document.documentElement.append(place);
  showAlarm({ id: "a", priority: "high", text: "Pressure by", respond: "" });
  const key = place.querySelector(".seen");
  key.click();
  for (let tries = 100; tries && key.textContent === "Seen"; tries -= 1) {
    await new Promise((on) => setTimeout(on, 20));
  }
  place.remove();
  model.here = [];
  return key.textContent;
}"""
_SHIFT = """async () => {
  const { model } = await import("/phone/screens/model.js");
  model.shift = { person: "jorun", until: Date.now() + 60_000 };
  model.identity = { device: "mine" };
}"""
_PAPER = """async ([open, acts]) =>
  (await import("/phone/screens/instead.js")).paperKey(open, acts)?.id ?? null"""


def test_a_choice_that_nobody_asks_for_is_not_waited_for(gang: Gang) -> None:
    page = gang.phone.page
    assert page.evaluate(_AWAITS, True) == "judged further once “Adhesive” is chosen"
    assert page.evaluate(_AWAITS, False) == ""


_AWAITS = """async (need) => {
  const { boundsOf } = await import("/phone/screens/judged.js");
  const { model } = await import("/phone/screens/model.js");
  // What is kept for the first screen has no checks: the rules come after it.
  for (let tries = 500; tries && !model.open?.scene; tries -= 1) {
    await new Promise((on) => setTimeout(on, 20));
  }
  const open = { ...model.open, sheet: structuredClone(model.open.sheet) };
  const [hot, kind] = ["hot-new", "formulation"].map((id) =>
    open.sheet.steps.faces.fields.find((field) => field.id === id));
  kind.need = need;
  const entries = [{ field: hot, value: 415 }, { field: kind }];
  return boundsOf({ open, step: "faces", line: "", entries }, hot).awaits;
}"""
