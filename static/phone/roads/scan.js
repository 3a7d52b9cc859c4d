// Reads another phone's screen: frames until the parcel is whole, in any order, then
// takes its entries in and says what became of them. Other codes of the site are
// followed to where they belong.

import { issuedSheets } from "../../device/library.js";
import { FrameFault, Gathering, isFrame } from "../../device/roads/frames.js";
import { readMark } from "../../device/roads/marks.js";
import { ParcelFault, unpacked } from "../../device/roads/parcel.js";
import { isSiteCode, joinSite } from "../../device/roads/further.js";
import { receive } from "../../device/roads/receive.js";
import { kick } from "../../device/sync.js";
import { model, refresh } from "../model.js";
import { button, fill, h } from "../parts.js";
import { personName } from "../speak.js";
import { words } from "./words.js";
import { finder } from "./finder.js";
import { reportOf } from "./report.js";

const text = words.roads;
const SHOWN = 12;
const AIMS = { key: words.keys.aim, empty: words.keys.siteHint,
  site: words.keys.aimSite };
const ENROL = /\/phone\/#\/enrol\/([A-Z0-9]{4}-[A-Z0-9]{4})$/;

export const title = () => text.scan;

/** Params key: for a further phone; empty: for one with nobody; site: on that one. */
export function mount(element, { dock, go, params }) {
  const view = { element, dock, go, purpose: params[0], gathering: new Gathering(),
    last: Promise.resolve() };
  view.finder = finder((read) => take(view, read));
  view.progress = h("p.big", { id: "progress", role: "status" },
    AIMS[params[0]] ?? text.aim);
  fill(element, view.progress);
  fill(dock, view.finder.element);
  return () => view.finder.stop();
}

// One after the other: camera and pictures may both bring codes, and none is dropped.
function take(view, read) {
  const work = () => (isFrame(read) ? takeFrame(view, read) : follow(view, read));
  view.last = view.last.then(work, work);
  return view.last;
}

async function takeFrame(view, read) {
  if (!model.identity) {
    view.finder.say(text.noSite);
    return;
  }
  const { gathering, progress } = view;
  // A picture too many, or what the camera still saw: all of it is in already.
  if (view.whole) return;
  try {
    const found = await gathering.add(read);
    progress.textContent = text.have(found.have, found.of, listed(found.missing));
    if (found.bytes) await takeParcel(view, found.bytes);
  } catch (fault) {
    if (!(fault instanceof FrameFault || fault instanceof ParcelFault)) throw fault;
    view.finder.say(text.faults[fault.code]);
  }
}

function listed(missing) {
  return missing.slice(0, SHOWN).join(", ") + (missing.length > SHOWN ? " \u2026" : "");
}

async function takeParcel(view, bytes) {
  const entries = await unpacked(bytes, model.identity.site);
  view.whole = true;
  view.finder.stop();
  const report = await receive(entries);
  const nobody = model.here.length === 0;
  await refresh();
  if (nobody && model.here.length > 0) {
    await welcome(view);
    return;
  }
  fill(view.element, reportOf(report));
  fill(view.dock, h("div.ask", {},
    button("plain", { mark: "photo", label: text.again, id: "scan-again",
      onclick: () => view.go("/scan") }),
    ...report.subjects.slice(0, 3).map((subject) => button("main", { mark: "now",
      label: text.open(model.titles[subject] ?? subject), "data-open": subject,
      onclick: () => view.go(`/joint/${subject}`) }))));
}

// The first on this phone, signed for by their own.
async function welcome({ go }) {
  await navigator.storage?.persist?.();
  model.joined = personName(model.people, model.here[0].person);
  kick();
  go("/people");
}

async function join(view, read) {
  if (!(await joinSite(read, model.shell))) {
    view.finder.say(words.keys.faults.foreign_site);
    return;
  }
  await refresh();
  view.go("/keys/ask");
}

async function follow(view, read) {
  if (isSiteCode(read)) {
    await join(view, read);
    return;
  }
  const code = ENROL.exec(read)?.[1];
  if (code) {
    view.go(`/enrol/${code}`);
    return;
  }
  if (!model.identity) {
    view.finder.say(text.noSite);
    return;
  }
  const mark = readMark(read, model.identity.site);
  if (mark.kind === "subject") await open(view, mark.id);
  else if (mark.kind === "key") asked(view, read);
  else if (mark.kind === "item") view.finder.say(text.labelHere);
  else view.finder.say(words.marks[mark.fault]);
}

function asked({ go, purpose = "" }, read) {
  go(`/keys/sign/${encodeURIComponent(read)}/${purpose}`);
}

async function open(view, subject) {
  if ((await issuedSheets()).has(subject)) view.go(`/joint/${subject}`);
  else view.finder.say(words.marks.nowhere(subject));
}
