// The joint: minutes in hand on top, one column of steps with the current one open,
// and below, within a thumb's reach, what comes next. Everything is driven by the
// sheet; no step or kind is known here by name.

import { dayClockText, monoMs, timed, wallMs } from "../device/clock.js";
import { instead } from "./alarms.js";
import { calledFor, column, currentOf, lookedAt, raceBegan } from "./column.js";
import { taking } from "./items.js";
import { askedAt, besideAnyway, copyingKey, copyingOf } from "./copying.js";
import { callsOff, stopLeft } from "./decided.js";
import { headline } from "./headline.js";
import { icon } from "./icons.js";
import { lackingPhotos, minutesInHand, nextActs, titleOf } from "./minutes.js";
import { changed, model, save, subscribe } from "./model.js";
import { notice, saidSaved } from "./notice.js";
import { button, fill, h, holdOff } from "./parts.js";
import { lineLabel, photosMissing, refusalText } from "./speak.js";
import { stoppedKeys } from "./stopped.js";
import { minutesStrip } from "./strip.js";
import { failedLine, isAskedFor, nextLine, partedAt } from "./turns.js";
import { routeOf, unsavedHere } from "./unsaved.js";
import { words } from "./words.js";

const text = words.joint;
const RACE = "the minutes";

let strip = null;

export const title = () => model.open?.sheet?.title ?? words.site.title;

/** Let the minutes run between two foldings. */
export function tick() {
  strip?.update(wallMs());
}

/** Show the open subject; params [subject, what to open]. @returns {() => void} */
export function mount(element, { dock, go, params = [] }) {
  const view = { selected: stepNamed(params[1]), go };
  const draw = () => {
    if (!model.open?.state) {
      fill(element, h("p.big", {}, words.site.absent));
      fill(dock, button("plain", { mark: "phone", label: words.phone.roads,
        onclick: () => go("/roads") }));
      return;
    }
    strip = minutesStrip(model.open, model.people);
    const stay = lookedAt(element);
    // A STOP that comes from another phone takes no tap that was meant for the work,
    // nor does what comes once it is made safe.
    const { stopped } = model.open.state;
    if (stopped?.at !== view.stopped) view.tapped = monoMs();
    view.stopped = stopped?.at;
    const left = stopLeft(model.open);
    view.calledOff = left && callsOff(model.open, left) ? left : null;
    const parted = partedAt(model.open);
    view.off = Boolean(view.calledOff || parted);
    const acts = raceBegan(model.open) && !view.off
      ? nextActs(model.open, askedAt(model.open)) : [];
    view.racing = acts.length > 0 && !view.selected;
    view.next = parted ? null : acts[0]?.step;
    // The minutes stand first: nothing but a line may come before them.
    const trace = left && (acts.length || view.calledOff);
    fill(element, notice(), trace ? instead().stopTrace?.(model.open, left) : null,
      strip.element, beside(model.open, element), headline(model.open, go),
      column(model.open, view, (id) => { view.selected = id; draw(); }));
    const answered = () => { view.tapped = monoMs(); draw(); };
    const asked = stopped ? null : instead().copyingAsked?.(model.open, answered);
    const copying = copyingKey(model.open, answered);
    const keys = asked ?? dockButtons(model.open, view, acts);
    fill(dock, copying ? h("div.ask", {}, copying, keys) : keys);
    holdOff(dock, view.tapped);
    stay();
    view.inView = openInView(element, view.inView);
  };
  draw();
  const leave = subscribe(draw);
  return () => { leave(); strip = null; };
}

// Told once what tells it is here.
function beside(open, element) {
  const place = h("div");
  import("./won.js").then((one) => one.besideMinutes(open, place, element), () => {});
  return place;
}

// Another subject may wait for a step of this one, or for what that reaches.
function stepNamed(id) {
  const { sheet } = model.open ?? {};
  const step = sheet?.milestones?.find((one) => one.id === id)?.step ?? id;
  return sheet?.flow.includes(step) ? step : null;
}

// The current step comes into view, but never over running minutes.
function openInView(element, current) {
  const card = element.querySelector(".card.current")?.closest(".tooth");
  // A race that another phone began is seen at once.
  const minutes = minutesInHand(model.open, wallMs());
  if ((minutes.running && !minutes.slow) || element.querySelector("#outlasting")) {
    if (current !== RACE) element.scrollTop = 0;
    return RACE;
  }
  if (!card) return current;
  // GO is the word everybody waits for.
  if (element.querySelector("#go")) return current;
  const id = card.dataset.step ?? card.dataset.point;
  // Whoever comes new to it sees first what must wait, and until when.
  if (current === undefined && element.querySelector("#holds")) return id;
  // What the last reading means is seen first, and the step once that has gone.
  if (element.querySelector("#notice:not(.green)")) return current;
  if (id !== current) bring(element, card);
  return id;
}

// Once more when it is drawn: until then the steps above it are only guessed in height.
function bring(element, card, again = 2) {
  if (card.isConnected) element.scrollTop = Math.max(0, card.offsetTop - 64);
  if (again) requestAnimationFrame(() => bring(element, card, again - 1));
}

function dockButtons(open, view, acts) {
  const { sheet, state, subject } = open;
  if (state.stopped) return stoppedKeys(open, view.go);
  const other = view.selected ? null : instead().keys?.(open, view, wallMs());
  if (other) return other;
  if (view.off && !view.selected) {
    // What leads instead is not here: what makes it safe is in reach all the same.
    const apart = sheet.flow.find((one) => sheet.steps[one]?.again);
    return apart ? stepButton(open, view, apart) : null;
  }
  if (view.racing) {
    const [paper, old] = [instead().paperKey?.(open, acts, view.go),
      instead().oldKey?.(open, view.go, wallMs())];
    const pair = h("div.pair", {}, ...acts.map(({ step, line, photo }) => (photo
      ? photoButton(open, view, step, line) : recordButton(open, view, step, line))));
    return paper || old ? h("div.ask", {}, old, pair, paper) : pair;
  }
  const id = view.selected ?? currentOf(open);
  if (!id) return h("p.big", {}, text.complete);
  const { early } = view;
  // Nothing is of use before then: that is said, and no large key leads to it.
  if (!view.selected && early?.steps.includes(id)) {
    return h("div.ask", {}, h("p.careful", { id: "held" }, icon("wait"), text.held(
      sheet.holds.find((one) => one.id === early.hold).title,
      dayClockText(early.until))), button("plain", {
      mark: "wait", label: titleOf(sheet, id), "data-early": id,
      note: text.ofUse(dayClockText(early.from)), onclick: () => view.select(id),
    }));
  }
  const [first] = calledFor(open, id);
  const main = sheet.points[id] ? button("main.blue", {
    mark: "shield", label: text.openPoint, note: sheet.points[id].title,
    "data-point": id, onclick: () => view.go(`/point/${subject}/${id}`),
  }) : stepButton(open, view, id);
  return first ? h("div.pair", {}, stepButton(open, view, first), main) : main;
}

function stepButton(open, view, id) {
  const { sheet, state } = open;
  const line = sheet.steps[id].series ? "" : instead().lineInHand?.(open, id)
    ?? nextLine(sheet, state, id) ?? failedLine(sheet, state, id);
  const [lacking] = lackingPhotos(sheet, state, id);
  return line === null && lacking !== undefined
    ? photoButton(open, view, id, lacking) : recordButton(open, view, id, line ?? "");
}

// What is to be done, and where: both at a glance.
const actOf = (act, line) =>
  (line ? [h("span.act", {}, act), h("span.line", {}, line)] : act);

// A reading that only lacks its photo is not taken again.
function photoButton(open, view, step, line) {
  const { sheet, subject } = open;
  if (!model.shift) return recordButton(open, view, step, line);
  return button("main", {
    mark: "photo", label: actOf(sheet.steps[step].title, lineLabel(sheet, step, line)),
    note: words.photo.missing(photosMissing(open, step, line) || 1),
    "data-step": step, "data-line": line,
    onclick: () => view.go(routeOf({ subject, step, line, mode: "photo" })),
  });
}

function recordButton(open, view, step, line) {
  const { sheet, state, subject } = open;
  const said = sheet.steps[step];
  const label = line ? lineLabel(sheet, step, line) : said.title;
  const { refusals } = state.steps[step];
  const [shut] = refusals;
  if (!model.shift) {
    return button("main.blue", {
      mark: "key", label: text.noShift, note: [said.title, line && label]
        .filter(Boolean).join(" \u00b7 "), onclick: () => view.go("/people"),
    });
  }
  const route = `/form/${subject}/${step}/${line || "-"}`;
  if (shut) {
    return besideAnyway(button("main.grey", {
      mark: "lock", label: text.anyway,
      note: refusalText(shut, sheet, model.people, state),
      "data-step": step, onclick: () => view.go(`${route}/anyway`),
    }), refusals, step, () => view.go(`${route}/paper`));
  }
  const values = carried(open, step, line);
  const kept = unsavedHere(open).find((one) => one.step === step && one.line === line);
  const atOnce = !kept && !said.photos && !copyingOf(open) && !model.clockBack
    && (view.racing || !view.later.has(step)) && isAskedFor(open, { step, line })
    && (said.fields ?? []).every(({ id, need }) => !need || values[id] !== undefined);
  const taken = atOnce && taking().takenWith?.(open, step, values);
  const again = !said.series && state.steps[step].lines[line] !== undefined;
  return button("main", {
    mark: again ? "again" : atOnce ? "tick" : "pen",
    label: actOf(again ? `${text.again}: ${said.title}` : said.title,
      line && label),
    note: kept ? words.unsaved.title : taken || undefined,
    "data-step": step, "data-line": line,
    // Once recorded, what is next is asked again and not what was looked at.
    onclick: atOnce ? () => tapOnce(view, { step, line, values },
      [label, taken].filter(Boolean).join(" \u00b7 "))
      : () => view.go(route),
  });
}

async function tapOnce(view, draft, label) {
  if (view.busy) return;
  Object.assign(view, { selected: null, busy: true, tapped: monoMs() });
  await recordAtOnce(draft, label).finally(() => { view.busy = false; });
}

function carried(open, step, line) {
  return Object.fromEntries((open.sheet.steps[step].fields ?? [])
    .map((field) => [field.id, taking().takenOver?.(open, step, line, field)])
    .filter(([, value]) => value !== undefined));
}

async function recordAtOnce(draft, label) {
  const before = model.open.state;
  let entry;
  try {
    entry = await timed("saved-and-folded", () =>
      save({ kind: "done", ...draft }, model.shift));
  } catch (fault) {
    model.notice = {
      at: wallMs(), subject: model.open.subject, tone: "red", head: text.unsaved,
      lines: [String(fault)],
    };
    changed();
    throw fault;
  }
  saidSaved(entry, label, before);
}
