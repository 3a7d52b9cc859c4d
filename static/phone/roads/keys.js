// Keys: every one in a person's name, shown to that person; a further phone asked for
// here, or signed for here with one's own key and PIN.

import { dayText } from "../../device/clock.js";
import { KeysBroken } from "../../device/keys.js";
import { askForKey, readAsked, siteCode } from "../../device/roads/further.js";
import { icon } from "../icons.js";
import { pinPad } from "../pinpad.js";
import { engine, model, subscribe } from "../model.js";
import { button, fill, h } from "../parts.js";
import { signOnce } from "../signing.js";
import { askSigner } from "../pin.js";
import { personName } from "../speak.js";
import { words } from "./words.js";
import { codeOf } from "./code.js";

const text = words.keys;
const STATES = { active: ["tick", "good"], retired: ["dash", "hint"],
  revoked: ["cross", "bad"] };
const SHOWN = 16;

export const title = () => text.title;

/** Params: own PERSON, ask, site, or sign TEXT. @returns {() => void} */
export function mount(element, context) {
  const [what, given, purpose] = context.params;
  const view = { element, ...context };
  if (what === "ask") ask(view);
  else if (what === "site") showSite(view);
  else if (what === "sign") signFor(view, given, purpose === "empty");
  else {
    own(view, given);
    return subscribe(() => own(view, given));
  }
  return () => {};
}

function own({ element, dock, go }, person) {
  const keys = Object.entries(model.people[person]?.keys ?? {});
  fill(element, h("h2", {}, personName(model.people, person)),
    h("p.hint", {}, text.ownHint),
    ...keys.map(([id, key]) => keyCard(id, key)));
  fill(dock, h("div.ask", {},
    button("plain", { mark: "phone", label: text.empty, id: "sign-for-empty",
      onclick: () => go("/keys/site") }),
    button("main", { mark: "photo", label: text.sign, id: "sign-for",
      onclick: () => go("/scan/key") })));
}

// A phone with nobody on it must know the site before it can ask for a key.
async function showSite({ element, dock, go }) {
  fill(element, codeOf(await siteCode(), text.siteCode), h("p.big", {}, text.siteHint));
  fill(dock, button("main", { mark: "photo", label: text.siteNext, id: "scan-asked",
    onclick: () => go("/scan/empty") }));
}

function keyCard(id, key) {
  const [mark, tone] = STATES[key.status];
  const here = key.device === model.identity.device;
  return h("article.card", { "data-key": id, "data-state": key.status },
    h(`p.${tone}`, {}, icon(mark), `${text.states[key.status]} \u00b7 `
      + text.since(dayText(key.since))),
    h("p", {}, here ? text.thisPhone : key.device),
    h("p.small", {}, key.by ? text.addedBy(keyName(key.by)) : text.byOffice),
    h("p.small", {}, keyName(id)));
}

function keyName(id) {
  return id.slice(0, SHOWN).replaceAll(/(.{4})(?=.)/g, "$1 ");
}

// Two PINs alike, then the code; the person's own phone answers on its screen.
function ask(view, note = "") {
  const form = { pin: "" };
  const pad = (label, taken, said) => {
    const keys = pinPad(taken);
    fill(view.element, h("p", {}, text.askHint), h("h2", {}, label),
      h("p.note", { role: "alert" }, said));
    fill(view.dock, keys.element);
    keys.element.focus();
  };
  pad(text.pin, (pin) => {
    form.pin = pin;
    pad(text.again, async (again) => {
      if (again === form.pin) await showAsking(view, form.pin);
      else ask(view, text.differ);
    }, "");
  }, note);
}

async function showAsking(view, pin) {
  try {
    const asked = await askForKey(pin);
    const hint = model.identity.token ? text.asking : text.askingEmpty;
    fill(view.element, codeOf(asked.text, hint), h("p.big", {}, hint),
      h("p.small", { id: "asked-key" }, keyName(asked.key)));
    fill(view.dock, button("main", { mark: "photo", label: text.answer,
      id: "scan-answer", onclick: () => view.go("/scan") }));
  } catch (fault) {
    if (!(fault instanceof KeysBroken)) throw fault;
    fill(view.element, h("p.bad", { role: "alert" }, text.broken));
  }
}

// An empty phone knows nobody yet: it is shown who signs for it as well.
async function signFor(view, given, isEmpty) {
  const { element, dock, go } = view;
  const asked = await readAsked(given, model.identity.site);
  if (asked.fault) {
    fill(element, h("p.bad", { role: "alert" }, text.faults[asked.fault]));
    fill(dock, button("plain", { mark: "photo", label: words.roads.again,
      onclick: () => go("/scan") }));
    return;
  }
  fill(element, h("p.caution", {}, icon("warn"), text.signCaution),
    h("p", {}, text.asks(asked.device)), h("p.big", {}, keyName(asked.key)));
  fill(dock, button("main.blue", { mark: "key", label: text.mine, id: "sign-key",
    onclick: async () => {
      const signer = await askSigner(text.mine, model.here.map((row) => row.person));
      if (!signer) return;
      const { key, device, public: publicText } = asked;
      const started = await engine();
      const entry = await signOnce({
        kind: "key_added", about: { key, public: publicText, device },
      }, signer, started.saveForSite);
      if (entry) go(`/show/${isEmpty ? "key" : "one"}//${entry.id}`);
    } }));
}
