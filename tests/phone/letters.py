"""Letters inside the pictures of a page, as high as they come to the eye."""

from playwright.sync_api import Page

LEAST_PX = 11
SIZES = """() => [...document.querySelectorAll("main svg text")]
  .filter((one) => one.checkVisibility() && one.textContent.trim())
  .map((one) => {
    const shown = one.getScreenCTM();
    const size = parseFloat(getComputedStyle(one).fontSize);
    return [Math.round(100 * size * Math.hypot(shown.a, shown.b)) / 100,
            one.textContent];
  })"""


def letters(page: Page) -> list[tuple[float, str]]:
    """Give the height in CSS pixels of every text in a picture, and the text."""
    return [(size, text) for size, text in page.evaluate(SIZES)]


def too_small(page: Page) -> list[tuple[float, str]]:
    """Give what is lower than can be read at arm's length (common practice)."""
    return [each for each in letters(page) if each[0] < LEAST_PX]
