"""No word that a form says of a figure is cut or covered."""

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import HEIGHT, WIDTH

SIZES = ((WIDTH, HEIGHT), (320, 640))
HOT = f"/form/{JOINT}/face-temp/-"


def test_every_word_of_what_a_figure_means_is_read(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    _race(gang)
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        for language in ("en", "de", "es"):
            page.evaluate(_SPEAK, language)
            _open(gang, HOT)
            phone.tap('[data-field="hottest"]')
            for _ in range(3):
                phone.tap('#dock [data-key="erase"]')
            phone.type_figure("36")
            phone.until("() => document.querySelector('#means.red p b')")
            page.wait_for_timeout(100)
            where = (width, language)
            assert page.evaluate(_WHOLE), where
            assert page.evaluate(_NAME_SEEN), where
            assert page.evaluate(_LEAST_KEY) >= 60, where


def _race(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(*[{"step": step} for step in ("mix-warm", "spread")] * 2)


def _open(gang: Gang, route: str) -> None:
    page = gang.phone.page
    page.evaluate("() => { location.hash = '/more'; }")
    gang.phone.until("() => document.body.dataset.screen === 'more'")
    page.evaluate("(route) => { location.hash = route; }", route)
    gang.phone.until("() => document.body.dataset.screen === 'form'")


_SPEAK = """async (language) => {
  const { setSetting } = await import("/phone/screens/settings.js");
  await setSetting("language", language);
  await (await import("/phone/screens/words.js")).speak(language);
}"""
_WHOLE = """() => {
  const { scrollHeight, clientHeight } = document.getElementById("means");
  return scrollHeight <= clientHeight;
}"""
_NAME_SEEN = """() => {
  const name = document.querySelector(".field.active .flabel");
  const { left, top } = name.getBoundingClientRect();
  return name.contains(document.elementFromPoint(left + 8, top + 8));
}"""
_LEAST_KEY = """() => Math.min(...[...document.querySelectorAll("#dock .pad button")]
  .map((one) => one.getBoundingClientRect().height))"""
