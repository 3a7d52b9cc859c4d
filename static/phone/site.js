// The way in: the site's own elevation, and under it, large enough for gloves, the
// joints that have a sheet, what runs or waits first.

import { instead } from "./alarms.js";
import { dayClockText, wallMs } from "../device/clock.js";
import { currentOf } from "./column.js";
import { minutesInHand, titleOf } from "./minutes.js";
import { issued, lastHeard, model, picture, readAll, subscribe } from "./model.js";
import { inOrder } from "./numbers.js";
import { outlasting } from "./outlasting.js";
import { button, fill, h } from "./parts.js";
import { refusalText, stateBadge } from "./speak.js";
import { toneOf } from "./states.js";
import { tooEarly } from "./turns.js";
import { words } from "./words.js";

const text = words.site;
/** What presses stands on top; among what may be worked at, its kind comes first; what
 * waits for others to be built is many, and behind what is done. */
const ORDER = ["stopped", "race", "failed", "partial", "open", "complete", "concession",
  "rejected", "closed", "unknown"];
const WORK = ["failed", "partial", "open"];

let heading = text.title;

export const title = () => heading;

/** @returns {() => void} */
export function mount(element, { dock, go, frame, here }) {
  const view = { site: undefined, known: [], near: [] };
  const { choose, pick } = search(dock, view, (subject) => go(`/joint/${subject}`));
  fill(element, h("p.hint", { role: "status" }, text.reading));
  const lay = (drawing, plan, { site, known, all = [] }) => {
    Object.assign(view, { site, known });
    fill(element, plan, site ? drawing(site, known, pick, all)
      : h("p.big", {}, text.never),
      h("p.hint", { id: "office-heard" }, lastHeard()
        ? text.heard(dayClockText(lastHeard())) : text.notHeard));
    choose();
  };
  let asked = 0;
  const draw = async () => {
    const mine = asked += 1;
    const isLate = () => !here() || mine !== asked;
    const [site, subjects, drawing] = await Promise.all([picture(), issued(),
      import("./elevation.js").then((one) => one.elevation, () => () => null)]);
    if (isLate()) return;
    named(site, frame);
    // Where to go is told at once; how each stands comes when all of it is read.
    if (view.known.length === 0 && subjects.length) {
      lay(drawing, null, { site, known: unread(site, subjects) });
      await painted();
    }
    const all = await readAll();
    const plan = model.plan
      ? await import("./plan.js").then((one) => one.planNotice(go), () => null) : null;
    if (isLate()) return;
    lay(drawing, plan, { site, known: all.map(summary), all });
  };
  draw();
  return subscribe(draw);
}

// The joints as keys, found by name or by a tap on the picture: what that may mean
// stands first, and one alone is opened.
function search(dock, view, enter) {
  const list = h("div.choices.tall");
  const choose = () => fill(list, ...chosen(view, find.value)
    .map((one) => jointButton(one, enter, view)), nothing(view, find.value));
  const pick = (near) => {
    if (near.length === 1) enter(near[0]);
    if (near.length) find.value = "";
    view.near = near;
    choose();
  };
  const find = finder(() => pick([]), () => {
    const found = chosen(view, find.value);
    if (find.value && found.length === 1) enter(found[0].subject);
  });
  fill(dock, h("div.ask", {}, find, list));
  return { choose, pick };
}

function painted() {
  return new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done, 0));
  });
}

function named(site, frame) {
  if (!site || heading === site.title) return;
  heading = site.title;
  frame();
}

function unread(site, subjects) {
  const titles = new Map((site?.subjects ?? []).map(({ id, title: one }) => [id, one]));
  return subjects.map((subject) => ({
    subject, title: titles.get(subject) ?? subject, note: "",
  }));
}

// A mark as it is painted on the concrete is enough to find a joint.
function finder(oninput, onchange) {
  return h("input.code", {
    type: "search", id: "find", autocomplete: "off", autocapitalize: "characters",
    spellcheck: "false", placeholder: text.find, "aria-label": text.find,
    oninput, onchange,
  });
}

// The joints whose own name, or whose segment's, is or holds what is typed.
function chosen(view, typed) {
  const { site, known } = view;
  const wanted = plain(typed);
  if (!wanted) {
    const near = ({ subject }) => view.near.indexOf(subject) + 1 || Infinity;
    return inOrderOfWork(view).sort((a, b) => near(a) - near(b) || 0);
  }
  const marks = new Map((site?.piers ?? []).flatMap((pier) => pier.arms)
    .flatMap((arm) => arm.segments).map((one) => [one.joint, one]));
  const names = (one) => {
    const { id, title: segment } = marks.get(one.subject) ?? {};
    return [one.subject, one.title, id, segment].filter(Boolean).map(plain);
  };
  const exact = known.filter((one) => names(one).includes(wanted));
  return exact.length ? exact
    : inOrderOfWork(view).filter((one) =>
      names(one).some((name) => name.includes(wanted)));
}

function plain(name) {
  return name.toLowerCase().replaceAll(/[\s._-]/g, "");
}

function nothing(view, typed) {
  return typed && chosen(view, typed).length === 0
    ? h("p.note", { role: "status" }, text.nothing(typed)) : null;
}

function jointButton(one, enter, { near }) {
  const meant = near.includes(one.subject) ? ".meant" : "";
  return button(`joint.${toneOf(one.status)}${meant}`, {
    label: one.title, note: one.note, "data-subject": one.subject,
    onclick: () => enter(one.subject),
  }, one.status ? stateBadge(one.status) : null);
}

/** What a subject shows from afar. */
function summary(open) {
  const { subject, sheet, state } = open;
  if (!state) return { subject, title: subject, status: "unknown", note: text.waiting };
  const [current, early] = [currentOf(open), tooEarly(open)];
  const next = instead().leadsTo?.(open, wallMs()) ?? (current ? titleOf(sheet, current)
    : "");
  const status = statusOf(open);
  const shut = status === "closed" ? otherSubject(state) : undefined;
  return {
    subject, title: sheet.title, status,
    // What runs for days, as strand in a duct, presses nobody today.
    slow: minutesInHand(open, open.asOf).slow && !state.outlasting,
    note: shut ? refusalText(shut, sheet, model.people, state)
      : [next, early?.steps.includes(current)
        ? words.joint.comesAfter(dayClockText(early.from)) : "", ...leftOf(open)]
        .filter(Boolean).join(" \u00b7 "),
  };
}

// Adhesive that an ended attempt left on the faces presses like a race.
function leftOf(open) {
  const all = outlasting(open, wallMs()).filter(({ known }) => known);
  const next = all.find(({ past }) => !past) ?? all.at(-1);
  return next ? [`${next.title} ${dayClockText(next.at)}`] : [];
}

function statusOf(open) {
  const { state } = open;
  if (state.stopped) return "stopped";
  if (minutesInHand(open, open.asOf).running || state.outlasting) return "race";
  if (state.verdict !== "incomplete") return state.verdict;
  const steps = Object.values(state.steps);
  if (steps.some((step) => step.status === "failed")) return "failed";
  if (steps.some((step) => Object.keys(step.lines).length > 0)) return "partial";
  return otherSubject(state) ? "closed" : "open";
}

function otherSubject(state) {
  return Object.values(state.points).flatMap((point) => point.refusals)
    .find((one) => one.code === "other_subject");
}

/** What runs first; then, kind by kind as the plan has them, what is under way, what
 * may begin, what is done and what waits, counting up. @returns {object[]} */
export function inOrderOfWork({ site, known }) {
  const rank = ({ status, slow }) =>
    ORDER.indexOf(status === "race" && slow ? "partial" : status);
  const group = (one) => (WORK.includes(ORDER[rank(one)]) ? ORDER.indexOf(WORK[0])
    : rank(one));
  const kinds = (site?.kinds ?? []).map(({ id }) => id);
  const kind = Object.fromEntries((site?.subjects ?? []).map((one) =>
    [one.id, kinds.indexOf(one.kind)]));
  const place = ({ subject }) => kind[subject] ?? kinds.length;
  return [...known].sort((a, b) => group(a) - group(b) || place(a) - place(b)
    || rank(a) - rank(b) || inOrder(a.title, b.title));
}
