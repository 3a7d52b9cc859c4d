// Building blocks of the screens. Text reaches the page by textContent and attributes
// only. Nothing here knows what is shown.

import { monoMs } from "../device/clock.js";
import { icon } from "./icons.js";

/** A gloved thumb taps twice within this. */
export const DOUBLE_TAP_MS = 300;
const SVG = "http://www.w3.org/2000/svg";

/**
 * Make an element: h("button.main", {onclick}, child, "text").
 * @param {string} kind tag and classes @param {object} props attributes; on… listens
 * @returns {HTMLElement}
 */
export function h(kind, props = {}, ...children) {
  const [tag, ...classes] = kind.split(".");
  const element = document.createElement(tag || "div");
  element.className = classes.join(" ");
  return finish(element, props, children);
}

/** The same for SVG. @returns {SVGElement} */
export function svg(kind, props = {}, ...children) {
  const [tag, ...classes] = kind.split(".");
  const element = document.createElementNS(SVG, tag);
  if (classes.length) element.setAttribute("class", classes.join(" "));
  return finish(element, props, children);
}

/** A button with an icon, a word and perhaps a second line. */
export function button(kind, { mark, label, note, ...props }, ...more) {
  return h(`button.${kind}`, { type: "button", ...props },
    mark ? icon(mark) : null,
    h("span.words", {}, h("span.label", {}, label), note ? h("small", {}, note) : null),
    ...more);
}

/** A row of the joint's column: what it is, its state, and a word beside that. */
export function rowButton(title, state, note, isCurrent, onclick) {
  return h("button.row", {
    type: "button", "aria-expanded": isCurrent ? "true" : "false", onclick,
  }, h("span.rowtitle", {}, title), h("span.rowstate", {}, state,
    note ? h("small", {}, note) : null));
}

/** A state word with its icon: never colour alone. */
export function badge(tone, mark, word) {
  return h(`span.badge.${tone}`, {}, icon(mark), word);
}

/** Put children in place of what an element held; what had the focus has it again. */
export function fill(element, ...children) {
  const held = element.contains(document.activeElement)
    ? pathOf(document.activeElement) : "";
  element.replaceChildren(...children.flat(Infinity).filter(present));
  if (held) element.querySelector(held)?.focus({ preventScroll: true });
}

function pathOf(element) {
  const own = nameOf(element);
  if (own) return own;
  const around = element.parentElement?.closest("[data-step], [data-point]");
  return around ? `${nameOf(around)} ${element.localName}` : "";
}

function nameOf({ id, attributes }) {
  if (id) return `#${CSS.escape(id)}`;
  return [...attributes].filter(({ name }) => name.startsWith("data-")
    && !["data-status", "data-ready"].includes(name))
    .map(({ name, value }) => `[${name}="${CSS.escape(value)}"]`).join("");
}

/** A list of lines of text as paragraphs of one kind. */
export function lines(kind, texts) {
  return texts.map((text) => h(`p.${kind}`, {}, text));
}

function finish(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat(Infinity).filter(present));
  return element;
}

function present(child) {
  return child !== null && child !== undefined && child !== false;
}

/** Keys that came under a thumb just now take no second tap of what led to them. */
export function holdOff(place, tapped, which = "button", ms = DOUBLE_TAP_MS) {
  const left = tapped + ms - monoMs();
  if (!(left > 0)) return;
  const keys = [...place.querySelectorAll(which)];
  for (const key of keys) key.disabled = true;
  setTimeout(() => { for (const key of keys) key.disabled = false; }, left);
}
