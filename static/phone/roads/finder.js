// What the camera sees, and the way round it: pictures chosen from the phone. Each
// text read is handed on; whoever asked decides what it is.

import "../later.js";
import { look, NoCamera, NoReader, readPicture } from "../../device/roads/camera.js";
import { button, h } from "../parts.js";
import { words } from "./words.js";

const text = words.roads;

/**
 * A viewfinder with a key for pictures. `stop` ends the camera.
 * @param {(text:string) => Promise<void>|void} found
 * @returns {{element:HTMLElement, stop:() => void, say:(said:string) => void}}
 */
export function finder(found) {
  const video = h("video.finder", { playsinline: true, muted: true,
    "aria-label": text.camera });
  video.muted = true;
  const note = h("p.note", { role: "alert", id: "scan-note" });
  const say = (said) => { note.textContent = said; };
  let stop = () => {};
  let left = false;
  look(video, found).then((ready) => {
    stop = ready;
    video.dataset.looking = "yes";
    if (left) stop();
  }).catch((fault) => {
    if (left) return;
    video.hidden = true;
    // What a picture said meanwhile is newer.
    if (!note.textContent) say(whyNot(fault));
  });
  const element = h("div.ask", {}, video, note, pictureKey(found, say));
  return { element, say, stop: () => { left = true; stop(); } };
}

function pictureKey(found, say) {
  const input = h("input", { type: "file", accept: "image/*", multiple: true,
    id: "code-pictures", hidden: true,
    onchange: async () => {
      for (const file of [...input.files]) {
        const read = await readPicture(file).catch((fault) => { say(whyNot(fault)); });
        if (read) await found(read);
        else if (read === "") say(text.noCode(file.name.slice(0, 40)));
      }
      input.value = "";
    } });
  return h("div", {}, input, button("plain", { mark: "photo", label: text.pictures,
    id: "from-pictures", onclick: () => input.click() }));
}

function whyNot(fault) {
  if (fault instanceof NoCamera) return text.noCamera;
  if (fault instanceof NoReader) return text.noReader;
  throw fault;
}
