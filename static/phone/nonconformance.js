// Nonconformances of the open subject: what is wrong, what it shuts, and who may
// propose or dispose of it. A disposition is signed by PIN.

import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { model, saveOrTell, subscribe } from "./model.js";
import { button, fill, h } from "./parts.js";
import { askSigner } from "./pin.js";
import { reasonPicker } from "./reasons.js";
import { faultTitle, personName, stateBadge } from "./speak.js";
import { signOf } from "./states.js";
import { words } from "./later.js";

const text = words.nonconformance;
const SHORTEST = 3;
const VERDICTS = ["use_as_is", "repair", "rework", "reject"];

export const title = () => text.title;

/**
 * The list, one of them, or a new one; params [subject, id?], [subject, "new", card?].
 * @returns {() => void}
 */
export function mount(element, { dock, go, params }) {
  const [subject, id, card] = params;
  const choice = { verdict: null, from: null, reason: null, busy: false, note: "" };
  if (id === "new") {
    raise(element, dock, go, card);
    return () => {};
  }
  const draw = () => (id ? one(element, dock, go, id, choice, draw)
    : list(element, dock, go, subject));
  draw();
  return subscribe(() => { if (!choice.verdict) draw(); });
}

function list(element, dock, go, subject) {
  const { state } = model.open;
  fill(element, h("p.hint", {}, text.who), ...state.nonconformances.map((each) =>
    button("plain", {
      mark: signOf(shown(each)), label: titleOfFault(each),
      note: words.state[shown(each)] ?? each.status, "data-fault": each.id,
      onclick: () => go(`/nonconformance/${subject}/${each.id}`),
    })));
  fill(dock, button("plain", {
    mark: "plus", label: text.raise, id: "report",
    onclick: () => go(`/nonconformance/${subject}/new`),
  }));
}

function one(element, dock, go, id, choice, draw) {
  const { sheet, state } = model.open;
  const found = state.nonconformances.find((each) => each.id === id);
  if (!found) {
    go(`/nonconformance/${model.open.subject}`);
    return;
  }
  choice.reason ??= reasonPicker("disposition");
  fill(element, h("div.headline", {}, stateBadge(shown(found)),
    found.verdict ? h("span.chip", {}, text.verdicts[found.verdict]) : null),
  h("h2", {}, titleOfFault(found)),
  found.blocks.length ? h("p", {}, icon("lock"),
    `${text.blocks}: ${found.blocks.map((each) => titleOf(sheet, each)).join(", ")}`)
    : null,
  ...proposals(id), h("p.hint", {}, text.who), ...verdictForm(sheet, choice, draw));
  const keys = keysFor(found, choice, { go, draw });
  const note = { role: "alert", id: "decide-note" };
  fill(dock, keys ? h("div.ask", {},
    choice.note ? h("p.note", note, choice.note) : null, keys) : null);
}

function keysFor(found, choice, how) {
  const { sheet } = model.open;
  if (!choice.verdict) {
    return closable(found) ? closeButton(found.id, choice, how) : null;
  }
  return h("div.pair", {},
    button("plain", { mark: "note", label: text.propose, id: "propose",
      onclick: () => decide("proposal", sheet.propose, found.id, choice, how) }),
    button("main.blue", { mark: "pen", label: text.dispose, id: "dispose",
      onclick: () => decide("disposition", sheet.dispose, found.id, choice, how) }));
}

function verdictForm(sheet, choice, draw) {
  return [
    h("div.choices", {}, ...VERDICTS.map((verdict) => button("choice", {
      mark: verdict === choice.verdict ? "tick" : "dash", label: text.verdicts[verdict],
      "aria-pressed": verdict === choice.verdict ? "true" : "false",
      "data-verdict": verdict, onclick: () => { choice.verdict = verdict; draw(); },
    }))),
    choice.verdict === "rework" ? h("div.choices", {}, h("b", {}, text.from),
      ...startsFrom(model.open).map((id) => button("choice", {
        mark: id === choice.from ? "tick" : "dash", label: titleOf(sheet, id),
        "aria-pressed": id === choice.from ? "true" : "false", "data-from": id,
        onclick: () => { choice.from = id; draw(); },
      }))) : null,
    h("div.field", {}, h("span.flabel", {}, words.form.why), choice.reason.element),
  ];
}

// Steps that this joint has; those off now may be called for again.
function startsFrom({ sheet, state }) {
  return sheet.flow.filter((id) => sheet.steps[id] && state.steps[id].status !== "off"
    && sheet.steps[id].class !== "make_safe" && !sheet.steps[id].again);
}

function proposals(id) {
  return model.open.entries
    .filter((entry) => ["proposal", "disposition"].includes(entry.kind)
      && entry.about.target === id)
    .map((entry) => h("article.rest", {}, h("p", {},
      `${entry.kind === "proposal" ? text.propose : text.dispose}: `
      + `${text.verdicts[entry.about.verdict]} \u00b7 `
      + `${personName(model.people, entry.person)}`), h("p", {}, entry.about.reason)));
}

// A repair shuts its gates until somebody who may dispose says that it was done.
function closable(found) {
  return found.status === "disposed" && found.blocks.length > 0
    && found.verdict === "repair";
}

function closeButton(target, choice, { go, draw }) {
  return button("main.blue", {
    mark: "tick", label: text.close, id: "close-fault", onclick: async () => {
      const about = { target, text: choice.reason.text() };
      choice.note = about.text.length < SHORTEST ? text.why : "";
      draw();
      if (choice.note) return;
      const { dispose } = model.open.sheet;
      const signer = await askSigner(text.close, holders(dispose));
      if (!signer) return;
      const entry = await saveOrTell({ kind: "closing", about }, signer);
      if (entry) go(`/joint/${model.open.subject}`);
    },
  });
}

async function decide(kind, wanted, target, choice, { go, draw }) {
  const reason = choice.reason.text();
  if (choice.busy) return;
  choice.note = choice.verdict === "rework" && !choice.from ? text.fromWhere
    : reason.length < SHORTEST ? text.why : "";
  draw();
  if (choice.note) return;
  choice.busy = true;
  const about = { target, verdict: choice.verdict, reason };
  if (choice.verdict === "rework") about.from = choice.from;
  try {
    const signer = await askSigner(
      `${text.verdicts[choice.verdict]}: ${reason}`, holders(wanted));
    if (!signer) return;
    if (await saveOrTell({ kind, about }, signer)) go(`/joint/${model.open.subject}`);
  } finally {
    choice.busy = false;
  }
}

function holders(wanted = []) {
  return model.here.map((row) => row.person).filter((person) => {
    const known = model.people[person];
    return known && wanted.some((one) => known.roles.includes(one.role)
      && (!one.organisation || one.organisation.includes(known.organisation)));
  });
}

// A gate that is closed is shut; a nonconformance that is closed is settled.
function shown({ status }) {
  return status === "closed" ? "settled" : status;
}

function titleOfFault(fault) {
  return faultTitle(fault, { ...model.open, people: model.people });
}

// What a STOP card is about is offered as it is, and can be written over.
function raise(element, dock, go, id) {
  const { sheet, subject } = model.open;
  const reason = reasonPicker("nonconformance");
  const card = (sheet.cards ?? []).find((each) => each.id === id);
  if (card) reason.take(card.title);
  const note = h("p.note", { role: "alert" });
  let busy = false;
  const sign = async () => {
    const about = { text: reason.text() };
    if (!model.shift) go("/people");
    else if (about.text.length < SHORTEST) fill(note, text.why);
    else if (!busy) {
      busy = true;
      const entry = await saveOrTell({ kind: "nonconformance", about }, model.shift);
      busy = false;
      if (entry) go(`/nonconformance/${subject}`);
    }
  };
  fill(element, h("h2", {}, text.what), reason.element, note,
    h("p.hint", {}, text.shuts), h("p.hint", {}, text.who));
  fill(dock, button("main.red", {
    mark: "warn", label: text.raise, id: "report-now", onclick: sign,
  }));
}
