// This phone: its look, its hand, its people, its version.

import { changed, model, subscribe } from "./model.js";
import { button, fill, h } from "./parts.js";
import { icon } from "./icons.js";
import { languageKeys } from "./languages.js";
import { setSetting } from "./settings.js";
import { maySwitch, switchVersion, versionOffered } from "./switching.js";
import { words } from "./later.js";

const text = words.phone;

let said = "";

export const title = () => text.title;

/** @returns {() => void} */
export function mount(element, { dock, go, here }) {
  const draw = async () => {
    const kept = (await navigator.storage?.persisted?.()) ?? false;
    const plan = model.plan
      ? await import("./plan.js").then((one) => one.planNotice(go), () => null) : null;
    // Somebody may have gone on meanwhile.
    if (!here()) return;
    fill(element, plan, model.keysLost ? h("p.bad", { role: "alert" }, icon("cross"),
      text.keysLost) : null,
    update(),
    h("div.choices", {},
      h("div.pair", {},
        toggle("theme", "sun", "sun"), toggle("theme", "night", "moon")),
      h("div.pair", {},
        toggle("hand", "left", "hand"), toggle("hand", "right", "hand"))),
    languageKeys(draw), ...storage(kept, draw),
    h("dl.facts", {},
      h("dt", {}, text.version), h("dd", { id: "version" }, model.shell || "\u2014"),
      h("dt", {}, text.device), h("dd", {}, model.identity?.device ?? "\u2014")),
    h("p.hint", {}, words.alarm.silent));
    fill(dock, h("div.ask", {},
      h("div.pair", {},
        button("plain", { mark: "people", label: text.people, id: "to-people",
          onclick: () => go("/people") }),
        button("plain", { mark: "office", label: words.bar.site, id: "to-site",
          onclick: () => go("/") })),
      h("div.pair", {},
        button("plain", { mark: "phone", label: text.roads, id: "to-roads",
          onclick: () => go(`/roads${model.open ? `/${model.open.subject}` : ""}`) }),
        button("plain", { mark: "note", label: text.register, id: "to-register",
          onclick: () => go("/register") }))));
  };
  draw();
  return subscribe(draw);
}

function toggle(name, value, mark) {
  const on = model.settings[name] === value;
  return button(`plain${on ? ".on" : ""}`, {
    mark: on ? "tick" : mark, label: text[value], "aria-pressed": on ? "true" : "false",
    "data-setting": `${name}-${value}`, onclick: () => setSetting(name, value),
  });
}

// A browser that may clear what was recorded is worth more than a line of facts.
function storage(kept, draw) {
  const said = `${text.storage}: ${kept ? text.kept : text.mayGo}`;
  if (kept) return [h("p.good", {}, icon("tick"), said)];
  return [h("p.careful", {}, icon("warn"), said), button("plain", {
    mark: "shield", label: text.ask,
    onclick: async () => { await navigator.storage.persist(); draw(); },
  })];
}

function update() {
  if (!versionOffered()) return null;
  if (!maySwitch()) return h("p.careful", {}, icon("clock"), text.updateLater);
  const note = h("p.note", { role: "alert" }, said);
  const agree = async () => {
    said = text.updating;
    note.textContent = said;
    if (!(await switchVersion())) said = text.updateFailed;
    changed();
  };
  return h("div", {}, h("p", {}, text.updateHint), button("act", {
    mark: "again", label: text.update, id: "update", onclick: agree,
  }), note);
}
