"""The STOP card of a broken bar: what is left at once, asked once, taken back there."""

from typing import Any

from tests.phone.gang import JOINT, Gang


def test_a_broken_bar_shows_what_is_left_at_once(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on()
    phone.tap("#stop")
    phone.tap('[data-card="bar"]')
    before = _face(gang)
    # The bar worked on last comes first, and stays there.
    first = _bars(gang)[0]
    bar = '#card-step [data-line="b6"]'
    # sample_site/bars.csv: 450 kN, cap 507 kN.
    assert first["cap"] == 507.0
    assert first["headroom"] == round(507.0 - first["force"], 1)
    total = sum(bar["force"] for bar in _bars(gang))
    # One tap in a list that is scrolled records nothing, the next one does.
    phone.tap(bar)
    phone.sees("Lost: bar 6", "#record-lost")
    assert _face(gang) == before
    gang.tap_slowly("#record-lost")
    phone.sees("recorded", bar)
    after = _face(gang)
    # A bar that is lost carries nothing and has no room either.
    assert _bars(gang)[0] == {"force": 0.0}
    # On the gear the mean is the bars' sum over the area: it falls by the bar's share.
    wanted = before["mean"] * (total - first["force"]) / total
    # Told in thousandths, rounded down: what must not be too little.
    assert abs(after["mean"] - wanted) < 0.001
    assert after["least"] < before["least"]
    # Nothing of what is lost is green; taken back where it was recorded, all is there.
    gang.tap_slowly(bar)
    gang.tap_slowly("#to-line")
    phone.sees("lost", "#screen .badge.red")
    route = f"#/stop/{JOINT}/bar"
    phone.page.evaluate("(hash) => { location.hash = hash; }", route)
    gang.tap_slowly(bar)
    gang.tap_slowly('[data-reason="Recorded by mistake"]')
    phone.sees("headroom", bar)
    assert _face(gang) == before


def test_a_stress_that_is_not_known_says_which_bars_it_waits_for(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm"})
    route = f"#/stop/{JOINT}/bar"
    phone.page.evaluate("(hash) => { location.hash = hash; }", route)
    unknown = "#card-step [data-unknown]"
    phone.sees("Weight on the gear · Weight on the bars", unknown)
    phone.sees("not known until every bar has its round", unknown)
    assert "(" not in phone.page.inner_text(unknown)
    gang.tell(*({"step": "bars", "line": f"b{bar}-r1"} for bar in (1, 2, 3, 5)))
    phone.page.evaluate("() => dispatchEvent(new HashChangeEvent('hashchange'))")
    left = "(bar 4, under deck right · bar 6, web right)"
    phone.sees(f"every bar has its round {left}", unknown)
    assert "\u2014" not in phone.page.inner_text("#card-step .insight")
    gang.tell(*({"step": "bars", "line": f"b{bar}-r1"} for bar in (4, 6)))
    phone.page.evaluate("() => dispatchEvent(new HashChangeEvent('hashchange'))")
    phone.sees("Weight on the gear: mean 0.", "#card-step .insight")
    assert phone.page.locator(unknown).count() == 0


def _bars(gang: Gang) -> list[dict[str, float]]:
    notes: list[str] = gang.phone.page.locator(
        "#card-step button small"
    ).all_inner_texts()
    found = []
    for note in notes:
        parts = [part for part in note.split(" · ") if "recorded" not in part]
        figures = (_figure(part) for part in parts)
        found.append(dict(zip(("force", "cap", "headroom"), figures, strict=False)))
    return found


def _face(gang: Gang) -> dict[str, float]:
    line = gang.phone.page.locator("#card-step p").first.inner_text()
    said: dict[str, Any] = {}
    for part in line.split(": ", 1)[1].split(", "):
        name, figure = part.split(" ", 1)
        said[name] = _figure(figure)
    return said


def _figure(text: str) -> float:
    return float(next(word for word in text.replace("\u00a0", " ").split()
                      if word[0].isdigit()))  # fmt: skip
