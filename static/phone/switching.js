// Takes in the newer version of the shell that is on offer, once a person agrees.

import { model } from "./model.js";
import { offer } from "./update.js";

/** @returns {string} a newer version the office offers, "" if none */
export function versionOffered() {
  return offer.version;
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
  if (!offer.version || !maySwitch()) return false;
  offer.agreed = offer.version;
  const taken = new Promise((resolve) => {
    navigator.serviceWorker.addEventListener(
      "controllerchange", resolve, { once: true });
  });
  try {
    const found = await offer.registration.update();
    await installed(found.installing);
  } catch {
    offer.agreed = "";
    return false;
  }
  await taken;
  location.reload();
  return true;
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
