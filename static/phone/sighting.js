// How lately the other arm was heard of, for whoever signs a lift, and a word for what
// somebody saw there: signed with two taps, where no phone of that arm is heard.

import { dayClockText, monoMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { button, h, holdOff } from "./parts.js";
import { signOnce } from "./signing.js";
import { words } from "./later.js";

const text = words.sighting;
const MINUTE_MS = 60_000;
/** Where and when somebody tapped that they have looked, not signed yet. */
let meant = null;

/**
 * What a point asks of the other arm, if anything; with `all` in the plan's words.
 * @returns {HTMLElement[]}
 */
export function otherArmHeard({ sheet, state }, point, all) {
  const { heard } = sheet.points[point];
  if (!heard) return [];
  const { heard: at, refusals = [], status } = state.points[point];
  const met = !refusals.some(({ code }) =>
    code === "never_heard" || code === "heard_long_ago");
  // What a gate already used rested on was judged when it was released.
  if (status === "released" && !met) return [];
  return [
    h(`p.demand.${met ? "good" : "bad"}`, { id: "arm-heard" },
      icon(met ? "tick" : "cross"), at === undefined ? text.never
        : text.at(dayClockText(at), Math.round(heard.within_ms / MINUTE_MS)),
      all || !met ? h("small", {}, ` ${heard.text} (${heard.source})`) : null),
    status !== "released" && model.shift ? signing(point) : null,
  ].filter(Boolean);
}

// The second tap signs, and never the same thumb's: what is said here lets a load be
// lifted. The screen is drawn anew meanwhile: whoever reads first keeps the key.
function signing(point) {
  const place = h("div", { id: "sighting" });
  const key = `${model.open.subject}/${point}`;
  const draw = (next) => {
    meant = next;
    place.replaceChildren(...(isMeant(key) ? sureKeys(draw) : [button("plain", {
      mark: "pen", label: text.look, onclick: () => draw({ key, at: monoMs() }),
    })]));
    if (isMeant(key)) holdOff(place, meant.at);
  };
  draw(meant);
  return place;
}

function isMeant(key) {
  return meant?.key === key && monoMs() - meant.at < MINUTE_MS;
}

function sureKeys(draw) {
  const sign = () => {
    draw(null);
    signOnce({ kind: "sighting", about: { text: text.seen } }, model.shift);
  };
  return [h("p.careful", {}, icon("warn"), text.sure),
    h("div.pair", {}, button("plain", { mark: "back", label: words.pin.cancel,
      onclick: () => draw(null) }),
    button("plain", { mark: "pen", label: text.sign, id: "sign-sighting",
      onclick: sign }))];
}
