// STOP: one tap for the reason records it and opens the card of what to do. Making
// safe is never refused and asks for no PIN. Without a shift the card still opens
// first; recording waits for a person.

import { clockText, dayClockText, monoMs, wallMs } from "../device/clock.js";
import { stopLeft } from "./decided.js";
import { minutesInHand } from "./minutes.js";
import { changed, model, readAll, save, subscribe } from "./model.js";
import { inOrder } from "./numbers.js";
import { outlasting } from "./outlasting.js";
import { button, fill, h, holdOff } from "./parts.js";
import { icon } from "./icons.js";
import { lineLabel, spanText } from "./speak.js";
import { safeKey } from "./stopped.js";
import { words } from "./words.js";

const text = words.stop;
/** What ends after this shift presses nobody now. */
const SHIFT_MS = 12 * 3_600_000;

/** What bars carry, once it is here: a card is there without it. */
let lost;
let unsaved = "";
/** When it was said which joint: a thumb's second tap is no reason. */
let named = -Infinity;

export const title = () => words.bar.stop;

/** Params [subject?, card?]. @returns {() => void} */
export function mount(element, { dock, go, params, here }) {
  const [subject, card] = params;
  if (!subject) {
    whichSubject(element, dock, go, here);
    return () => {};
  }
  const shown = monoMs();
  const view = { go, chosen: false, asked: "",
    choose: (asked) => {
      view.asked = asked === view.asked ? "" : asked;
      draw();
    } };
  const draw = () => {
    if (!model.open?.state) nowhere(element, dock, go);
    else if (card) showCard(element, dock, view, card);
    else reasons(element, dock, view);
    // The second tap on a reason must not say that all is safe again.
    holdOff(dock, card ? shown : named);
  };
  if (!card) unsaved = "";
  draw();
  if (!lost) {
    import("./lost.js").then((one) => {
      lost = one;
      if (here()) draw();
    }, () => {});
  }
  return subscribe(draw);
}

// Its sheet has not come, or there is none: to stop is no less urgent.
function nowhere(element, dock, go) {
  sayNowhere(element);
  fill(dock, button("main", {
    mark: "stop", label: text.which, id: "stop-elsewhere", onclick: () => go("/stop"),
  }));
}

function sayNowhere(element) {
  fill(element, h("h2", {}, words.bar.stop),
    h("p.caution", { id: "stop-nowhere" }, icon("warn"), text.nowhere));
}

// The joint that was open last can be chosen at once, the others as soon as all are
// read: they come below it, and move nothing from under a thumb.
async function whichSubject(element, dock, go, here) {
  const list = h("div.choices.tall.where");
  const offer = ({ sheet, subject }) => list.append(button("choice", {
    mark: "stop", label: sheet.title, "data-subject": subject,
    onclick: () => {
      named = monoMs();
      go(`/stop/${subject}`);
    },
  }));
  fill(element, h("h2", {}, text.which));
  fill(dock, list);
  const last = model.open?.state && model.open;
  if (last) offer(last);
  // Where something was recorded last comes first.
  const lastAt = ({ entries }) => entries.at(-1)?.made ?? 0;
  (await readAll()).filter((one) => one.state && one.subject !== last?.subject)
    .sort((a, b) => lastAt(b) - lastAt(a) || inOrder(a.sheet.title, b.sheet.title))
    .forEach(offer);
  if (here() && !list.firstChild) sayNowhere(element);
}

function reasons(element, dock, view) {
  const { sheet, subject } = model.open;
  fill(element, whose(sheet), h("h2", {}, text.title), h("p.hint", {}, text.note));
  fill(dock, h("div.choices.tall", {}, ...(sheet.cards ?? []).map((card) =>
    button("choice.stopreason", {
      mark: "stop", label: card.title, "data-card": card.id,
      onclick: async () => {
        // One STOP, one reason: a second quick tap is a thumb's.
        if (view.chosen) return;
        view.chosen = true;
        view.go(`/stop/${subject}/${card.id}`);
        if (model.shift) await keep({ kind: "stopped", about: { reason: card.id } });
      },
    }))));
}

// Whoever has several joints in hand sees on which of them this acts.
function whose({ title: joint }) {
  return h("p.big", { id: "whose" }, joint);
}

// What the storage refuses is said: nobody is to believe that it was recorded.
async function keep(draft) {
  try {
    unsaved = "";
    await save(draft, model.shift);
  } catch (fault) {
    unsaved = `${words.joint.unsaved} ${fault.message}`;
    changed();
    throw fault;
  }
}

function showCard(element, dock, view, id) {
  const { go } = view;
  const { sheet, state, subject } = model.open;
  const card = sheet.cards.find((one) => one.id === id);
  const inForce = state.stopped;
  fill(element, whose(sheet),
    h("div.stopcard", {}, h("h2", {}, icon("stop"), card.title),
      h("ol.todo", {}, ...card.do.map((one) => h("li", {}, one)))),
    inForce ? h("p.good", { id: "stop-recorded" },
      icon("tick"), `${text.recorded} ${clockText(inForce.at)}`)
      : model.shift ? null : h("p.careful", {}, icon("warn"), text.unsigned),
    unsaved ? h("p.bad", { role: "alert" }, icon("cross"), unsaved) : null,
    lost?.onCard(model.open, card, view),
    // What went wrong here may want a decision that no reading asks for.
    model.shift ? button("plain", {
      mark: "warn", label: words.nonconformance.raise, id: "report",
      onclick: () => go(`/nonconformance/${subject}/new/${id}`),
    }) : null);
  const safe = async () => {
    await keep({ kind: "made_safe", about: { how: card.title } });
    go(`/joint/${subject}`);
  };
  // Made safe already, it is looked at once more: what is left to decide leads.
  const isSafe = !inForce && stopLeft(model.open)?.stop.about.reason === id;
  // What time is left stays in sight however long the card is.
  fill(dock, stillLeft(), isSafe ? button("main", { mark: "back", label: sheet.title,
    id: "to-joint", onclick: () => go(`/joint/${subject}`) }) : safeKey(safe, go));
}

// Adhesive lives on while everybody is busy: what is left to go on, and to part clean.
// In a duct it is the batch that was mixed, not the days of its strand.
function stillLeft() {
  const now = wallMs();
  const { sheet } = model.open;
  const { deadlines, lines } = minutesInHand(model.open, now);
  const batches = lines.filter(({ deadline }) => deadline)
    .map(({ step, line, deadline }) => ({ at: deadline.at,
      title: [lineLabel(sheet, step, line), deadline.title].filter(Boolean)
        .join(" \u00b7 ") }));
  const ended = outlasting(model.open, now).filter(({ known }) => known);
  const found = [...batches, ...deadlines, ...ended].sort((a, b) => a.at - b.at);
  const near = found.filter(({ at }) => at - now < SHIFT_MS);
  const all = near.length ? near : found;
  return all.length === 0 ? null : h("ul.times", { id: "still-left" },
    ...all.map(({ title: what, at }) => h(at <= now ? "li.past" : "li", {},
      icon(at <= now ? "cross" : "clock"), h("span", {}, what),
      h("b", {}, at <= now || at - now >= SHIFT_MS ? dayClockText(at) : clockText(at),
        at <= now ? "" : ` \u00b7 ${spanText(at - now)}`))));
}
