// Whether a plan is signed: prepared, checked and approved, by three people. Each
// signature names the ones it rests on in `needs`, so that their order is proved by
// hashes and no clock is asked. Who checks and who approves are independent of who
// prepared: other people, and of another organisation unless the plan says otherwise.

import { refusal } from "./refusals.js";
import { allowed } from "./view.js";

/** What a plan is signed as, in this order. */
export const PARTS = ["prepared", "checked", "approved"];

/**
 * Give the signatures that stand, by part in order. Where several could stand those
 * that lead furthest do, then those of the least ids.
 * @param {{hash:string, sign:object, independent:string}} plan
 * @param {object[]} entries of the site @param {object} people the roster
 * @returns {Record<string, object>}
 */
export function planSignatures(plan, entries, people) {
  const told = entries.filter(({ kind, about, unlocked }) =>
    kind === "plan_signed" && about.plan === plan.hash && unlocked === "pin")
    .sort((one, other) => (one.id < other.id ? -1 : 1));
  let best = [];
  let chains = [[]];
  for (const part of PARTS) {
    const mine = told.filter((entry) => entry.about.as === part);
    chains = chains.flatMap((chain) => mine.filter(({ needs, person }) =>
      chain.every((each) => needs.includes(each.id))
      && unfit(plan, chain, people, person).length === 0)
      .map((entry) => [...chain, entry]));
    best = chains[0] ?? best;
  }
  return Object.fromEntries(best.map((entry, place) => [PARTS[place], entry]));
}

/** Give why a person may not sign what the plan waits for next; empty: they may. */
export function planRefusals(plan, entries, people, person) {
  const signed = Object.values(planSignatures(plan, entries, people));
  if (signed.length === PARTS.length) return [refusal("plan_is_signed")];
  return unfit(plan, signed, people, person);
}

function unfit(plan, chain, people, person) {
  const part = PARTS[chain.length];
  if (!allowed({ people }, person, plan.sign[part])) {
    return [refusal("plan_role", { part })];
  }
  if (chain.some((entry) => entry.person === person)) {
    return [refusal("plan_same_person", { part })];
  }
  const alone = plan.independent === "organisation" && chain.length > 0;
  const employer = (name) => people[name].organisation;
  if (alone && employer(person) === employer(chain[0].person)) {
    return [refusal("plan_same_organisation", { part })];
  }
  return [];
}
