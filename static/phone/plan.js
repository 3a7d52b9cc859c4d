// A plan that waits for its signatures: what it is, who has signed, and the key to sign
// it as what comes next. Nothing of it is in force before all three have signed.

import { PARTS, planRefusals, planSignatures } from "../core/plan_signing.js";
import { entriesOf, siteEntries } from "../device/book.js";
import { dayClockText } from "../device/clock.js";
import { issuedSheets, waitingPlan } from "../device/library.js";
import { engine, model, picture, subscribe } from "./model.js";
import { button, fill, h } from "./parts.js";
import { signOnce } from "./signing.js";
import { askSigner } from "./pin.js";
import { personName, refusalText } from "./speak.js";
import { words } from "./later.js";

const text = words.plan;

export const title = () => text.title;

/** @returns {Promise<HTMLElement|null>} the way to the plan, if one waits */
export async function planNotice(go) {
  const { plan, next, may } = await readPlan();
  return plan && next ? button("act", {
    mark: "pen", label: (may.length ? text.yours : text.waits)(text.parts[next]),
    id: "to-plan", onclick: () => go("/plan"),
  }) : null;
}

/** @returns {() => void} */
export function mount(element, { dock }) {
  let alive = true;
  const draw = async () => {
    const [read, site] = await Promise.all([readPlan(), picture()]);
    if (!alive) return;
    fill(element, ...(read.plan ? shown(read, site) : [h("p.big", {}, text.none)]));
    fill(dock, read.plan && read.next ? signKey(read) : null);
  };
  draw();
  const leave = subscribe(draw);
  return () => { alive = false; leave(); };
}

async function readPlan() {
  const [plan, entries] = await Promise.all([waitingPlan(), siteEntries()]);
  if (!plan) return { may: [] };
  const signed = planSignatures(plan, entries, model.people);
  const no = (person) => planRefusals(plan, entries, model.people, person);
  const here = model.here.map((row) => row.person);
  const issued = await issuedSheets();
  const revised = Object.entries(plan.sheets)
    .filter(([subject, hash]) => issued.get(subject)?.at(-1) !== hash);
  // What is begun keeps its sheet until it is issued by itself, as the office says it.
  const begun = await Promise.all(revised.map(async ([subject]) =>
    issued.has(subject) && (await entriesOf(subject)).length > 0));
  const stays = begun.filter(Boolean).length;
  const fresh = revised.length - stays;
  return {
    plan, signed, fresh, stays, next: PARTS.find((part) => !signed[part]),
    may: here.filter((person) => no(person).length === 0), refusals: here.flatMap(no),
  };
}

function shown({ plan, signed, fresh, stays }, site) {
  return [
    h("h2", {}, text.named(plan.title, plan.revision)),
    h("p.code", {}, plan.hash.slice(0, 12)),
    h("p", {}, text.sheets(Object.keys(plan.sheets).length, fresh)),
    stays ? h("p", { id: "stays" }, text.stays(stays)) : null,
    h("ul", {}, ...plan.kinds.map((kind) => h("li", {}, text.kind(kind)))),
    h("dl.facts", { id: "signatures" }, ...PARTS.flatMap((part) => [
      h("dt", {}, text.parts[part]),
      h("dd", { "data-part": part }, signed[part]
        ? `${personName(model.people, signed[part].person)}, `
          + dayClockText(signed[part].at)
        : text.open(plan.sign[part].map((each) => wanted(each, site)).join(", "))),
    ])),
    ...ruleChanged(plan, site),
    h("p.hint", {}, text.hold), h("p.careful", {}, text.read),
  ];
}

/** Say of a plan that changes who signs plans what its signatures agree to. */
function ruleChanged({ rule }, site) {
  if (!rule) return [];
  if (!rule.sign) return [h("p.careful", { id: "rule" }, text.rule.ends)];
  return [
    h("p.careful", { id: "rule" }, text.rule.changes, " ",
      text.rule[rule.independent]),
    h("dl.facts", {}, ...PARTS.flatMap((part) => [
      h("dt", {}, text.parts[part]),
      h("dd", {}, rule.sign[part].map((each) => wanted(each, site)).join(", ")),
    ])),
  ];
}

function wanted({ role, organisation = [] }, site) {
  const names = organisation.map((id) =>
    site?.organisations.find((each) => each.id === id)?.name ?? id);
  return [site?.roles[role] ?? role, ...names].join(", ");
}

function signKey({ plan, signed, next, may, refusals }) {
  if (may.length === 0) {
    const no = refusals[0] ?? { code: "plan_role" };
    return h("p.note", {}, refusalText({ ...no, facts: { part: text.parts[next] } }));
  }
  return button("main", {
    mark: "pen", label: text.sign(text.parts[next]), id: "sign-plan",
    onclick: async () => {
      const purpose = `${text.sign(text.parts[next])}: `
        + text.named(plan.title, plan.revision);
      const signer = await askSigner(purpose, may);
      if (!signer) return;
      await signOnce({
        kind: "plan_signed", about: { plan: plan.hash, as: next },
        needs: Object.values(signed).map((entry) => entry.id),
      }, signer, (await engine()).saveForSite);
    },
  });
}
