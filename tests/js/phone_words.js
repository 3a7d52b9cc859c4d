// Lays out the phone's words for tests: each key with the kind of text it is and what
// it says of the values it is given.

import { words as laterDe } from "../../static/phone/later.de.js";
import { words as laterEn } from "../../static/phone/later.en.js";
import { words as laterEs } from "../../static/phone/later.es.js";
import { words as registerDe } from "../../static/phone/register/words.de.js";
import { words as roadsDe } from "../../static/phone/roads/words.de.js";
import { words as registerEn } from "../../static/phone/register/words.en.js";
import { words as roadsEn } from "../../static/phone/roads/words.en.js";
import { words as registerEs } from "../../static/phone/register/words.es.js";
import { words as roadsEs } from "../../static/phone/roads/words.es.js";
import { words as de } from "../../static/phone/words.de.js";
import { words as en } from "../../static/phone/words.en.js";
import { words as es } from "../../static/phone/words.es.js";

const LANGUAGES = {
  de: { ...de, later: laterDe, onTheRoad: roadsDe,
    ofItems: registerDe },
  en: { ...en, later: laterEn, onTheRoad: roadsEn,
    ofItems: registerEn },
  es: { ...es, later: laterEs, onTheRoad: roadsEs,
    ofItems: registerEs },
};

/** @returns {object} "part.key" -> text, or "(n) {0} {2}" for a phrase with values */
export function laidOut(language) {
  return Object.fromEntries(leaves(LANGUAGES[language]));
}

function leaves(part, before = "") {
  return Object.entries(part).flatMap(([name, value]) => {
    if (value?.constructor === Object) return leaves(value, `${before + name}.`);
    const key = before + name;
    if (Array.isArray(value)) return value.map((one, n) => [`${key}.${n}`, one]);
    return [[key, typeof value === "function" ? phrase(value) : value]];
  });
}

function phrase(make) {
  const given = Array.from({ length: make.length }, (_, place) => `{${place}}`);
  const said = make(...given);
  const used = given.filter((one) => said.includes(one));
  return `(${make.length}) ${used.join(" ")}`;
}
