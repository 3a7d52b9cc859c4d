// What runs on while somebody types, looks or decides: the minutes in hand, and a STOP
// that another phone pulled. It stands above every screen of the joint but its own, in
// the frame, so that it moves by itself while nothing below is drawn anew.

import { clockText, dayClockText, wallMs } from "../device/clock.js";
import { isWrittenLater } from "./copying.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { outlasting } from "./outlasting.js";
import { fill, h } from "./parts.js";
import { spanText } from "./speak.js";
import { chalkTitle, hand, handText, minutesOf } from "./strip.js";
import { words } from "./words.js";

const SCREENS = ["form", "line", "point", "nonconformance", "stop"];

/** Say it as it is now. @param {HTMLElement} place in the frame */
export function tell(place) {
  const { open } = model;
  const [name, subject, card] = location.hash.slice(2).split("/");
  // A card says itself what is left, and that it is in force.
  const isAbove = SCREENS.includes(name) && !(name === "stop" && card)
    && open?.state && open.subject === decodeURIComponent(subject);
  const told = h("div", { id: place.id },
    ...isAbove ? [stopOf(open), inHand(open, wallMs())] : []);
  // What says the same stays, for whoever is read aloud to.
  if (!told.isEqualNode(place)) fill(place, ...told.childNodes);
}

// Of which STOP, for whoever did not pull it.
function stopOf({ sheet, state: { stopped } }) {
  if (!stopped) return null;
  const card = sheet.cards?.find(({ id }) => id === stopped.reason);
  return h("p.inhand.red", { id: "stop-told", role: "alert" }, icon("stop"),
    [words.bar.stop, card?.title ?? stopped.reason, clockText(stopped.at)]
      .join(" \u00b7 "));
}

// The minutes while figures are typed; nothing where none press.
function inHand(open, now) {
  const minutes = minutesOf(open, now);
  const { running, slow, chalk, inHandMs, off } = minutes;
  const [next] = outlasting(open, now).filter(({ past }) => !past);
  if (!running && next) {
    return hand(next.at - now, {}, [dayClockText(next.at), next.title,
      spanText(next.at - now)].join(" \u00b7 "));
  }
  if (!running || slow || !(off || chalk?.line || inHandMs !== undefined)) return null;
  if (isWrittenLater(open, minutes, now)) return null;
  const left = inHandMs ?? chalk.at - now;
  const what = inHandMs === undefined ? chalkTitle(open.sheet, chalk) : "";
  // What presses is never a day away: its hour is enough.
  return hand(left, {}, [clockText(chalk.at), what,
    off ? spanText(left) : handText(left)].filter(Boolean).join(" \u00b7 "),
  inHandMs !== undefined && minutes.guessed);
}
