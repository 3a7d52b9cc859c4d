// Who is on this phone, and whose shift it is.

import { dayClockText, wallMs } from "../device/clock.js";
import { endShift, startShift } from "../device/keys.js";
import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { model, refresh, subscribe } from "./model.js";
import { inOrder } from "./numbers.js";
import { button, fill, h } from "./parts.js";
import { askSigner } from "./pin.js";
import { personName, roleName } from "./speak.js";
import { words } from "./later.js";

const SHIFT_MS = 12 * 3_600_000;

export const title = () => words.people.title;

/** Show the people. @returns {() => void} */
export function mount(element, { dock, go, here, from }) {
  const { joined } = model;
  model.joined = undefined;
  const name = (row) => personName(model.people, row.person);
  const draw = () => {
    // Another screen may have been asked for while a PIN was.
    if (!here()) return;
    const rows = [...model.here].sort((a, b) => inOrder(name(a), name(b)));
    fill(element, joined ? h("p.good", { id: "joined", role: "status" }, icon("tick"),
      words.people.joined(joined)) : null, h("p.hint", {}, words.people.hint),
      ...rows.map((row) => personCard(row, draw, go, from)));
    const onward = onwardKey(go, from);
    const add = button(onward ? "plain" : "main", { mark: "plus",
      label: words.people.add, id: "add-person", onclick: () => go("/enrol") });
    fill(dock, onward ? h("div.pair", {}, add, onward) : add);
  };
  draw();
  return subscribe(draw);
}

// Whoever came from a gate goes back there, to sign; else whoever records now is told
// where the work is.
function onwardKey(go, from = "") {
  const [, screen, subject, point] = from.split("/");
  if (screen === "point") {
    return button("main", { mark: "shield", label: words.people.gate, id: "to-gate",
      note: model.open?.subject === subject ? titleOf(model.open.sheet, point) : "",
      onclick: () => go(from) });
  }
  return model.shift ? button("main", { mark: "now", label: words.people.bridge,
    id: "to-bridge", onclick: () => go("/") }) : null;
}

function personCard(row, draw, go, from) {
  const person = model.people[row.person];
  const records = model.shift?.person === row.person;
  return h("article.card", { "data-person": row.person },
    h("h2", {}, personName(model.people, row.person)),
    h("p", {}, person ? person.roles.map(roleName).join(", ") : words.people.unknown),
    records
      ? h("p.good", {}, `${words.people.recording} `
        + words.people.until(dayClockText(model.shift.until)))
      : null,
    records
      ? button("plain", { mark: "lock", label: words.people.end, onclick: async () => {
        await endShift();
        await refresh();
        draw();
      } })
      : button("act", { mark: "key", label: words.people.start, onclick: async () => {
        const begun = await begin(row);
        draw();
        if (begun && from) go(from);
      } }),
    button("plain", { mark: "shield", label: words.people.keys, "data-keys": row.person,
      onclick: () => go(`/keys/own/${row.person}`) }));
}

async function begin(row) {
  const signer = await askSigner(words.people.start, [row.person]);
  if (!signer) return false;
  await beginShift(signer);
  await refresh();
  return true;
}

/** Let a person record until the shift is over. @param {object} signer unlocked */
export function beginShift(signer) {
  return startShift(signer, wallMs() + SHIFT_MS);
}
