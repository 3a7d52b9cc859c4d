// Photos on the screen: taking one, and showing those that readings carry. A photo
// that is not on this phone is said to be so, and fetched when the office answers.

import { fetchPhoto, keepPhoto, NotAPicture, photoHere } from "../device/photos.js";
import { wallMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { changed, model } from "./model.js";
import { closeOver, openOver } from "./over.js";
import { button, fill, h } from "./parts.js";
import { words } from "./words.js";

const text = words.photo;
const ASK_AGAIN_MS = 10_000;
const KEEP_MS = 5_000;

const urls = new Map();
const asked = new Map();

/**
 * Keys to take or choose photos. `before` is waited for before the camera opens, which
 * may get the browser killed; `during` is given what ends once all are kept; `after`
 * hears each hash once its photo is kept.
 * @param {{before:() => Promise<void>, during:(taking:Promise<void>) => void,
 *   after:(hash?:string, fault?:string) => any}} how
 */
export function photoKeys({ before, during, after }) {
  const all = async (files) => {
    for (const file of files) await take(file, after);
  };
  const taken = (files) => during(all(files));
  return h("div.pair", {},
    picker("photo", text.take, { id: "camera", capture: "environment" }, before, taken),
    picker("plus", text.choose, { id: "photo-file", multiple: true }, before, taken));
}

function picker(mark, label, props, before, taken) {
  const input = h("input", {
    type: "file", accept: "image/*", hidden: true, ...props, onchange: () => {
      taken([...input.files]);
      input.value = "";
    },
  });
  return h("div", {}, input, button("plain", {
    mark, label, "data-pick": props.id, onclick: async () => {
      await before();
      input.click();
    },
  }));
}

/** A photo just taken goes with its reading, unless it takes too long to keep. */
export function keptSoon(taking) {
  return Promise.race([taking, new Promise((goOn) => { setTimeout(goOn, KEEP_MS); })]);
}

async function take(file, after) {
  try {
    const hash = await keepPhoto(file);
    model.outbox = {
      ...model.outbox, count: model.outbox.count + 1,
      photos: (model.outbox.photos ?? 0) + 1, since: model.outbox.since ?? wallMs(),
    };
    changed();
    after(hash);
  } catch (fault) {
    after(undefined, fault instanceof NotAPicture ? text.unreadable
      : `${text.unkept} ${fault.message}`);
  }
}

/** The photos of some entries. @returns {HTMLElement|null} */
export function photosOf(entries) {
  return thumbs([...new Set(entries.flatMap((entry) => entry.photos))]);
}

/** Small pictures; a tap shows one whole. @returns {HTMLElement|null} */
export function thumbs(hashes) {
  return hashes.length ? h("div.thumbs", {}, ...hashes.map(thumb)) : null;
}

function thumb(hash) {
  const place = h("span.thumb", { "data-photo": hash });
  const url = urls.get(hash);
  if (url) showIn(place, url);
  else find(place, hash);
  return place;
}

function showIn(place, url) {
  fill(place, h("button", { type: "button", "aria-label": text.whole,
    onclick: () => showWhole(url) }, h("img", { src: url, alt: text.one })));
}

async function find(place, hash) {
  fill(place, h("small", {}, icon("photo"), text.unseen));
  const here = (await photoHere(hash)) ?? (await ask(hash));
  if (!here) return;
  if (!urls.has(hash)) urls.set(hash, URL.createObjectURL(here));
  showIn(place, urls.get(hash));
}

async function ask(hash) {
  if (wallMs() - (asked.get(hash) ?? 0) < ASK_AGAIN_MS) return undefined;
  asked.set(hash, wallMs());
  return fetchPhoto(hash);
}

function showWhole(url) {
  const over = openOver(closeOver);
  fill(over, h("section.sheet", { role: "dialog", "aria-label": text.one },
    h("img.whole", { src: url, alt: text.one }),
    button("plain", { mark: "back", label: words.bar.back, onclick: closeOver })));
}
