// From phone to phone with no network: what may be shown, scanned, filed.

import { ParcelFault, parcelText, readFile } from "../../device/roads/parcel.js";
import { everything, everythingOf, newHere } from "../../device/roads/pick.js";
import { receive } from "../../device/roads/receive.js";
import { model, refresh, subjectTitle } from "../model.js";
import { button, fill, h } from "../parts.js";
import { words } from "./words.js";
import { reportOf } from "./report.js";

const text = words.roads;
const FILE_TYPE = "application/json";

export const title = () => text.title;

/** Show the roads of params [subject], or of the whole phone. @returns {() => void} */
export function mount(element, { dock, go, params }) {
  const [subject] = params;
  const view = { element, dock, go, subject };
  if (model.identity) draw(view);
  else fill(element, h("p.careful", {}, text.noSite));
  return () => {};
}

async function draw(view) {
  const { subject, element, dock, go } = view;
  const [fresh, all] = subject
    ? await Promise.all([newHere(subject), everythingOf(subject)]) : [[], []];
  // What became of a file stands first, where it is seen at once.
  fill(element, h("div", { id: "outcome" }),
    h("div.choices", {}, ...(subject ? ofSubject(subject, fresh, all, go) : []),
      showKey("roster", go, text.showRoster, "/show/roster", 1)),
    h("p.hint", {}, text.hint));
  fill(dock, h("div.ask", {}, h("div.pair", {}, outKey(view), inKey(view)),
    button("main.blue", { mark: "photo", label: text.scan, id: "scan",
      onclick: () => go("/scan") })));
}

function ofSubject(subject, fresh, all, go) {
  return [
    showKey("new", go, text.showNew(fresh.length), `/show/new/${subject}`,
      fresh.length),
    last(fresh, go, subject),
    showKey("all", go, text.showAll(subjectTitle(subject)), `/show/all/${subject}`,
      all.length),
  ];
}

function showKey(what, go, label, route, count) {
  return count === 0 ? null : button("choice", { mark: "phone", label,
    "data-show": what, onclick: () => go(route) });
}

// What was signed last is what the other phone most often waits for: one code.
function last(fresh, go, subject) {
  const row = fresh.findLast((one) => one.subject === subject);
  if (!row || fresh.length === 1) return null;
  const { kind, step, point } = JSON.parse(row.bytes);
  const { sheet } = model.open ?? {};
  const at = sheet?.steps[step]?.title ?? sheet?.points[point]?.title ?? "";
  return showKey("one", go, text.showLast([text.kinds[kind] ?? kind, at]
    .filter(Boolean).join(" · ")), `/show/one/${subject}/${row.id}`, 1);
}

function outKey({ subject }) {
  return button("plain", { mark: "note", label: text.toFile, id: "to-file",
    onclick: async () => {
      const rows = subject ? await everythingOf(subject) : await everything();
      const { site, device } = model.identity;
      await handOut(new File([parcelText(site, rows)],
        `entries-${subject ?? site}-${device}.json`, { type: FILE_TYPE }));
    } });
}

async function handOut(file) {
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (fault) {
      // Put away unsent, or not allowed here: then it is kept as a download.
      if (fault.name === "AbortError") return;
    }
  }
  const address = URL.createObjectURL(file);
  h("a", { href: address, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

function inKey(view) {
  const input = h("input", { type: "file", accept: `.json,${FILE_TYPE}`, hidden: true,
    id: "entries-file", onchange: () => takeFile(view, input) });
  return h("div", {}, input, button("plain", { mark: "plus", label: text.fromFile,
    id: "from-file", onclick: () => input.click() }));
}

async function takeFile({ element }, input) {
  const outcome = element.querySelector("#outcome");
  element.scrollTop = 0;
  fill(outcome, h("p.big", { role: "status" }, text.reading));
  try {
    const report = await receive(await readFile(input.files[0], model.identity.site));
    await refresh();
    fill(outcome, reportOf(report));
  } catch (fault) {
    if (!(fault instanceof ParcelFault)) throw fault;
    fill(outcome, h("p.bad", { role: "alert" }, text.faults[fault.code]));
  }
  input.value = "";
}
