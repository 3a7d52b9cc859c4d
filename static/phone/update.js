// A newer version of the shell is taken in only when a person agrees, and never while
// a clock runs or a form is open. Until then the worker refuses to install it; here it
// is found out by reading the worker the office offers. `switching` takes it in.

const LOOK_MS = 30 * 60_000;
const WORKER = "/phone/sw.js";
const IN_USE = "version-in-use";
const IN_USE_URL = "/phone/version";
const VERSION = /^const VERSION = "([0-9a-zA-Z._-]+)";$/m;

/** The worker, the newer version on offer ("": none), and the one agreed to. */
export const offer = { registration: null, version: "", agreed: "" };
let told = () => {};

/** Register the worker and look for newer versions now and then. */
export async function startWorker(changed) {
  told = changed;
  if (!("serviceWorker" in navigator)) return;
  navigator.serviceWorker.addEventListener("message", ({ data, ports }) => {
    if (data === "agreed?") ports[0].postMessage(offer.agreed);
  });
  offer.registration = await navigator.serviceWorker.register(WORKER, {
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
  offer.registration?.active?.postMessage("later");
}

/** @returns {Promise<string>} the version that is served on this phone, "" if none */
export async function versionInUse() {
  const kept = await caches.match(IN_USE_URL, { cacheName: IN_USE });
  return kept ? kept.text() : "";
}

async function look() {
  const text = await workerText();
  const version = VERSION.exec(text)?.[1];
  const inUse = await versionInUse();
  offer.version = version && inUse && version !== inUse ? version : "";
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
