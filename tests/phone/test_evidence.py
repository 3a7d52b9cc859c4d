"""What a signer is shown, and what is said of an entry that is kept but not shown."""

from tests.phone.gang import ALL_READ, JOINT, Gang

MINUTE_MS = 60_000
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
    phone.sees("Coldest point, new face 18.4\u00a0°C (at least 15.0\u00a0°C)", folded)
    phone.sees("Hottest point, new face 21.5\u00a0°C (at most 35.0\u00a0°C)", folded)
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
