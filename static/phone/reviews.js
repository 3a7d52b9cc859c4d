// One sitting over several joints: after a review was signed, whoever signed it is led
// to the next subject of the kind whose same review waits for them. Each is looked at
// and signed by itself; nothing is signed for two.

import { model, readAll } from "./model.js";
import { button, fill, h } from "./parts.js";
import { inOrder } from "./numbers.js";
import { fits } from "./releases.js";
import { words } from "./later.js";

const text = words.reviews;
const WAITING = ["called", "ready"];

/**
 * Offer the next subject whose same review waits.
 * @param {object} view the point's screen @param {string} point
 * @param {object} entry what was just signed
 * @returns {Promise<boolean>} false where none waits, or this is no review
 */
export async function askNext(view, point, { person, subject }) {
  const { sheet } = model.open;
  if (sheet.points[point].class !== "review") return false;
  const waiting = (await readAll()).filter((one) => one.subject !== subject
    && one.sheet?.kind === sheet.kind && mayNow(one, point, person))
    .sort((a, b) => inOrder(a.sheet.title, b.sheet.title));
  if (waiting.length === 0 || !view.here()) return false;
  view.asking = true;
  fill(view.element, h("h2", {}, sheet.points[point].title),
    h("p", { id: "reviews-waiting" }, text.waiting(waiting.length)),
    h("ul", {}, ...waiting.map((one) => h("li", {}, one.sheet.title))));
  view.element.scrollTop = 0;
  fill(view.dock, h("div.pair", {},
    button("plain", { mark: "back", label: text.back, onclick: () =>
      view.go(view.home) }),
    button("main.blue", { mark: "shield", label: text.next, id: "next-review",
      note: waiting[0].sheet.title,
      onclick: () => view.go(`/point/${waiting[0].subject}/${point}`) })));
  return true;
}

function mayNow({ sheet, state }, point, person) {
  const { status, refusals = [] } = state?.points[point] ?? {};
  return WAITING.includes(status) && refusals.length === 0
    && sheet.points[point].releases.some((wanted) => fits(person, wanted));
}
