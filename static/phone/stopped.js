// What ends a STOP, on the joint and on its card: one tap, never refused, no PIN.

import { clockText } from "../device/clock.js";
import { model, saveOrTell } from "./model.js";
import { button, h } from "./parts.js";
import { words } from "./words.js";

const text = words.stop;

/** The keys of a joint while a STOP is in force. @returns {HTMLElement} */
export function stoppedKeys({ sheet, state, subject }, go) {
  const { at, reason } = state.stopped;
  const how = sheet.cards?.find(({ id }) => id === reason)?.title ?? reason;
  const safe = () => saveOrTell({ kind: "made_safe", about: { how } }, model.shift);
  return h("div.ask", {}, button("plain", {
    mark: "stop", label: how, note: text.since(clockText(at)), id: "stop-card",
    onclick: () => go(`/stop/${subject}/${reason}`),
  }), safeKey(safe, go));
}

/** Making safe, or what has to come before it. @param {() => void} safe */
export function safeKey(safe, go) {
  return model.shift ? button("main.green", {
    mark: "shield", label: text.safe, id: "made-safe",
    onclick: ({ currentTarget }) => {
      // A second quick tap is a thumb's.
      currentTarget.disabled = true;
      safe();
    },
  }) : button("main.blue", {
    mark: "key", label: words.people.start, onclick: () => go("/people"),
  });
}
