// A newer version of the shell is taken in only when a person agrees, and never while
// a clock runs or a form is open. Until then the worker refuses to install it; here it
// is found out by reading the worker the office offers.

import { model } from "./model.js";

const LOOK_MS = 30 * 60_000;
const WORKER = "/phone/sw.js";
const IN_USE = "version-in-use";
const IN_USE_URL = "/phone/version";
const VERSION = /^const VERSION = "([0-9a-zA-Z._-]+)";$/m;

let registration = null;
let offered = "";
let agreed = "";
let told = () => {};

/** Register the worker and look for newer versions now and then. */
export async function startWorker(changed) {
  told = changed;
  if (!("serviceWorker" in navigator)) return;
  navigator.serviceWorker.addEventListener("message", ({ data, ports }) => {
    if (data === "agreed?") ports[0].postMessage(agreed);
  });
  registration = await navigator.serviceWorker.register(WORKER, {
    scope: "/phone/", updateViaCache: "none",
  });
  await navigator.serviceWorker.ready;
  // The first screen is there: now the rest of this version, language by language.
  fetchRest();
  look();
  setInterval(look, LOOK_MS);
}

/** Let the worker fetch what of this version is not here yet, if anything. */
export function fetchRest() {
  registration?.active?.postMessage("later");
}

/** @returns {Promise<string>} the version that is served on this phone, "" if none */
export async function versionInUse() {
  const kept = await caches.match(IN_USE_URL, { cacheName: IN_USE });
  return kept ? kept.text() : "";
}

/** @returns {string} a newer version the office offers, "" if none */
export function versionOffered() {
  return offered;
}

/** @returns {boolean} nothing that runs or is half typed would be disturbed */
export function maySwitch() {
  return !model.clockRuns && !model.formOpen;
}

/**
 * Agree to the version on offer and start it; whole or not at all.
 * @returns {Promise<boolean>} false if it could not be fetched: the old one stays
 */
export async function switchVersion() {
  if (!offered || !maySwitch()) return false;
  agreed = offered;
  const taken = new Promise((resolve) => {
    navigator.serviceWorker.addEventListener(
      "controllerchange", resolve, { once: true });
  });
  try {
    const found = await registration.update();
    await installed(found.installing);
  } catch {
    agreed = "";
    return false;
  }
  await taken;
  location.reload();
  return true;
}

async function look() {
  const text = await workerText();
  const version = VERSION.exec(text)?.[1];
  const inUse = await versionInUse();
  offered = version && inUse && version !== inUse ? version : "";
  told();
}

async function workerText() {
  try {
    const response = await fetch(WORKER, { cache: "no-store", credentials: "omit" });
    return response.ok ? await response.text() : "";
  } catch {
    // No road to the office: the next look may find one.
    return "";
  }
}

function installed(worker) {
  return new Promise((resolve, reject) => {
    if (!worker) {
      reject(new Error("the version on offer is gone"));
      return;
    }
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") resolve();
      if (worker.state === "redundant") reject(new Error("it could not be taken in"));
    });
  });
}
