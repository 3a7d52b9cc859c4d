// Draws a text as a code, as wide as its place, always black on white: a camera does
// not care for the night theme.

import { correction, generate, mode } from "../../vendor/lean-qr.js";
import "../later.js";
import { h } from "../parts.js";

const QUIET = 4;
/** Of the screen, on every side. */
const MARGIN_PX = 12;
/** No smaller for want of height: a screen that has less scrolls. */
const LEAST_PX = 240;

/** @returns {HTMLCanvasElement} the code of a text, named in words for readers */
export function codeOf(text, label) {
  const canvas = h("canvas.qr", { role: "img", "aria-label": label });
  drawCode(canvas, text);
  return canvas;
}

/** Draw another text on a code's canvas. */
export function drawCode(canvas, text) {
  const written = mode.alphaNumeric.test(text) ? mode.alphaNumeric(text) : text;
  const code = generate(written, { minCorrectionLevel: correction.M });
  code.toCanvas(canvas, { on: [0, 0, 0], off: [255, 255, 255], pad: QUIET });
  // Every module as many whole pixels of the screen: a camera dislikes uneven ones.
  const { clientWidth, clientHeight } = document.getElementById("screen");
  // Whole above the keys: what is cut off reads as nothing.
  const room = Math.min(clientWidth, Math.max(LEAST_PX, clientHeight)) - 2 * MARGIN_PX;
  const pixels = Math.max(1, Math.floor(room * devicePixelRatio / canvas.width));
  canvas.style.width = `${canvas.width * pixels / devicePixelRatio}px`;
}
