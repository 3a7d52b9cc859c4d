// The fixed frame of every screen: the marks above, and below, always in the same
// place, Back, STOP and More. The hand setting swaps Back and More; STOP never moves.

import {
  clockFault, clockText, dayClockText, zoneMinutes, zoneText,
} from "../device/clock.js";
import { icon } from "./icons.js";
import { wear } from "./look.js";
import { changed, isEnded, isUnproven, lastHeard, model } from "./model.js";
import { fill, h } from "./parts.js";
import { personName, spanText } from "./speak.js";
import { words } from "./words.js";

let spoken = "";
let running;
let place;

/**
 * Draw the fixed keys, once a language.
 * @param {{back:Function, stop:Function, more:Function}} keys
 */
export function drawBar({ back, stop, more }) {
  const { lang } = document.documentElement;
  if (lang === spoken) return;
  spoken = lang;
  const bar = document.getElementById("bar");
  bar.setAttribute("aria-label", words.bar.keys);
  document.getElementById("dock").setAttribute("aria-label", words.bar.dock);
  fill(bar,
    h("button.nav.back", { type: "button", id: "back", onclick: back },
      icon("back"), words.bar.back),
    h("button.stop", { type: "button", id: "stop", onclick: stop },
      h("span", {}, words.bar.stop)),
    h("button.nav.more", { type: "button", id: "more", onclick: more },
      icon("menu"), words.bar.menu));
}

/** Draw the title and the marks, and take on the chosen theme and hand. */
export function drawHead(title, go) {
  wear(model.settings);
  // The same title as a heading, for whoever goes through a page by its headings.
  fill(document.getElementById("head"), h("h1.heard", {}, title),
    h("button.head", { type: "button", onclick: () => go("/office"), id: "marks" },
      h("span.title", {}, title), recorder(), marks()),
    endedNotice(), clockNotice(), failedNotice(), place);
}

/** What runs on above a form, once its module is here: by the clock and by what came,
 * while nobody's answers are drawn anew. */
export function tellRunning() {
  place ??= h("div", { id: "running" });
  running ??= import("./running.js").then((one) => { running = one; changed(); },
    () => { running = undefined; });
  running.tell?.(place);
}

// A call, a release, "seen": nobody is to believe that it was kept.
function failedNotice() {
  const { failed } = model;
  return failed ? h("p.bad", { id: "not-saved", role: "alert" }, icon("cross"),
    `${words.entry[failed.kind]}, ${clockText(failed.at)}: ${words.joint.unsaved} `
    + failed.why) : null;
}

// A clock that is wrong makes every limit wrong, on this phone and on others.
function clockNotice() {
  const ahead = clockFault();
  if (model.clockBack && !ahead) {
    return h("p.bad", { id: "clock-fault", role: "alert" }, icon("clock"),
      words.marks.back(dayClockText(model.clockBack)));
  }
  const span = spanText(ahead);
  return ahead ? h("p.bad", { id: "clock-fault", role: "alert" }, icon("clock"),
    ahead > 0 ? words.marks.ahead(span) : words.marks.behind(span)) : null;
}

// Whatever is shown below may be old: that is said on every screen.
function endedNotice() {
  return isEnded() ? h("p.bad", { id: "ended", role: "alert" }, icon("cross"),
    words.marks.endedWhy) : null;
}

/** Let a screen reader hear what was saved, once. */
export function sayNotice() {
  const { notice } = model;
  const said = notice && notice.subject === model.open?.subject
    ? [notice.head, ...notice.lines].join(". ").replaceAll("..", ".") : "";
  const place = document.getElementById("heard");
  if (place.textContent !== said) place.textContent = said;
}

function recorder() {
  if (!model.shift) return h("span.who", {}, words.people.none);
  return h("span.who", {}, personName(model.people, model.shift.person));
}

function marks() {
  const { outbox, sync, identity } = model;
  // An empty phone that was shown its site belongs to nobody: there is nothing to say.
  if (!identity || (!identity.token && !model.here.length)) return null;
  const waits = outbox.count > 0;
  const asks = !isEnded() && isUnproven();
  const bad = isEnded() ? words.marks.ended
    : sync.refused && !asks && words.marks.stranger;
  const office = bad || (asks ? words.marks.unproven : waits
    ? words.marks.waiting(outbox.count, clockText(outbox.since)) : words.marks.all);
  const tone = bad ? "red" : asks || waits ? "yellow" : "green";
  return h("span.marks", {},
    h("span.mark.green", {}, icon("phone"), words.marks.saved),
    outbox.elsewhere ? h("span.mark.green", { id: "elsewhere-mark" }, icon("phone"),
      icon("phone"), `${outbox.elsewhere} ${words.marks.elsewhere}`) : null,
    h(`span.mark.${tone}`, { id: "office-mark" },
      icon(bad ? "cross" : asks ? "key" : waits ? "wait" : "office"), office),
    // Beside what waits, which it must not hide.
    sync.alarm && !sync.refused ? h("span.mark.red", { id: "alarm-mark" },
      icon("cross"), words.marks.alarm) : null,
    sync.reached ? null : h("span.mark", { id: "unreached" },
      icon(sync.fault ? "cross" : "wait"), unreached(sync)), zoneMark());
}

// The desk, the paper and "until 19:00" keep the site's hours; a phone shows its own.
function zoneMark() {
  const [own, site] = [zoneMinutes(), model.zone];
  return site === undefined || own === site ? null
    : h("span.mark.yellow", { id: "zone-mark" }, icon("clock"),
      words.marks.zone(zoneText(own), zoneText(site)));
}

// A phone that woke up cold says since when it knows nothing new.
function unreached({ fault }) {
  const since = lastHeard();
  const heard = since && words.marks.heard(dayClockText(since));
  return [fault ? words.marks.unreached : !heard && words.marks.unheard, heard]
    .filter(Boolean).join(", ");
}
