// Starts the phone: reads what is kept, shows the screen the address names, and lets
// time tick. Screens are `mount(el, context)` and give back how to leave them.

import { mark, monoMs, wallMs } from "../device/clock.js";
import { allowSound, keepAwake, ring } from "../device/ringer.js";
import { alarmsOf } from "./alarms.js";
import { showAlarm } from "./bell.js";
import { drawBar, drawHead, sayNotice, tellRunning } from "./frame.js";
import * as joint from "./joint.js";
import { engine, loadEarly, model, openSubject, press, subscribe } from "./model.js";
import { keepLook, wearKept } from "./look.js";
import { leaveOver } from "./over.js";
import { DOUBLE_TAP_MS } from "./parts.js";
import { languageOf, speak } from "./words.js";

const SCREENS = {
  "": () => import("./site.js"),
  joint: async () => joint,
  form: () => import("./form.js"),
  point: () => import("./point.js"),
  line: () => import("./line.js"),
  nonconformance: () => import("./nonconformance.js"),
  stop: () => import("./stop.js"),
  enrol: () => import("./enrol.js"),
  people: () => import("./people.js"),
  office: () => import("./outbox.js"),
  more: () => import("./more.js"),
  plan: () => import("./plan.js"),
  roads: () => import("./roads/roads.js"),
  show: () => import("./roads/show.js"),
  scan: () => import("./roads/scan.js"),
  keys: () => import("./roads/keys.js"),
  register: () => import("./register/register.js"),
};
const WITH_SUBJECT = new Set([
  "joint", "form", "point", "line", "nonconformance", "stop",
]);
/** What an address names of a sheet, by screen; a newer sheet may lack it. */
const OF_SHEET = { form: "steps", line: "steps", point: "points" };
const TICK_MS = 1_000;
const REFOLD_TICKS = 5;
const RING_TICKS = 3;
const SHIFT_MS = 12 * 3_600_000;

let leave = () => {};
let screen = null;
let asked = 0;
let ticks = 0;
let stoppedFrom = "";
let touched = false;
let shown = [];
/** The gate that somebody left for what is not of a joint: they go on there. */
let gate = "";

start();

async function start() {
  // Drawn while the storage is read; in another language once its words are there.
  if (languageOf(wearKept()) === "en") bar();
  await loadEarly();
  await speak(languageOf(model.settings.language));
  if (!location.hash && model.lastSubject) {
    history.replaceState(null, "", `#/joint/${model.lastSubject}`);
  }
  if (model.here.length === 0 && !location.hash.startsWith("#/enrol/")) {
    history.replaceState(null, "", "#/enrol");
  }
  addEventListener("hashchange", show);
  addEventListener("pointerdown", () => {
    touched = true;
    allowSound();
    press(true);
  });
  // The click comes after the finger is up.
  for (const up of ["pointerup", "pointercancel"]) {
    addEventListener(up, () => setTimeout(press, 0, false));
  }
  await show();
  mark("usable");
  subscribe(frame);
  setInterval(tick, TICK_MS);
  // The first screen is painted before the engine is fetched behind it.
  requestAnimationFrame(() => setTimeout(beginEngine, 0));
}

async function beginEngine() {
  mark("painted");
  keepLook(model.settings);
  const started = await engine();
  await started.begin();
  mark("ready");
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") started.refresh();
  });
  // Nobody is taken away from what they have begun to tap.
  if (model.keysLost && !touched) go("/more");
}

/** Go to a screen by its address. */
function go(route) {
  if (location.hash === `#${route}`) show();
  else location.hash = route;
}

// What the address names: a screen, and what it is shown of.
function route() {
  return location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
}

async function show() {
  const mine = asked += 1;
  const since = monoMs();
  const [from, before] = shown;
  const [name = "", ...rest] = route();
  let found = await screenOf(name);
  if (mine === asked && WITH_SUBJECT.has(name) && rest[0]) {
    model.wanted = rest[0];
    if (!isOpen(name, rest[0])) await openSubject(rest[0]);
    // Its sheet is not here: the joint's screen says so, and STOP has a word for it.
    if (!model.open?.state && name !== "stop") found = joint;
    if (mine === asked && isGone(name, rest[1])) return go(`/joint/${rest[0]}`);
  }
  // Somebody went on to another screen while this one was being read.
  if (mine !== asked) return;
  leaveOver();
  leave();
  const element = document.getElementById("screen");
  const dock = document.getElementById("dock");
  element.replaceChildren();
  dock.replaceChildren();
  element.scrollTop = 0;
  screen = found;
  if (name !== "stop") stoppedFrom = "";
  model.formOpen = name === "form";
  document.body.dataset.screen = name || "site";
  // A screen that waited for something asks whether it is still the one shown.
  const here = () => mine === asked;
  const onward = (route) => { if (here()) go(route); };
  const unasked = mine === 1 || monoMs() - since > DOUBLE_TAP_MS;
  holdStill(unasked && name !== "stop", element, dock);
  shown = [location.hash.slice(1), name];
  if (name === "point") [gate] = shown;
  else if (!name || (WITH_SUBJECT.has(name) && name !== "stop")) gate = "";
  leave = found.mount(element, { dock, go: onward, frame, here, params: rest,
    // Whoever was sent here by a screen of a subject goes on there.
    from: gate || (WITH_SUBJECT.has(before) ? from : undefined) });
  frame();
}

// Whether the sheet in force has no such step or point.
function isGone(name, id) {
  return model.open?.state && OF_SHEET[name] && !model.open.sheet[OF_SHEET[name]][id];
}

// A screen that comes by itself, or long after it was asked for, comes under a thumb
// that was on its way to something else. STOP waits for nothing.
function holdStill(held, ...places) {
  for (const place of places) place.inert = held;
  const after = () => { for (const place of places) place.inert = false; };
  if (held) setTimeout(after, DOUBLE_TAP_MS);
}

async function screenOf(name) {
  try {
    return await (SCREENS[name] ?? SCREENS[""])();
  } catch {
    // What comes after the first screen had not come when the network went.
    return import("./away.js");
  }
}

// Only the joint's own screen can do with the view kept last.
function isOpen(name, subject) {
  return model.open?.subject === subject && (model.open.scene || name === "joint");
}

function frame() {
  if (!screen) return;
  bar();
  ringing();
  tellRunning();
  drawHead(screen.title(), go);
  sayNotice();
}

function bar() {
  drawBar({ back, stop, more: () => go("/more") });
}

function back() {
  const [name, subject] = route();
  // Whoever was called away by a STOP goes on where they were, in a form as well.
  if (name === "stop" && stoppedFrom) return go(stoppedFrom.slice(1));
  if (screen.backTo) return go(screen.backTo());
  // What looks after people and keys goes back there, not to the bridge.
  if (name === "keys" || (name === "scan" && subject)) {
    return go(model.here.length ? "/people" : "/enrol");
  }
  const inside = WITH_SUBJECT.has(name) && subject;
  const joint = inside ? subject : model.open?.subject;
  return go(gate && !inside ? gate
    : name && name !== "joint" && joint ? `/joint/${joint}` : "/");
}

// On a screen that names no joint, nobody has said which it is: the last one open may
// be another.
function stop() {
  const [name, subject] = route();
  if (name !== "stop") stoppedFrom = location.hash;
  go(WITH_SUBJECT.has(name) && subject ? `/stop/${subject}` : "/stop");
}

function tick() {
  ticks += 1;
  if (ticks % REFOLD_TICKS === 0 && model.open?.scene) {
    engine().then((started) => started.refold());
  }
  // First: nothing that fails to be drawn keeps an alarm from it.
  ringing();
  screen?.tick?.();
  tellRunning();
}

// What runs for days (strand in a duct, the other arm ahead, adhesive that an ended
// attempt left) keeps no phone from its sleep, nor from a new version.
function clocksRun(open) {
  const now = wallMs();
  const slow = (open?.sheet?.clocks ?? []).filter(({ other }) => other);
  const left = (open?.state?.outlasting ?? []).flatMap((one) =>
    Object.values(one.deadlines));
  if (left.some((at) => at > now && at - now < SHIFT_MS)) return true;
  return Object.entries(open?.state?.clocks ?? {}).some(([id, { ended, deadlines }]) =>
    !ended && !slow.some((clock) => clock.id === id)
      && Object.values(deadlines ?? {}).some((at) => at - now < SHIFT_MS));
}

function ringing() {
  const alarms = alarmsOf(model.open, wallMs());
  const loud = alarms.find((alarm) => !alarm.seen);
  showAlarm(alarms[0]);
  model.clockRuns = clocksRun(model.open);
  keepAwake(model.clockRuns);
  if (loud && ticks % RING_TICKS === 0) ring(loud.priority);
}
