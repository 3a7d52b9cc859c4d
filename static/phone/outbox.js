// What waits for the office, since when, and what the office could not take.

import { dayClockText } from "../device/clock.js";
import { waitingRows } from "../device/book.js";
import { faultyRows } from "../device/faulty.js";
import { alarmTold, kick } from "../device/sync.js";
import { titleOf } from "./minutes.js";
import { isEnded, isUnproven, model, subjectTitle, subscribe } from "./model.js";
import { button, fill, h } from "./parts.js";
import { icon } from "./icons.js";
import { askSigner } from "./pin.js";
import { lineLabel } from "./speak.js";
import { sheetHere } from "./told.js";
import { awayButton, isGone, routeOf, throwAway, unsavedOf } from "./unsaved.js";
import { words } from "./later.js";

const text = words.office;

export const title = () => text.title;

/** @returns {() => void} */
export function mount(element, { dock, go, here }) {
  let asked = 0;
  const draw = async () => {
    const mine = asked += 1;
    const [waiting, faulty, unsaved] = await Promise.all([
      waitingRows(), faultyRows(), unsavedOf()]);
    if (!here() || mine !== asked) return;
    const { count } = model.outbox;
    fill(element, ...road(), h("h2", {}, `${text.waiting}: ${count}`),
      count === 0 && !faulty.length && !isEnded() && !model.sync.refused
        ? h("p.good", {}, icon("tick"), text.none) : null,
      model.outbox.photos ? h("p.outrow", { id: "photos-waiting" }, icon("photo"),
        text.photos(model.outbox.photos)) : null,
      ...waiting.map((row) => h("p.outrow", {}, icon("wait"), [rowText(row),
        row.elsewhere ? words.marks.elsewhere : row.mine ? "" : text.fromOther]
        .filter(Boolean).join(" \u00b7 "))),
      ...ownFaults(faulty.filter((row) => row.mine)),
      ...othersFaults(faulty.filter((row) => !row.mine)),
      unsaved.length ? h("h2", {}, words.unsaved.title) : null,
      ...unsaved.map((row) => unsavedRow(row, go, draw)));
  };
  draw();
  fill(dock, h("div.ask", {},
    button("plain", { mark: "phone", label: words.phone.roads, id: "by-hand",
      onclick: () => go(`/roads${model.open ? `/${model.open.subject}` : ""}`) }),
    button("main", { mark: "office", label: text.tryNow, onclick: kick })));
  return subscribe(draw);
}

function road() {
  const { sync } = model;
  return [
    sync.refused ? null : sync.reached && sync.since
      ? h("p.good", {}, icon("tick"), text.reached(dayClockText(sync.since)))
      : sync.fault ? h("p.careful", {}, icon("warn"), text.unreached)
        : h("p.hint", {}, words.site.notHeard),
    isEnded() ? h("p.bad", {}, icon("cross"), text.ended)
      : isUnproven() ? h("p.careful", {}, icon("key"),
        model.here.length ? text.unproven : text.nobody)
        : sync.refused ? h("p.bad", {}, icon("cross"), text.stranger) : null,
    sync.refused && !isEnded() && model.here.length ? proveKey() : null,
    sync.alarm ? h("p.bad", { id: "history-alarm" }, icon("cross"), text[sync.alarm])
      : null,
    sync.alarm ? button("plain", { label: text.alarmTold, onclick: alarmTold }) : null,
  ];
}

function proveKey() {
  return button("act", { mark: "key", label: text.prove, id: "prove",
    onclick: () => askSigner(text.prove, model.here.map((row) => row.person)) });
}

// Nothing of these counts; what belongs to an attempt that is over can only go.
function unsavedRow(row, go, draw) {
  const { subject, step, line } = row;
  const sheet = sheetHere(subject);
  const gone = sheet && isGone(row, sheet);
  const over = gone || (model.open?.subject === subject
    && model.open.state?.attempt !== row.attempt);
  const said = [subjectTitle(subject), sheet?.steps[step]?.title,
    sheet && !gone && lineLabel(sheet, step, line), dayClockText(row.begun)]
    .filter(Boolean).join(" \u00b7 ");
  return over ? h("div.ask", {}, h("p.outrow", {}, icon("pen"),
    `${said} \u00b7 ${words.unsaved.older}`), awayButton(async () => {
    await throwAway(row.key);
    draw();
  })) : button("plain", { mark: "pen", label: said, "data-unsaved": row.key,
    onclick: () => go(model.open?.subject === subject ? routeOf(row)
      : `/joint/${subject}`) });
}

function ownFaults(rows) {
  return rows.length === 0 ? [] : [h("h2", {}, text.faulty),
    ...rows.map((row) => h("p.bad", {}, icon("warn"),
      `${rowText(row)} \u00b7 ${whyNot(row)}`))];
}

// Whoever holds this phone has done nothing wrong, and nobody is to think so.
function othersFaults(rows) {
  return rows.length === 0 ? [] : [h("h2", {}, text.others),
    h("p.hint", {}, text.othersHint),
    ...rows.map((row) => h("p.outrow", { "data-other": row.id }, icon("warn"),
      [row.device && text.from(row.device), rowText(row),
        text.whyOther[row.fault] ?? whyNot(row)].filter(Boolean).join(" \u00b7 ")))];
}

function whyNot({ fault, reason, office }) {
  // What the office's program said of the bytes helps nobody here.
  if (office === "unreadable") return text.why.unreadable;
  const said = fault ?? reason ?? "unreadable";
  return text.why[said] ?? said;
}

function rowText(row) {
  const what = contentOf(row);
  return `${text.row(row.seq)} \u00b7 ${what} \u00b7 ${dayClockText(row.made)}`;
}

function contentOf({ bytes }) {
  try {
    const { kind, subject, step, point } = JSON.parse(bytes);
    const place = step ?? point;
    const sheet = sheetHere(subject);
    return [words.entry[kind] ?? kind, subject && subjectTitle(subject),
      place && sheet ? titleOf(sheet, place) : ""].filter(Boolean)
      .join(" \u00b7 ");
  } catch {
    // What cannot be read is shown as it begins.
    return bytes.slice(0, 24);
  }
}
