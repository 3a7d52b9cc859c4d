// Conditions of a release: open items, each named with what it must be closed before.

import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { sayMissing } from "./missing.js";
import { model } from "./model.js";
import { button, fill, h } from "./parts.js";
import { signOnce } from "./signing.js";
import { personName } from "./speak.js";
import { CONDITIONS, forgetDecided, keptHere, notSaved } from "./written.js";
import { words } from "./later.js";

const text = words.conditions;
const SHORTEST = 3;

/** The conditions of a point, open and closed. @returns {HTMLElement|null} */
export function conditionList({ sheet, state, entries }, id, dock, draw) {
  const found = state.points[id].conditions ?? [];
  if (found.length === 0) return null;
  return h("div", { id: "conditions" }, h("h2", {}, text.title),
    ...found.map((one) => h("article.rest", {},
      h(one.open ? "p.careful" : "p.good", {}, icon(one.open ? "lock" : "tick"),
        one.text),
      h("p", {}, text.before(titleOf(sheet, one.before))),
      one.open && model.shift ? button("plain", {
        mark: "tick", label: text.close, "data-close": one.number,
        onclick: () => close(dock, id, one, draw),
      }) : closing(entries, one))));
}

/**
 * Say on the joint what releases left open: on the row of each gate, and whole beside
 * GO, which the step that it shuts later says nothing against.
 * @param {HTMLElement} element with the column @returns {HTMLElement[]}
 */
export function sayOpen({ sheet, state }, element) {
  return sheet.flow.flatMap((id) => {
    const open = (state.points[id]?.conditions ?? []).filter((one) => one.open);
    if (open.length === 0) return [];
    const befores = [...new Set(open.map(({ before }) => titleOf(sheet, before)))];
    const said = text.open(open.length, befores.join(", "));
    element.querySelector(`[data-point="${id}"] > .row .rowstate`)
      ?.append(h("small.careful", {}, said));
    return [h("p.careful", { "data-conditions": id }, icon("lock"),
      `${said}: ${open.map((one) => one.text).join(" \u00b7 ")}`)];
  });
}

/** @returns {string[]} the conditions of a release as its signer reads them */
export function conditionsSaid({ sheet }, conditions = []) {
  return conditions.map((one) =>
    `${one.text} (${text.before(titleOf(sheet, one.before))})`);
}

function closing(entries, one) {
  const found = entries.find(({ kind, about }) => kind === "condition_closed"
    && about.target === one.release && about.condition === one.number);
  return found ? h("p", {}, `${found.about.text} \u00b7 `
    + `${personName(model.people, found.person)} ${dayClockText(found.at)}`) : null;
}

function close(dock, point, { release, number, text: what }, draw) {
  const how = area(text.how);
  const note = h("p.note", { role: "alert" });
  let busy = false;
  const sign = async () => {
    const said = how.value.trim().normalize("NFC");
    sayMissing(note, said.length < SHORTEST ? text.howFirst : "");
    if (busy || said.length < SHORTEST) return;
    busy = true;
    const entry = await signOnce({ kind: "condition_closed", point,
      about: { target: release, condition: number, text: said } }, model.shift);
    busy = false;
    // What was typed stays where it was not kept.
    if (entry) draw();
  };
  const sure = button("main.blue", {
    mark: "tick", label: text.close, id: "close-now", onclick: sign,
  });
  fill(dock, h("div.ask", {}, h("b", {}, what), how, note, pair(draw, sure)));
}

/**
 * Ask for the conditions of a release; what is half said is kept until it is released
 * or called off.
 * @param {{element:HTMLElement, dock:HTMLElement, point:string, left:() => void,
 *   done:(conditions:object[]) => Promise<object|undefined>}} how done gives the
 *   release that was signed here
 */
export function askConditions({ element, dock, point, left, done }) {
  const { sheet } = model.open;
  const half = {
    later: sheet.flow.slice(sheet.flow.indexOf(point) + 1).filter(mayWait),
    place: keptHere(CONDITIONS, point), made: [], touched: false,
    note: h("p.note", { role: "alert" }), kept: h("p.careful", { hidden: true }),
  };
  half.what = area(text.what, () => keep(half));
  const draw = () => drawConditions(element, half, draw);
  // Something half said must not be dropped by a tap on release.
  const release = async () => {
    const begun = half.what.value.trim() || half.before || half.made.length === 0;
    const whole = !begun || take(half);
    sayMissing(half.note, whole ? "" : text.first);
    if (!whole) return;
    if (await done(half.made)) half.place.drop();
  };
  const more = () => {
    const taken = take(half);
    sayMissing(half.note, taken ? "" : text.first);
    if (taken) draw();
  };
  draw();
  // What another answered since is not said again.
  forgetDecided(model.open).then(() => takeUp(half, draw));
  element.scrollTop = 0;
  fill(dock, h("div.ask", {},
    button("plain", { mark: "plus", label: text.add, id: "add-condition",
      onclick: more }),
    pair(() => { half.place.drop(); left(); }, button("main.blue", {
      mark: "open", label: words.point.release, id: "release-now", onclick: release,
    }))));
}

function drawConditions(element, half, draw) {
  const { sheet } = model.open;
  const choose = (id) => { half.before = id; keep(half); draw(); };
  fill(element, h("h2", {}, text.ask), half.kept, ...half.made.map((one) =>
    h("p.careful", {}, icon("lock"),
      `${one.text} \u00b7 ${text.before(titleOf(sheet, one.before))}`)),
  half.what, half.note, h("b", {}, text.which),
  choices(half.later, half.before, choose));
}

function take(half) {
  const said = half.what.value.trim().normalize("NFC");
  if (said.length < SHORTEST || !half.before) return false;
  half.made.push({ text: said, before: half.before });
  [half.what.value, half.before] = ["", undefined];
  keep(half);
  return true;
}

function keep(half) {
  const { kept, made, before, what: { value: said }, place } = half;
  half.touched = true;
  kept.hidden = true;
  place.keep(made.length || said.trim() || before ? { made, said, before } : undefined);
}

// As it was left; what a newer sheet cannot wait for is asked again.
async function takeUp(half, draw) {
  const row = await half.place.read();
  if (!row || half.touched || !half.what.isConnected) return;
  half.made.push(...row.made.filter(({ before }) => half.later.includes(before)));
  half.before = half.later.find((id) => id === row.before);
  half.what.value = row.said;
  fill(half.kept, ...notSaved(row));
  half.kept.hidden = false;
  draw();
}

function choices(later, chosen, choose) {
  const { sheet } = model.open;
  return h("div.choices", {}, ...later.map((id) => button("choice", {
    mark: id === chosen ? "tick" : "choose", label: titleOf(sheet, id),
    "aria-pressed": id === chosen ? "true" : "false", "data-before": id,
    onclick: () => choose(id),
  })));
}

// A condition holds back what this joint comes to: not a route that is off, nor what is
// never refused or seen only in passing.
function mayWait(id) {
  const { sheet, state } = model.open;
  if (sheet.points[id]) return sheet.points[id].class !== "surveillance";
  return sheet.steps[id].class !== "make_safe" && state.steps[id].status !== "off";
}

function pair(left, right) {
  return h("div.pair", {},
    button("plain", { mark: "back", label: words.pin.cancel, onclick: left }), right);
}

function area(label, oninput = () => {}) {
  return h("textarea", { rows: "2", maxlength: "400", placeholder: label,
    "aria-label": label, oninput });
}
