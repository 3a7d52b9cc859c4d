// A point: everything its release rests on, who has signed and who is missing. Several
// may sign one after the other on the same phone; each PIN makes a signature theirs.

import { releaseRefusals } from "../core/rules.js";
import { monoMs } from "../device/clock.js";
import { pointFacts, signsFirst, whoSigns } from "./facts.js";
import { titleOf } from "./minutes.js";
import { sayMissing } from "./missing.js";
import { changed, model, subscribe } from "./model.js";
import { notice, saidSaved } from "./notice.js";
import { button, fill, h, holdOff } from "./parts.js";
import { askSigner, purposeHere } from "./pin.js";
import { deputyWaits, fits, listed, roleText, unsignedWords } from "./releases.js";
import { signOnce } from "./signing.js";
import { personName, refusalText } from "./speak.js";
import { unseenPhotos } from "./unseen.js";
import { keptReason } from "./written.js";
import { words } from "./later.js";

const text = words.point;
const SHORTEST = 3;
/** After these somebody waits for whoever has not signed yet. */
const WAITS = new Set(["called", "release"]);

let id = "";
/** Conditions and what a release rests on, once they are here. */
let behind = null;

export const title = () => model.open?.sheet?.points[id]?.title ?? text.title;

/** Show a point of the open subject; params [subject, point]. @returns {() => void} */
export function mount(element, { dock, go, params, here }) {
  id = params[1];
  const home = `/joint/${params[0]}`;
  const view = { asking: false, go, here, note: "", element, dock, home };
  const draw = () => {
    if (!here()) return;
    if (view.asking) element.scrollTop = 0;
    view.asking = false;
    if (!model.open?.state) {
      fill(element, h("p.big", {}, words.site.absent));
      return;
    }
    fill(element, notice(), h("p.note", { role: "alert" }, view.note),
      ...pointFacts(model.open, id, go),
      behind?.conditionList(model.open, id, dock, draw),
      behind?.whatItRestsOn(model.open, id, draw), view.lacking,
      signsFirst(model.open, id) ? null : whoSigns(model.open, id),
      behind?.seldomKeys(model.open, id, view, keysOf(draw)));
    fill(dock, buttons(view, draw));
  };
  draw();
  // A text being written in the dock must not be drawn over.
  const again = () => {
    if (!view.asking && !dock.querySelector("textarea")) draw();
  };
  if (!behind) {
    fetchBehind().catch(() => {
      view.lacking = h("p.careful", {}, words.phone.away);
    }).then(again);
  }
  return subscribe(again);
}

async function fetchBehind() {
  behind ??= { ...await import("./conditions.js"), ...await import("./rests.js"),
    ...await import("./seldom.js") };
}

function buttons(view, draw) {
  const found = model.open.state.points[id];
  const candidates = signers();
  const able = candidates.filter((person) => !refusedFor(person));
  const spoke = unsignedWords(model.open, id)[0];
  const aside = [found.called === undefined ? callButton(found) : null,
    button("plain", { mark: "cross", label: text.refuse, id: "refuse",
      onclick: () => refuse(view, draw) })];
  // Nobody signs what they cannot read.
  const main = isReleased() || !behind ? null
    : button(able.length ? "main.blue" : "main.grey", {
      mark: able.length ? "open" : "lock", label: text.acts[classOf()], id: "release",
      note: able.length ? undefined : whyNot(candidates),
      onclick: () => release(view, candidates, draw),
    });
  // One row of keys where one is enough: the rest of the screen is for the evidence.
  return h("div.ask", {}, spoke ? wordsButton(spoke, draw) : null,
    main && able.length ? h("div.signing", {}, ...aside, main)
      : [h("div.pair", {}, ...aside), main]);
}

// What the seldom keys do by what is known here.
function keysOf(draw) {
  const able = signers().filter((person) => !refusedFor(person));
  return {
    draw, able, called: callButton,
    conditionally: (view) => conditionally(view, able, draw),
    notice: () => signed(text.notice, signers(), { kind: "notice" }),
  };
}

function isReleased() {
  return model.open.state.points[id].status === "released";
}

// What somebody said is to be signed by nobody else, whatever has happened since.
function wordsButton({ about }, draw) {
  const who = personName(model.people, about.said_by);
  const { status } = model.open.state.points[id];
  return button(status === "released" ? "main.blue" : "plain", {
    mark: "pen", label: words.spoken.sign, note: `${who}: "${about.text}"`,
    id: "sign-words", onclick: async () => {
      const purpose = `${words.spoken.sign}: "${about.text}"`;
      if (await signed(purpose, [about.said_by], { kind: "release" })) draw();
    },
  });
}

function classOf() {
  return model.open.sheet.points[id].class;
}

function callButton(found) {
  const called = found.called !== undefined;
  // Nobody is called to what is seen in passing.
  if (classOf() === "surveillance" && !called) return null;
  const kind = called ? "call_withdrawn" : "called";
  const about = called ? { reason: words.reasons.call_withdrawn[0] } : {};
  return button("plain", {
    mark: "call", label: called ? text.withdraw : text.call, id: "call",
    onclick: async () => {
      const anyone = model.here.map((row) => row.person);
      if (model.shift) await kept({ kind, about }, model.shift);
      else await signed(text.call, anyone, { kind, about });
    },
  });
}

// Whose role fits a release that is still missing.
function signers() {
  const missing = listed(model.open, id).filter(({ entry }) => !entry);
  const wanted = missing.length ? missing.map((one) => one.wanted)
    : model.open.sheet.points[id].releases;
  return whoFits(wanted);
}

function whoFits(wanted) {
  return model.here.map((row) => row.person)
    .filter((person) => wanted.some((one) => fits(person, one)));
}

function refusedFor(person) {
  return releaseRefusals(model.open.scene, id, person)[0];
}

// What shuts the gate stands above, each once.
function whyNot(candidates) {
  const { sheet, state } = model.open;
  const said = (one) => one && refusalText(one, sheet, model.people, state);
  if (state.points[id].refusals?.length) return words.state.waiting;
  return candidates.map((person) =>
    deputyWaits(model.open, id, person) ?? said(refusedFor(person))).find(Boolean)
    ?? words.pin.nobody;
}

/** @returns {Promise<object|undefined>} what was signed, if it was */
async function release(view, candidates, draw, about = {}) {
  view.note = "";
  const isOpen = !model.open.state.points[id].refusals?.length;
  if (candidates.length === 0 && isOpen) {
    // It says how to put on whoever may.
    await askSigner(title(), []);
    return undefined;
  }
  const able = candidates.filter((person) => !refusedFor(person));
  if (able.length === 0) {
    view.note = whyNot(candidates);
    draw();
    return undefined;
  }
  const unseen = await unseenPhotos(model.open, id);
  if (!view.here()) return undefined;
  const purpose = [`${text.acts[classOf()]}: ${title()}`,
    ...behind?.conditionsSaid(model.open, about.conditions) ?? []].join(" \u00b7 ");
  const entry = await signed(purpose, able, {
    kind: "release", about: unseen.length ? { ...about, unseen } : about,
  });
  if (!entry || !view.here()) return entry;
  // The next who must sign finds the same screen, if they are on this phone.
  const missing = listed(model.open, id).some((one) => !one.entry);
  if (missing && signers().length) draw();
  else if (!await behind?.askNext(view, id, entry)) view.go(view.home);
  return entry;
}

function conditionally(view, able, draw) {
  view.asking = true;
  behind.askConditions({ ...view, point: id, left: draw,
    done: (conditions) => release(view, able, draw, { conditions }) });
}

function refuse(view, draw) {
  view.asking = true;
  const reason = keptReason("refusal", id);
  const note = h("p.note", { role: "alert" });
  const sign = async () => {
    const about = { reason: reason.text() };
    sayMissing(note, about.reason.length < SHORTEST ? text.whyFirst : "");
    if (about.reason.length < SHORTEST) return;
    const may = model.open.sheet.points[id].releases;
    const draft = { kind: "refusal", about };
    const purpose = `${text.refuse}: ${title()}, ${about.reason}`;
    if (!await signed(purpose, whoFits(may), draft)) return;
    reason.done();
    if (view.here()) draw();
  };
  const who = model.open.sheet.points[id].releases.map(roleText).join(", ");
  fill(view.element, h("p.big", { id: "whose" }, model.open.sheet.title),
    h("h2", {}, text.why), h("p.hint", {}, `${text.refuse}: ${who}`),
    reason.element, note);
  view.element.scrollTop = 0;
  fill(view.dock, h("div.pair", {},
    // Whoever refuses next, perhaps for another firm, begins with no word of this one.
    button("plain", { mark: "back", label: words.pin.cancel, id: "refuse-not",
      onclick: () => { reason.done(); draw(); } }),
    button("main.red", {
      mark: "cross", label: text.refuse, id: "refuse-now", onclick: sign,
    })));
  holdOff(view.dock, monoMs());
}

async function signed(purpose, candidates, draft) {
  const signer = await askSigner(purposeHere(purpose), candidates);
  return signer ? kept(draft, signer) : null;
}

// Kept, and said so where it was tapped: what, by whom, and who is missing still.
async function kept(draft, signer) {
  const [point, before] = [id, model.open.state];
  const entry = await signOnce({ ...draft, point }, signer);
  if (!entry || model.open.subject !== entry.subject) return entry;
  saidSaved(entry, [titleOf(model.open.sheet, point), words.entry[entry.kind]]
    .join(" \u00b7 "), before);
  const missing = listed(model.open, point).filter((one) => !one.entry && !one.used)
    .map(({ wanted }) => roleText(wanted));
  model.notice.lines.unshift([personName(model.people, entry.person),
    missing.length && WAITS.has(entry.kind) ? `${text.missing}: ${missing.join(", ")}`
      : ""].filter(Boolean).join(" \u00b7 "));
  changed();
  return entry;
}
