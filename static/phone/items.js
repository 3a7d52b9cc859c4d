// Equipment and material to choose from: what the register holds of the wanted kind,
// else what the sheet froze. An item that is not fit for use says why; before a gate it
// cannot be chosen, in the race it can and the rules flag it.

import { dayText, wallMs } from "../device/clock.js";
import { changed, model } from "./model.js";
import { inOrder } from "./numbers.js";
import { button, fill, h } from "./parts.js";
import { words } from "./words.en.js";

const text = words.items;
let marks;
let takes;

/** What a line takes over, once what tells it is here; until then it is asked for.
 * @returns {object} */
export function taking() {
  takes ??= import("./taken.js").then((one) => { takes = one; changed(); },
    () => { takes = undefined; });
  return takes;
}

/** Every item this phone knows, by id: the register's over the sheet's. */
export function knownItems({ sheet, scene }) {
  return { ...sheet.items, ...(scene?.view.standing.items ?? model.items) };
}

/** @param {number} [at] when the item was used, as paper says, ms UTC; else now, and
 * what is out of use is, whatever the clocks of two phones say
 * @returns {string|undefined} why an item is not fit for a field, in words */
export function unfit(item, { items: kind, calibrated },
  at = item?.out === undefined ? wallMs() : Infinity) {
  if (!item) return text.unknown;
  if (item.kind !== kind) return text.wrong(kindText(item.kind), kindText(kind));
  // What earlier readings relied on judges them; the next relies on what stands now.
  const { expires, numbers } = item.certificates?.[item.entry] ?? item;
  if (expires < at) {
    if (item.out) return item.out;
    if (model.planned?.[kind]) return text.dayPast(dayText(expires - 1));
    const said = calibrated || "slope" in (numbers ?? {});
    return (said ? text.uncalibrated : text.expired)(dayText(expires));
  }
  const most = numbers?.uses_max;
  if ((item.uses ?? 0) >= most) return text.overused(item.uses, most);
  return undefined;
}

/** Before a gate only what is fit may be chosen; the race and making safe go on, and
 * what a sheet of paper says is copied as it is. */
export function mayChoose(open, step, field, id) {
  if (field.kind !== "item" || open.sheet.steps[step].class !== "gated") return true;
  return !unfit(knownItems(open)[id], field);
}

/**
 * The means to choose an item: its label read or typed, or a list, which what is typed
 * makes short.
 * @param {object} open @param {string} step @param {object} entry the form's answer
 * @param {{change:(changes:object) => void}} how
 */
export function itemInput(open, step, entry, how) {
  const { field } = entry;
  const found = Object.entries(knownItems(open))
    .filter(([id, item]) => item.kind === field.items && !how.taken?.includes(id))
    .map(([id, item]) => ({ id, item, bad: unfit(item, field) ? 1 : 0 }))
    .sort((a, b) => a.bad - b.bad || inOrder(a.item.label, b.item.label));
  const list = h("div.choices");
  const show = (typed) => {
    const seen = /^FR1:/i.test(typed) ? found : found.filter(({ id, item }) =>
      [id, item.label].some((name) => plain(name).includes(plain(typed))));
    fill(list, ...seen.map(({ id, item }) => choice(open, step, entry, how, id, item)),
      seen.length ? null : h("p.note", { role: "status" },
        typed ? text.nothing(typed) : words.form.none),
      newKey(typed));
    markIn(open, step, field, list, typed);
    return seen;
  };
  show("");
  const counts = found.some(({ item }) => item.numbers?.uses_max !== undefined);
  return h("div.ask", {}, labelBox(open, step, field, how, show),
    counts ? h("p.hint", {}, text.counted) : null, list);
}

// What is said of an item besides: at once, where what says it is here.
function markIn(...told) {
  if (marks) marks.mark(...told);
  else import("./hanging.js").then((one) => { (marks = one).mark(...told); }, () => {});
}

// Whoever may enters here what no list has.
function newKey(typed) {
  const place = h("div");
  import("./register/offer.js").then((one) => fill(place, one.offer(typed)), () => {});
  return place;
}

function plain(name) {
  return name.toLowerCase().replaceAll(/[\s._-]/g, "");
}

function choice(open, step, entry, how, id, item) {
  const fault = unfit(item, entry.field);
  const most = item.numbers?.uses_max;
  const used = most === undefined ? undefined : text.used(item.uses ?? 0, most);
  const free = how.paper || mayChoose(open, step, entry.field, id);
  return button("choice", {
    mark: id === entry.value ? "tick" : fault ? "warn" : "choose",
    label: item.label, note: fault ?? used,
    "aria-pressed": id === entry.value ? "true" : "false", "data-value": id,
    "data-unfit": fault ? "yes" : undefined,
    onclick: () => how.change(free ? chosen(id)
      : refused(text.refused(item.label, fault))),
  });
}

// A label is scanned, or its text comes by keys. Only Enter takes it: what is typed so
// that a list grows short must not be taken when a thumb goes to the list.
function labelBox(open, step, field, how, show) {
  const all = knownItems(open);
  const { site } = open.sheet;
  const box = h("input.code", {
    type: "text", id: "label", autocomplete: "off", autocapitalize: "off",
    spellcheck: "false", placeholder: text.label, "aria-label": text.label,
    oninput: () => show(box.value.trim()),
    onkeydown: async ({ key }) => {
      const typed = box.value.trim();
      if (key !== "Enter" || !typed) return;
      const label = /^FR1:/i.test(typed) && (await scanner()).labelTyped(typed, site);
      const name = (label?.id ?? typed).toLowerCase();
      const left = show(typed);
      const id = Object.keys(all).find((one) => one.toLowerCase() === name)
        ?? (left.length === 1 && !label ? left[0].id : undefined);
      how.change(label?.fault ? refused(label.fault) : read(id, typed));
    },
  });
  const read = (id, typed) => {
    const fault = id ? unfit(all[id], field) : text.foreign(typed.slice(0, 24));
    if (!id) return refused(fault);
    if (how.taken?.includes(id)) return refused(text.taken);
    const right = all[id].kind === field.items
      && (how.paper || mayChoose(open, step, field, id));
    return right ? chosen(id) : refused(text.refused(all[id].label, fault));
  };
  const scan = button("plain", { mark: "photo", label: text.scan, id: "scan-label",
    onclick: async () => {
      const id = await (await scanner()).scanLabel(site);
      if (id !== null) how.change(read(Object.hasOwn(all, id) ? id : undefined, id));
    } });
  return h("div.pair", {}, scan, box);
}

function scanner() {
  return import("./roads/label.js");
}

function chosen(id) {
  return { value: id, text: "", fault: undefined, done: true };
}

function refused(fault) {
  return { value: undefined, text: "", fault };
}

function kindText(kind) {
  return model.kinds?.[kind] ?? kind.replaceAll("-", " ");
}
