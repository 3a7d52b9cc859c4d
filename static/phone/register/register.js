// The register on the phone: what this phone knows of the site's items, found by label,
// certificate or kind, and the way to enter one. Only whose role may sees the keys.

import { dayClockText, dayText, wallMs } from "../../device/clock.js";
import { icon } from "../icons.js";
import { model, subscribe } from "../model.js";
import { quantityText } from "../numbers.js";
import { button, fill, h } from "../parts.js";
import { thumbs } from "../photos.js";
import { personName, roleName } from "../speak.js";
import { words as shared } from "../words.js";
import { lastDayOf } from "./day.js";
import { enter } from "./entering.js";
import { leftOver } from "./halfway.js";
import { readKnown } from "./known.js";
import { plain } from "./naming.js";
import { mayRegister } from "./offer.js";
import { words } from "./words.js";

const text = words.register;
const MODES = ["new", "renew", "correct", "out"];
const SAID_MS = 8_000;

let shown = [];
let saved = null;

export const title = () => text.title;

/** Where Back leads: from one item to all of them, then to where one came from. */
export function backTo() {
  if (model.registerFor && shown[0] === "new") return leaveFor();
  return shown[0] ? "/register" : "/more";
}

/** Show the register, an item of it, or the form. @returns {() => void} */
export function mount(element, { dock, go, here, params }) {
  shown = params;
  const [sort, id] = params;
  if (sort !== "new") model.registerFor = undefined;
  const view = { element, dock, go, here, open: new Set(), typed: "" };
  const draw = async () => {
    const [known, left] = await Promise.all([readKnown(), leftOver()]);
    const { lang } = document.documentElement;
    const said = JSON.stringify([known, left, mayRegister(), lang]);
    // Drawn anew only if something changed: a list keeps its place under the thumb.
    if (!here() || said === view.said) return;
    Object.assign(view, { known, left, said });
    (sort === "item" ? drawItem : drawList)(view, id);
  };
  if (MODES.includes(sort)) {
    begin(view, sort, id);
    // A phone's own keyboard takes room: what is asked stays in sight.
    const sight = new ResizeObserver(() => element.querySelector(".field.active")
      ?.scrollIntoView({ block: "nearest" }));
    sight.observe(element);
    return () => sight.disconnect();
  }
  draw();
  return subscribe(draw);
}

async function begin(view, mode, id) {
  const known = await readKnown();
  const was = mode === "new" ? undefined : known.items.find((item) => item.id === id);
  if (!view.here()) return;
  const isOut = was?.out !== undefined && mode !== "renew";
  if (!mayRegister() || (mode !== "new" && !was) || isOut) {
    fill(view.element, mayRegister() ? h("p.big", {}, isOut ? text.isOut : text.gone)
      : keepers(known));
    fill(view.dock, mayRegister() ? null : startKey(view));
    return;
  }
  enter(view.element, view.dock, { known, mode, was, here: view.here, go: view.go,
    label: mode === "new" ? id : undefined, saved: ({ about }) => {
      saved = { item: about.item, at: wallMs() };
      view.go(model.registerFor ? leaveFor() : `/register/item/${about.item}`);
    } });
}

// Whoever came from a form that asks for an item goes back to it.
function leaveFor() {
  const route = model.registerFor;
  model.registerFor = undefined;
  return route;
}

function keepers({ roles }) {
  return h("p.careful", { id: "who-may" }, icon("people"),
    text.who(roles.map(roleName).join(", ")));
}

function startKey({ go }) {
  return button("plain", { mark: "people", label: text.start, id: "to-shifts",
    onclick: () => go("/people") });
}

function drawList(view) {
  const { element, dock, known, go } = view;
  const list = h("div.choices", { id: "items" });
  const choose = () => fill(list, listed(view));
  view.choose = choose;
  const find = h("input.code", {
    type: "search", id: "find", autocomplete: "off", autocapitalize: "off",
    spellcheck: "false", placeholder: text.find, "aria-label": text.find,
    oninput: () => { view.typed = find.value; choose(); },
  });
  find.value = view.typed;
  fill(element, mayRegister() ? leftKeys(view) : keepers(known), list);
  fill(dock, h("div.ask", {}, find, mayRegister() ? button("act", { mark: "plus",
    label: text.new, id: "new-item", onclick: () => go("/register/new") }) : null));
  choose();
}

// Forms that were left half filled, each under what it is about.
function leftKeys({ left, known, go }) {
  return h("div.choices", {}, ...left.map((route) => {
    // A label may hold a stroke itself.
    const [mode, ...rest] = route.split("/");
    const id = rest.join("/");
    const about = mode === "new" ? id : known.items.find((one) => one.id === id)?.label;
    return button("plain", { mark: "pen", label: shared.unsaved.title,
      note: [text[mode], about].filter(Boolean).join(" \u00b7 "), "data-left": route,
      onclick: () => go(`/register/${mode}/${encodeURIComponent(id)}`) });
  }));
}

// All kinds shut, until one is opened or something is looked for.
function listed(view) {
  const { known: { items, kinds }, typed, open } = view;
  const titleOf = (kind) => kinds.find(({ id }) => id === kind)?.title
    ?? model.kinds?.[kind] ?? kind;
  const found = items.filter((item) => [item.label, item.id, item.text,
    titleOf(item.kind)].some((name) => plain(name).includes(plain(typed))));
  if (found.length === 0) {
    return h("p.note", { role: "status" }, typed ? text.nothing(typed) : text.none);
  }
  const groups = [...new Set(found.map(({ kind }) => kind))].sort((a, b) =>
    titleOf(a).localeCompare(titleOf(b)));
  return groups.flatMap((kind) => {
    const mine = found.filter((item) => item.kind === kind);
    const isOpen = Boolean(typed) || open.has(kind) || groups.length === 1;
    return [groupKey(view, kind, titleOf(kind), mine, isOpen),
      ...(isOpen ? mine.map((item) => itemKey(view, item)) : [])];
  });
}

function groupKey(view, kind, heading, items, isOpen) {
  const over = items.filter(isOver).length;
  return button(`plain${isOpen ? ".on" : ""}`, {
    mark: over ? "warn" : isOpen ? "dash" : "plus", label: heading,
    note: [text.count(items.length), over ? text.over(over) : ""].filter(Boolean)
      .join(" \u00b7 "),
    "data-kind": kind, "aria-expanded": isOpen ? "true" : "false", onclick: () => {
      if (!view.open.delete(kind)) view.open.add(kind);
      view.choose();
    } });
}

// Out of use it is whatever the hour: the clock that says since when may be ahead.
function isOver({ expires, planned, out }) {
  return out !== undefined || (expires < wallMs() && !planned);
}

function itemKey(view, item) {
  return button("choice", {
    mark: isOver(item) ? "warn" : "tick", label: item.label,
    note: [stands(item, view.known), told(item.text.split(" | ")[0])].filter(Boolean)
      .join(" \u00b7 "),
    "data-item": item.id, onclick: () => view.go(`/register/item/${item.id}`),
  });
}

// The site's files say which of their texts is the certificate; here its own row does.
function told(certificate) {
  return certificate.replace(/(^|; )Certificate: /, "$1");
}

function stands({ expires, out, planned }, { zone }) {
  if (out !== undefined) return text.wasOut(out);
  if (expires === undefined) return text.endless;
  const isPast = expires < wallMs();
  const said = planned ? isPast ? shared.items.dayPast : text.planned
    : isPast ? text.expired : text.good;
  return said(
    dayText(lastDayOf(expires, zone)));
}

function drawItem(view, id) {
  const { element, dock, known, go } = view;
  const item = known.items.find((one) => one.id === id);
  if (!item) {
    fill(element, h("p.big", {}, text.gone));
    return;
  }
  const isFresh = saved?.item === id && wallMs() - saved.at < SAID_MS;
  fill(element, isFresh ? h("p.good", { id: "registered", role: "status" },
    icon("tick"), [text.saved(dayClockText(saved.at)), isOver(item) ? ""
      : text.choosable].filter(Boolean).join(" ")) : null,
  h("h2", {}, item.label),
  // An item whose day is over is said to be so, whatever was saved of it just now.
  isOver(item) ? h("p.bad", { id: "ended-item" }, icon("warn"),
    item.out === undefined ? text.ended : text.isOut) : null,
  facts(item, known), thumbs(item.photos),
  h("p.hint", { id: "entered-by" }, enteredBy(item)),
  mayRegister() ? null : keepers(known));
  const key = (mode, mark) => button("plain", { mark, label: text[mode], id: mode,
    onclick: () => go(`/register/${mode}/${id}`) });
  // What is out of use comes back by a certificate of its own.
  const keys = item.out === undefined ? h("div.ask", {}, key("out", "cross"),
    h("div.pair", {}, key("correct", "pen"), key("renew", "again")))
    : key("renew", "again");
  fill(dock, mayRegister() ? keys : null);
}

function enteredBy({ at, by, renews, reason, out }) {
  const name = by ? personName(model.people, by) : text.byOffice;
  const time = dayClockText(at);
  if (out !== undefined) return text.outBy(name, time, out);
  return reason ? text.correctedBy(name, time, reason)
    : (renews ? text.renewedBy : text.by)(name, time);
}

function facts(item, { kinds, zone }) {
  const kind = kinds.find(({ id }) => id === item.kind);
  const rows = [[text.kind, kind?.title ?? item.kind],
    [text.certificate, told(item.text)],
    [text.lastDay, item.out !== undefined ? "" : item.expires === undefined
      ? text.endless : dayText(lastDayOf(item.expires, zone))],
    ...(kind?.numbers ?? []).map(({ id, unit, places }) =>
      [words.entering.number(id), item.numbers[id] === undefined ? ""
        : quantityText(item.numbers[id], unit, places)]),
    ...(kind?.calibration ? [[text.certified, range(item, kind)]] : []),
    [text.id, item.id],
    [text.earlier, item.earlier > 0 ? item.earlier : ""]];
  return h("dl.facts", {}, ...rows.filter(([, value]) => value !== "")
    .flatMap(([name, value]) => [h("dt", {}, name), h("dd", {}, String(value))]));
}

function range({ numbers: { low, high } }, { calibration: { places } }) {
  return [quantityText(low, "", places), text.to(quantityText(high, "bar", places))]
    .join(" ");
}
