// The keys of a point that are seldom wanted. They come after the evidence, which
// nothing may push out of sight.

import { model } from "./model.js";
import { button, h } from "./parts.js";
import { signOnce } from "./signing.js";
import { words } from "./later.js";

const text = words.point;

/**
 * @param {object} open the open subject @param {string} id of the point
 * @param {object} view its screen @param {{draw:() => void, able:string[],
 *   called:(found:object) => HTMLElement, conditionally:(view:object) => void,
 *   notice:() => void}} keys what the screen itself does @returns {HTMLElement}
 */
export function seldomKeys(open, id, view, keys) {
  const point = open.sheet.points[id];
  const found = open.state.points[id];
  const { called, notice_until: given, status } = found;
  const isReleased = status === "released";
  return h("div.ask", {}, called === undefined ? null : keys.called(found),
    called === undefined && !isReleased ? null : byHand(open, view),
    ...(isReleased ? [] : [
      keys.able.length && point.shuts.length ? button("plain", {
        mark: "note", label: text.withConditions, id: "with-conditions",
        onclick: () => keys.conditionally(view),
      }) : null,
      point.spoken_ms && model.shift ? button("plain", {
        mark: "call", label: words.spoken.title, id: "spoken",
        onclick: () => spoken(view, id, keys),
      }) : null,
      point.class === "hold" && point.independent && model.shift ? button("plain", {
        mark: "people", label: words.crew.title, id: "crew",
        onclick: () => crew(view, id, keys),
      }) : null,
      point.class === "witness" && given === undefined ? button("plain", {
        mark: "bell", label: text.notice, id: "notice-came", onclick: keys.notice,
      }) : null]));
}

// Whoever is called, or waits for the release, may have no network either.
function byHand({ subject }, { go }) {
  return button("plain", { mark: "phone", label: words.phone.roads, id: "by-hand",
    onclick: () => go(`/roads/${subject}`) });
}

function spoken(view, id, keys) {
  return aside(view, id, keys, async () => (await import("./spoken.js")).askSpoken,
    (about) => ({ kind: "spoken", point: id, about }));
}

function crew(view, id, keys) {
  return aside(view, id, keys, async () => (await import("./crew.js")).askCrew,
    (people) => ({ kind: "crew", about: { people } }));
}

// Asked by what may not be on this phone yet, if the network went before it came.
async function aside(view, id, { draw }, load, draftOf) {
  view.asking = true;
  const ask = await load().catch(() => undefined);
  if (!view.here()) return;
  let busy = false;
  const done = async (said) => {
    if (busy) return;
    busy = true;
    const entry = await signOnce(draftOf(said), model.shift);
    busy = false;
    // What was written stays where it was not kept.
    if (entry && view.here()) draw();
  };
  view.note = ask ? "" : words.phone.away;
  if (ask) ask({ ...view, point: id, left: draw, done });
  else draw();
}
