// What a test sees of the screen as the browser laid it out. Runs in the page, handed
// over as text.

const look = {
  targets() {
    return laidOut(() => [...document.querySelectorAll(TARGETS)]
      .filter((one) => one.checkVisibility()).map((one) => {
        const { width, height, bottom } = one.getBoundingClientRect();
        return { kind: one.className, text: one.innerText, width, height, bottom };
      }));
  },

  colours() {
    const opaque = (element) => {
      for (let one = element; one; one = one.parentElement) {
        const { backgroundColor } = getComputedStyle(one);
        if (!/^rgba\(.*, 0\)$/.test(backgroundColor)) return backgroundColor;
      }
      return "rgb(255, 255, 255)";
    };
    return texts().map(({ data, parentElement }) => ({
      text: data, ink: getComputedStyle(parentElement).color,
      paper: opaque(parentElement),
    }));
  },

  // Text that leaves the screen or its key, or is hidden by a box too small for it.
  cut() {
    return laidOut(cutOff);
  },

  async faults() {
    const { violations } = await axe.run(document, { resultTypes: ["violations"] });
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 160)}`);
  },
};

const TARGETS = "button, input:not([hidden]), textarea";

// What is not drawn yet, because it is out of sight, has no true place and size.
function laidOut(look) {
  const whole = new CSSStyleSheet();
  whole.replaceSync("* { content-visibility: visible !important; }");
  document.adoptedStyleSheets = [whole];
  const found = look();
  document.adoptedStyleSheets = [];
  return found;
}

/** So much of a field shows its question. */
const QUESTION_PX = 40;

function cutOff() {
  const found = [];
  if (document.documentElement.scrollWidth > innerWidth) found.push("page too wide");
  for (const node of texts()) {
    const range = document.createRange();
    range.selectNodeContents(node);
    const key = node.parentElement.closest("button, .badge");
    const box = key?.getBoundingClientRect() ?? { left: 0, right: innerWidth };
    const out = [...range.getClientRects()].some(({ left, right, width }) =>
      width > 0 && (right > Math.min(box.right, innerWidth) + 1
        || left < Math.max(box.left, 0) - 1));
    if (out) found.push(`out of its box: ${node.data}`);
  }
  for (const one of document.querySelectorAll("body *:not(svg *)")) {
    if (!one.checkVisibility() || one.closest("#heard, .heard")) continue;
    const { overflowX, overflowY } = getComputedStyle(one);
    const name = `${one.localName}#${one.id}.${one.className}`;
    if (overflowX !== "visible" && one.scrollWidth > one.clientWidth + 1) {
      found.push(`cut across: ${name}`);
    }
    if (overflowY === "hidden" && one.scrollHeight > one.clientHeight + 1) {
      found.push(`cut below: ${name}`);
    }
  }
  const code = document.querySelector("canvas.qr")?.getBoundingClientRect();
  const { bottom } = document.getElementById("screen").getBoundingClientRect();
  if (code && code.bottom > bottom + 1) found.push("the code is cut off");
  if (isAskedOutOfSight()) found.push("the question is out of sight");
  return found;
}

// What is asked just now must be read while its answer is tapped below.
function isAskedOutOfSight() {
  const asked = document.querySelector("#screen .field.active");
  if (!asked) return false;
  const [{ top }, seen] = [asked, document.getElementById("screen")]
    .map((one) => one.getBoundingClientRect());
  return top < seen.top - 1 || top + QUESTION_PX > seen.bottom + 1;
}

function texts() {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || !element.checkVisibility()) continue;
    if (element.closest("svg, noscript, #heard, .heard")) continue;
    found.push(node);
  }
  return found;
}

// Every word two fifths longer: no language grows more.
async function grow() {
  const { words } = await import("/phone/screens/words.js");
  const rules = await (await fetch("/phone/core/words.json")).json();
  words.rules = Object.fromEntries(
    Object.entries(rules).map(([code, { text }]) => [code, text]));
  growIn(words);
  // Loaded with the screens that show them, and kept there as parts as well.
  if (ROADS.test(location.hash)) {
    growIn((await import("/phone/screens/roads/words.js")).words);
  }
}

const ROADS = /^#\/(roads|show|scan|keys)\b/;

function growIn(part) {
  for (const [name, value] of Object.entries(part)) {
    if (name === "tag") continue;
    if (typeof value === "string") part[name] = longer(value);
    // Lists are shared with the language itself and must not grow with every screen.
    else if (Array.isArray(value)) part[name] = value.map(longer);
    else if (typeof value !== "function") growIn(value);
    else part[name] = (...all) => longer(value(...all));
  }
}

function longer(text) {
  return text.replaceAll(/(?<![{\p{L}])\p{L}+(?![\p{L}}])/gu,
    (word) => word + word.slice(0, Math.ceil(word.length * 0.4)).toLowerCase());
}
