// Sound, vibration and the wake lock: helps where the phone allows them. None of them
// works on a locked phone without a network, and nothing may rely on them.

const BEEP_MS = 250;
const VIBRATION = { high: [400, 150, 400], medium: [300], low: [120] };
const PITCH_HZ = { high: 880, medium: 660, low: 440 };

let audio = null;
let lock = null;

/** Browsers let a page sound only after a touch; call this in one. */
export function allowSound() {
  audio ??= typeof AudioContext === "undefined" ? null : new AudioContext();
  if (audio?.state === "suspended") audio.resume();
}

/** @param {"high"|"medium"|"low"} priority */
export function ring(priority) {
  navigator.vibrate?.(VIBRATION[priority]);
  if (audio?.state !== "running") return;
  const tone = audio.createOscillator();
  const level = audio.createGain();
  tone.frequency.value = PITCH_HZ[priority];
  level.gain.value = 0.4;
  tone.connect(level).connect(audio.destination);
  tone.start();
  tone.stop(audio.currentTime + BEEP_MS / 1000);
}

/** Keep the screen on while `wanted`; asked again whenever the page comes back. */
export async function keepAwake(wanted) {
  if (!wanted) {
    lock?.release();
    lock = null;
    return;
  }
  if ((lock && !lock.released) || document.visibilityState !== "visible") return;
  try {
    lock = (await navigator.wakeLock?.request("screen")) ?? null;
  } catch (fault) {
    // Refused on low battery; the deadline stays large on the screen.
    if (!(fault instanceof DOMException)) throw fault;
    lock = null;
  }
}
