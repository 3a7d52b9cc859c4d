// First start, and every further person: a code from the office, a PIN twice.

import { endedHere, enrolPerson, isCode, lookAtCode } from "../device/enrolment.js";
import { KeysBroken, PinRefused, shiftSigner } from "../device/keys.js";
import { OfficeFault } from "../device/office.js";
import { kick } from "../device/sync.js";
import { icon } from "./icons.js";
import { pinPad } from "./pinpad.js";
import { languageKeys } from "./languages.js";
import { model, refresh } from "./model.js";
import { button, fill, h } from "./parts.js";
import { beginShift } from "./people.js";
import { words } from "./later.js";

const text = words.enrol;

export const title = () => text.title;

/** Ask for the code and whose it is, then the PIN twice. @returns {() => void} */
export function mount(element, { dock, go, here, params }) {
  const form = { code: params[0] ?? "", pin: "", note: "" };
  const steps = {
    code: () => askCode(element, dock, form, { go, goTo }),
    // A wrong code is told before anybody has chosen a PIN for it.
    look: async () => {
      fill(element, h("p.big", { role: "status" }, text.asking));
      fill(dock);
      form.note = await look(form);
      if (here()) goTo(form.note ? "code" : "pin");
    },
    pin: () => askPin(element, dock, form, text.pin, (pin) => {
      form.note = isEasy(pin) ? text.easy : "";
      form.pin = pin;
      goTo(form.note ? "pin" : "again");
    }),
    again: () => askPin(element, dock, form, text.again, (pin) => {
      form.note = pin === form.pin ? "" : text.differ;
      goTo(form.note ? "pin" : "send");
    }),
    send: async () => {
      fill(element, h("p.big", { role: "status" }, text.sending));
      fill(dock);
      form.note = await send(form);
      if (!here()) return;
      if (form.note) goTo("code");
      else go("/people");
    },
  };
  const goTo = (step) => steps[step]();
  goTo("code");
  return () => {};
}

function askCode(element, dock, form, { go, goTo }) {
  const field = codeField(form);
  const take = (next) => {
    form.code = field.value.trim();
    if (form.code || next === "code") goTo(next);
  };
  const ended = h("div", { id: "ended-keys" });
  sayEnded(ended);
  fill(element, ended, h("p", {}, model.here.length ? text.more : text.first),
    note(form), h("label.field", {}, text.code, field),
    languageKeys(() => take("code")));
  fill(dock, h("div.ask", {}, otherWays(go),
    button("main", { mark: "now", label: text.next, onclick: () => take("look") })));
}

// Whoever was here yesterday is told why not today, and how to go on.
async function sayEnded(place) {
  fill(place, ...(await endedHere()).map(({ name, ended }) =>
    h("p.careful", {}, icon("key"), text.ended[ended](name))));
}

function codeField(form) {
  return h("input.code", {
    value: form.code, autocapitalize: "characters", autocomplete: "off",
    spellcheck: "false", "aria-label": text.code, id: "code",
  });
}

// A code is scanned as well; whoever has a phone of their own needs none. Where nobody
// is on this one yet, it first reads from that phone which site it is for.
function otherWays(go) {
  return h("div.pair", {},
    button("plain", { mark: "photo", label: text.scan, id: "scan-code",
      onclick: () => go("/scan") }),
    button("plain", { mark: "phone", label: model.here.length ? text.own : text.myOwn,
      id: "own-phone",
      onclick: () => go(model.identity ? "/keys/ask" : "/scan/site") }));
}

function askPin(element, dock, form, label, taken) {
  fill(element, form.name ? h("p.big", {}, text.whose(form.name)) : null,
    h("h2", {}, label), note(form));
  const pad = pinPad(taken);
  fill(dock, pad.element);
  pad.element.focus();
}

function note(form) {
  return form.note ? h("p.note", { role: "alert" }, form.note) : null;
}

function isEasy(pin) {
  return /^(\d)\1{5}$/.test(pin) || "01234567890".includes(pin)
    || "09876543210".includes(pin);
}

async function look(form) {
  if (!isCode(form.code)) return text.form;
  try {
    const { name, records } = await lookAtCode(form.code);
    Object.assign(form, { name, records });
    return "";
  } catch (fault) {
    return faultText(fault);
  }
}

async function send(form) {
  try {
    const signer = await enrolPerson(form.code, form.pin, model.shell);
    model.joined = form.name ?? signer.person;
    // The PIN was just typed: whoever records may begin, where no shift runs.
    if (form.records && !(await shiftSigner())) await beginShift(signer);
  } catch (fault) {
    return faultText(fault);
  }
  // What is recorded must not be cleared for want of space.
  await navigator.storage?.persist?.();
  await refresh();
  kick();
  return "";
}

function allowed({ answer, message }) {
  const { code, allowed: wanted } = answer.error ?? {};
  return text.codes[code] ?? wanted ?? message;
}

function faultText(fault) {
  if (fault instanceof PinRefused) return text.pinBefore;
  if (fault instanceof KeysBroken) return text.broken;
  if (fault instanceof OfficeFault) {
    return fault.status === 0 ? text.unreached : text.refused(allowed(fault));
  }
  throw fault;
}
