// One field of a form as a row with what was understood, and the means to answer it.

import { dayClockText } from "../device/clock.js";
import { copyingOf } from "./copying.js";
import { icon } from "./icons.js";
import { itemInput, knownItems, unfit } from "./items.js";
import { figurePad } from "./keypad.js";
import { quantityText } from "./numbers.js";
import { button, h } from "./parts.js";
import { valueText } from "./speak.js";
import { words } from "./words.js";

const text = words.form;

/** A field with its limit and its echo, red where that is beyond what it may be, or
 * not fit for use. @returns {HTMLElement} */
export function fieldRow(open, entry, active, select, isPaper = false) {
  const { fault, field, value } = entry;
  const unfitFor = field?.kind === "item" && value
    ? unfit(knownItems(open)[value], field, copyingOf(open)?.at) : undefined;
  const tone = unfitFor ? "red" : entry.tone;
  return h(["button.field", active ? "active" : "", fault ? "fault" : "", tone]
    .filter(Boolean).join("."), {
    type: "button", onclick: select,
    "data-field": field?.id ?? kindOf(entry),
  }, h("span.flabel", {}, field?.label ?? text.rows[kindOf(entry)], note(entry)),
  h(figures(entry) ? "span.echo" : "span.echo.said", {},
    tone ? icon(tone === "red" ? "cross" : "warn") : null,
    echo(open.sheet, entry, isPaper)),
  fault || unfitFor
    ? h("span.faulttext", {}, icon("warn"), fault ?? unfitFor) : null);
}

function kindOf(entry) {
  return ["when", "paper", "reason"].find((kind) => entry[kind]) ?? "photos";
}

function figures({ when, field }) {
  return when || field?.kind === "number";
}

function note({ field, photos, when, limit, asked }) {
  if (when) return h("small", {}, text.timeForm);
  if (photos) return h("small", {}, words.photo.wanted(photos));
  if (!field) return null;
  const parts = [limit || field.limit,
    field.need ? "" : asked ? text.asked : text.optional].filter(Boolean);
  return parts.length ? h("small", {}, parts.join(" \u00b7 ")) : null;
}

function echo(sheet, entry, isPaper) {
  if (entry.when) {
    // What is on paper was not done now.
    return entry.value === undefined ? entry.text || (isPaper ? "\u2026" : text.now)
      : dayClockText(entry.value);
  }
  if (entry.hashes) return entry.hashes.length ? String(entry.hashes.length) : "\u2026";
  if (entry.paper) {
    const said = [text.paper, entry.text].filter(Boolean);
    return entry.value ? said.join(": ") : text.fresh;
  }
  if (entry.value === undefined) return entry.text || "\u2026";
  if (entry.reason) return entry.value;
  return valueText(sheet, entry.field, entry.value);
}

/**
 * The means to answer the active field: keys, large choices or a text.
 * @param {object} open @param {string} step
 * @param {{ready:boolean, change:(changes:object) => void, go:() => void}} how
 * @returns {HTMLElement}
 */
export function inputFor(open, step, entry, how) {
  const kind = entry.when ? "time" : entry.field?.kind;
  if (kind === "number") return numberInput(entry, how);
  if (kind === "time") return pad(entry, how, { signed: false, decimal: false });
  const saving = saveButton(how);
  const asked = entry.reason ? entry.picker.element
    : kind === "choice" ? choices(entry, how)
      : entry.paper ? paper(entry, how, saving)
        : kind === "item" ? itemInput(open, step, entry, how)
          : textInput(entry, how, saving);
  return h("div.ask", {}, asked, h("div.saving", {}, saving));
}

function numberInput(entry, how) {
  const { low, places = 0 } = entry.field;
  const keys = pad(entry, how, {
    signed: low === undefined || low < 0, decimal: places > 0,
  });
  // What is typed takes the place of the target: the keys stay where they are.
  const means = how.means?.(entry);
  if (means) return h("div.ask", {}, means, keys);
  if (entry.target === undefined) return keys;
  // One line's form looks like the next one's: its key names it.
  const said = quantityText(entry.target, entry.field.unit, places);
  return h("div.ask", {}, button("target", {
    mark: "target", label: how.whose, note: `${text.target}: ${said}`,
    onclick: () => how.change({ text: "", value: entry.target, fault: undefined,
      done: "save" }),
  }), keys);
}

function pad(entry, how, { signed, decimal }) {
  const pressed = (key) => {
    if (key === "go") how.go();
    else if (key === "erase") how.change({ text: entry.text.slice(0, -1) });
    else if (key === "minus") how.change({ text: flipped(entry.text) });
    else how.change({ text: entry.text + key });
  };
  return figurePad(pressed, {
    signed, decimal, ready: how.ready, go: goes(how),
  });
}

function flipped(typed) {
  return typed.startsWith("-") ? typed.slice(1) : `-${typed}`;
}

function choices(entry, how) {
  return h("div.choices", {}, ...entry.field.options.map((option) => button(
    `choice${option.good ? ".good" : ""}`, {
      mark: option.value === entry.value ? "tick" : "choose", label: option.label,
      "aria-pressed": option.value === entry.value ? "true" : "false",
      "data-value": option.value,
      onclick: () => how.change({ value: option.value, done: true }),
    })));
}

// What was written by somebody who is on no phone is copied under the name they wrote.
function paper(entry, how, saving) {
  const writer = h("input.code", { id: "writer",
    type: "text", maxlength: "100", value: entry.text, placeholder: text.writtenBy,
    "aria-label": text.writtenBy, "data-field": "writer", hidden: !entry.value,
    oninput: () => markReady(saving, how.type(writer.value)),
  });
  const keys = [false, true].map((value) => button("choice", {
    mark: value === entry.value ? "tick" : "choose",
    label: value ? text.paper : text.fresh,
    "aria-pressed": value === entry.value ? "true" : "false",
    "data-value": value ? "paper" : "fresh", onclick: () => how.change({ value }),
  }));
  return h("div.ask", {}, h("div.pair", {}, ...keys), writer);
}

function textInput(entry, how, saving) {
  const area = h("textarea", {
    rows: "3", maxlength: "1000", placeholder: text.writeHere,
    "aria-label": entry.field.label,
    oninput: () => markReady(saving, how.type(area.value)),
  });
  area.value = entry.text;
  return area;
}

/** The key that goes on or saves. */
export function saveButton(how) {
  const made = button("", { label: "", mark: "tick", "data-key": "go",
    onclick: how.go });
  markReady(made, how.ready, how.skips);
  return made;
}

function goes({ ready, skips }) {
  return ready ? text.save : skips ? text.skip : text.next;
}

/** Show on a save button whether everything needed is there. */
export function markReady(made, ready, skips = false) {
  // What only goes on must not take the room that the questions need.
  made.className = ready ? "main" : "plain next";
  const sign = made.dataset.warns ? "warn" : "tick";
  made.querySelector(".icon").replaceWith(icon(ready ? sign : "now"));
  made.querySelector(".label").textContent = goes({ ready, skips });
}
