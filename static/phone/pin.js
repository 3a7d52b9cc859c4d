// Asking for a PIN over whatever is on the screen. The key unlocked here signs once
// and is dropped; a wait after wrong PINs is this person's alone.

import { monoMs } from "../device/clock.js";
import { PinRefused, pinWait, unlock } from "../device/keys.js";
import { pinPad } from "./pinpad.js";
import { engine, isEnded, model, subjectTitle } from "./model.js";
import { closeOver, openOver } from "./over.js";
import { button, fill, h, holdOff } from "./parts.js";
import { personName, roleName, spanText } from "./speak.js";
import { words } from "./later.js";

/**
 * Let one of some people sign by PIN.
 * @param {string} purpose what is being signed, shown above the pad
 * @param {string[]} candidates person ids on this phone who may
 * @returns {Promise<object|null>} a signer for one entry, or null if left
 */
export function askSigner(purpose, candidates) {
  const rows = model.here.filter((row) => candidates.includes(row.person));
  return new Promise((resolve) => {
    const leave = (signer) => {
      closeOver();
      resolve(signer);
    };
    const over = openOver(() => leave(null));
    if (rows.length === 0) fill(over, nobody(leave));
    else if (rows.length === 1) fill(over, pinSheet(purpose, rows[0], leave));
    else fill(over, choosePerson(purpose, rows, over, leave));
  });
}

/** @returns {string} what is signed, with the subject it is signed on */
export function purposeHere(...purpose) {
  return [subjectTitle(model.open.subject), ...purpose].filter(Boolean)
    .join(" \u00b7 ");
}

function cancel(leave) {
  return button("plain", {
    mark: "back", label: words.pin.cancel, onclick: () => leave(null),
  });
}

function nobody(leave) {
  return sheet(words.pin.nobody, h("p", {}, words.pin.nobody),
    button("main", { mark: "plus", label: words.people.add, id: "put-on",
      onclick: () => { leave(null); location.hash = "#/enrol"; } }),
    cancel(leave));
}

function choosePerson(purpose, rows, over, leave) {
  return sheet(words.pin.who,
    h("h2", {}, words.pin.who), h("p", {}, purpose),
    ...rows.map((row) => button("plain", {
      mark: "people", label: personName(model.people, row.person),
      note: postOf(row.person), "data-person": row.person,
      onclick: () => fill(over, pinSheet(purpose, row, leave)),
    })),
    cancel(leave));
}

/** For whom somebody signs, which a name alone does not say. @returns {string} */
export function postOf(person) {
  const { roles = [], organisation } = model.people[person] ?? {};
  return [roles.map(roleName).join(", "),
    model.organisations?.[organisation] ?? organisation].filter(Boolean)
    .join(" \u00b7 ");
}

function pinSheet(purpose, row, leave) {
  const note = h("p.note", { role: "alert" });
  const pad = pinPad(async (pin) => {
    note.textContent = words.pin.working;
    // It is not even tried: nobody is to believe that the right one was wrong.
    const early = await pinWait(row.key);
    if (early > 0) {
      note.textContent = words.pin.wait(spanText(early));
      pad.clear();
      return;
    }
    try {
      const signer = await unlock(row.key, pin);
      // An office that does not know this phone is shown whose it is.
      if (model.sync.refused && !isEnded()) engine().then((one) => one.prove(signer));
      leave(signer);
    } catch (fault) {
      if (!(fault instanceof PinRefused)) throw fault;
      note.textContent = refusedText(fault.waitMs);
      pad.clear();
    }
  });
  pinWait(row.key).then((waitMs) => {
    if (waitMs > 0) note.textContent = words.pin.wait(spanText(waitMs));
  });
  queueMicrotask(() => pad.element.focus());
  const whose = `${words.pin.title} ${personName(model.people, row.person)}`;
  return sheet(whose, h("h2", {}, whose), h("p", {}, purpose), note, pad.element,
    cancel(leave));
}

// Not modal: STOP stays free while it lies over the screen. What it lies under the
// thumb with takes no second tap.
function sheet(name, ...children) {
  const element = h("section.sheet", { role: "dialog", "aria-label": name },
    ...children);
  holdOff(element, monoMs());
  return element;
}

function refusedText(waitMs) {
  if (waitMs <= 0) return words.pin.wrong;
  return `${words.pin.wrong} ${words.pin.wait(spanText(waitMs))}`;
}
