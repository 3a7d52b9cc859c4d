// The alarm in its fixed place under the marks. Saying "seen" is signed, and stops
// the flashing; it silences nothing that still runs.

import { changed, model, saveOrTell } from "./model.js";
import { icon } from "./icons.js";
import { fill, h } from "./parts.js";
import { words } from "./words.js";

const TONES = { high: "red", medium: "yellow", low: "blue" };
const MARKS = { high: "bell", medium: "clock", low: "note" };

let shown = "";

/** Show the most urgent alarm, or nothing. */
export function showAlarm(alarm) {
  const now = alarm
    ? [alarm.id, alarm.text, alarm.respond, alarm.seen, model.here.length].join() : "";
  if (now === shown) return;
  shown = now;
  const place = document.getElementById("alarm");
  place.hidden = !alarm;
  if (!alarm) return;
  place.className = `alarm ${TONES[alarm.priority]}${alarm.seen ? "" : " unseen"}`;
  fill(place, icon(MARKS[alarm.priority]),
    h("span", {}, h("b", {}, `${words.alarm[alarm.priority]}: ${alarm.text}`),
      alarm.respond ? h("small", {}, alarm.respond) : null),
    alarm.seen || !model.here.length ? null : h("button.seen", {
      type: "button", onclick: ({ target }) => acknowledge(alarm, target),
    }, words.alarm.acknowledge));
}

// Where no shift runs, or the last has run out meanwhile, it is said by PIN.
async function acknowledge({ id, text }, key) {
  const signer = model.shift ?? await (await import("./pin.js").catch(() => {
    fill(key, words.phone.away);
  }))?.askSigner(`${words.alarm.acknowledge}: ${text}`,
      model.here.map(({ person }) => person));
  if (!signer) return;
  await saveOrTell({ kind: "acknowledged", about: { alarm: id } }, signer);
  changed();
}
