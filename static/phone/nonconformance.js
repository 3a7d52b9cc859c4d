// Nonconformances of the open subject: what is wrong, what it shuts, and who may
// propose or dispose of it. A disposition is signed by PIN.

import { together } from "./apart.js";
import { isPast } from "./column.js";
import { shutSince } from "./gateitem.js";
import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { model, subscribe } from "./model.js";
import "./named.js";
import { notice } from "./notice.js";
import { button, fill, h } from "./parts.js";
import { askSigner, purposeHere } from "./pin.js";
import { raise } from "./raising.js";
import { restarts } from "./restarts.js";
import { signAndSay } from "./signing.js";
import { laterSteps } from "./since.js";
import { faultTitle, personName, stateBadge } from "./speak.js";
import { signOf } from "./states.js";
import { faultsTogether, shown } from "./together.js";
import { verdictForm } from "./verdicts.js";
import { forgetDecided, keptReason } from "./written.js";
import { whatFailed } from "./wrong.js";
import { words } from "./later.js";

const text = words.nonconformance;
const SHORTEST = 3;

// Which joint it is stays in sight while it is decided.
export const title = () =>
  [text.title, model.open?.sheet?.title].filter(Boolean).join(" \u00b7 ");

/**
 * The list, one of them, or a new one; params [subject, id?], [subject, "new", card?].
 * @returns {() => void}
 */
export function mount(element, { dock, go, params, here }) {
  const [subject, id, card] = params;
  const choice = { verdict: null, from: null, reason: null, busy: false, note: "",
    left: new Set(), apart: false, here };
  forgetDecided(model.open);
  if (id === "new") {
    raise(element, dock, go, card);
    return () => {};
  }
  const draw = () => (id ? one(element, dock, go, id, choice, draw)
    : list(element, dock, go, subject));
  draw();
  // A text being written is not drawn over; one kept from before hides nothing new.
  const isWriting = () => document.activeElement?.localName === "textarea";
  return subscribe(() => { if (!choice.verdict && !isWriting()) draw(); });
}

function list(element, dock, go, subject, all = model.open.state.nonconformances) {
  const by = (status) => all.filter((one) => shown(one) === status);
  const statuses = [...new Set(all.map(shown))];
  const groups = statuses.flatMap((status) => faultsTogether(by(status), context()));
  fill(element, notice(), groups.length ? null : h("p.big", {}, text.none),
    h("p.hint", {}, text.who), ...groups.map(({ faults, where, saids }) =>
    button("plain", {
      mark: signOf(shown(faults[0])), label: saids.join(" "),
      note: [where.length ? [where.join(" \u00b7 "), h("br")] : "",
        [words.state[shown(faults[0])] ?? faults[0].status,
          ...(faults.length > 1 ? [text.several(faults.length)] : [])]
          .join(" \u00b7 ")],
      "data-fault": faults[0].id, onclick: () =>
        go(`/nonconformance/${subject}/${faults.map(({ id }) => id).join("+")}`),
    })));
  fill(dock, button("plain", {
    mark: "plus", label: text.raise, id: "report",
    onclick: () => go(`/nonconformance/${subject}/new`),
  }));
}

// One of them, or several that are told together: one form, one PIN, a decision each.
function one(element, dock, go, id, choice, draw) {
  const { sheet, state } = model.open;
  const wanted = id.split("+");
  const every = wanted.map((each) => state.nonconformances.find((known) =>
    known.id === each)).filter(Boolean);
  if (every.length === 0) {
    go(`/nonconformance/${model.open.subject}`);
    return;
  }
  const groups = faultsTogether(every, context());
  // Of one STOP, and yet not alike: each is decided by itself.
  if (groups.length > 1) {
    list(element, dock, go, model.open.subject, every);
    return;
  }
  const [found] = every;
  const blocks = [...new Set(every.flatMap((each) => each.blocks))];
  // One that is released and has let nothing through yet is shut by it as well.
  const isShut = (each) => shutSince(model.open, each).some(({ facts }) =>
    wanted.includes(facts?.id));
  const shut = blocks.filter((each) => !isPast(model.open, each) || isShut(each));
  choice.reason ??= keptReason("disposition", id, () => saidAgain(choice), "",
    chosenBeside(every, choice, draw));
  fill(element, h("div.headline", {}, stateBadge(shown(found)),
    found.verdict ? h("span.chip", {}, text.verdicts[found.verdict]) : null),
  ...(every.length > 1 ? together(every, choice, draw,
    { groups, titleOf: titleOfFault }) : [h("h2", {}, titleOfFault(found))]),
  blocks.length ? h("p", { id: "shuts" }, icon(shut.length ? "lock" : "open"),
    shut.length
      ? `${text.blocks}: ${shut.map((each) => titleOf(sheet, each)).join(", ")}`
      : text.shutsNone) : null,
  ...every.map((each) => whatFailed(model.open, each, go)),
  laterSteps(model.open, every),
  ...proposals(wanted, choice, draw), h("p.hint", {}, text.who),
  ...(mayDecide() ? verdictForm(every, choice, draw) : []));
  const keys = keysFor(every.filter((each) => !choice.left.has(each.id)), choice,
    { go, draw });
  const note = { role: "alert", id: "decide-note" };
  fill(dock, keys ? h("div.ask", {},
    choice.note ? h("p.note", note, choice.note) : null, keys) : null);
}

// A verdict half chosen is kept with its reason; a step the sheet has no more is not.
function chosenBeside(every, choice, draw) {
  return {
    chosen: () => ({ verdict: choice.verdict, from: choice.from }),
    take: ({ verdict = null, from = null }) => {
      const { about, stages, others } = restarts(model.open, every);
      const isThere = [...about, ...stages, ...others].includes(from);
      Object.assign(choice, { verdict, from: isThere ? from : null });
      // By the time it is read another screen may stand there.
      if (verdict && choice.here()) draw();
    },
  };
}

// What was missing is being said.
function saidAgain(choice) {
  choice.note = "";
  document.getElementById("decide-note")?.remove();
}

function mayDecide() {
  const { dispose, propose } = model.open.sheet;
  return holders(dispose).length + holders(propose).length > 0;
}

function keysFor(chosen, choice, how) {
  const { sheet } = model.open;
  if (chosen.length === 0) return null;
  const ids = chosen.map(({ id }) => id);
  const [proposes, disposes] = [sheet.propose, sheet.dispose].map((wanted) =>
    holders(wanted).length > 0);
  if (!choice.verdict) {
    return disposes && chosen.every(closable) ? closeButton(ids, choice, how) : null;
  }
  // Each by right of role: what nobody on this phone may sign is not offered.
  return h("div.pair", {},
    proposes ? button("plain", { mark: "note", label: text.propose, id: "propose",
      onclick: () => decide("proposal", sheet.propose, ids, choice, how) }) : null,
    disposes ? button("main.blue", { mark: "pen", label: text.dispose, id: "dispose",
      note: text.verdicts[choice.verdict],
      onclick: () => decide("disposition", sheet.dispose, ids, choice, how) }) : null);
}

// What was proposed can be taken over as it is, and written over.
function proposals(ids, choice, draw) {
  const take = ({ verdict, from = null, reason }) => {
    Object.assign(choice, { verdict, from });
    choice.reason.take(reason);
    choice.reason.keep();
    draw();
    document.querySelector(`[data-verdict="${verdict}"]`)?.scrollIntoView();
  };
  return model.open.entries
    .filter((entry) => ["proposal", "disposition"].includes(entry.kind)
      && ids.includes(entry.about.target))
    .map(({ id, kind, about, person }) => h("article.rest", {}, h("p", {},
      `${kind === "proposal" ? text.propose : text.dispose}: `
      + `${text.verdicts[about.verdict]} \u00b7 `
      + `${personName(model.people, person)}`),
    about.from ? h("p", {}, `${text.from}: ${titleOf(model.open.sheet, about.from)}`)
      : null,
    h("p", {}, about.reason),
    kind === "proposal" && mayDecide() ? button("plain", { mark: "pen",
      label: text.take, "data-take": id, onclick: () => take(about) }) : null));
}

// A repair shuts its gates until somebody who may dispose says that it was done.
function closable(found) {
  return found.status === "disposed" && found.blocks.length > 0
    && found.verdict === "repair";
}

function closeButton(targets, choice, { go, draw }) {
  return button("main.blue", {
    mark: "tick", label: text.close, id: "close-fault", onclick: async () => {
      const said = choice.reason.text();
      choice.note = said.length < SHORTEST ? text.why : "";
      draw();
      if (choice.note) return;
      const { dispose } = model.open.sheet;
      const signer = await askSigner(purposeHere(text.close, said), holders(dispose));
      if (!signer) return;
      const drafts = targets.map((target) =>
        ({ kind: "closing", about: { target, text: said } }));
      if (!await signAndSay(drafts, signer)) return;
      choice.reason.done();
      go(`/joint/${model.open.subject}`);
    },
  });
}

async function decide(kind, wanted, targets, choice, { go, draw }) {
  const reason = choice.reason.text();
  if (choice.busy) return;
  const rework = choice.verdict === "rework";
  // A rework begins a new attempt: the next is decided by what is left then.
  choice.note = rework && targets.length > 1 ? text.alone
    : rework && !choice.from ? text.fromWhere
    : reason.length < SHORTEST ? text.why : "";
  draw();
  if (choice.note) return;
  choice.busy = true;
  const { verdict, from } = choice;
  const drafts = targets.map((target) =>
    ({ kind, about: { target, verdict, reason, ...(rework && { from }) } }));
  const more = targets.length > 1 ? ` (${text.several(targets.length)})`
    : rework ? ` (${text.from}: ${titleOf(model.open.sheet, from)})` : "";
  try {
    const purpose = purposeHere(`${text.verdicts[verdict]}${more}: ${reason}`);
    const signer = await askSigner(purpose, holders(wanted));
    if (!signer) return;
    if (!await signAndSay(drafts, signer, text.verdicts[verdict] + more)) return;
    choice.reason.done();
    go(`/joint/${model.open.subject}`);
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

const context = () => ({ ...model.open, people: model.people });

function titleOfFault(fault) {
  return faultTitle(fault, context());
}
