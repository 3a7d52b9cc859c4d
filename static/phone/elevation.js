// The picture of the site: piers with their arms, each segment a box in the order it
// is hung, looking as far as it is and named below; each joint a line. A joint's state
// shows by sign and colour at its place. Joints stand closer than a thumb is wide: a
// tap names those nearest to it.

import { words } from "./later.js";
import { h, svg } from "./parts.js";
import { STAGES, stagesOf } from "./stages.js";
import { toneOf } from "./states.js";

const WIDTH = 340;
const DECK = 30;
const GROUND = 108;
const DEEPER = 2;
const SIGN = 6;
const THINNEST = 5;
/** No thumb hits nearer than this on the picture, nor means what is further away. */
const THUMB = 22;
const NEAREST = 3;
/** From the middle of a name's letters to the line they stand on. */
const NAME_DOWN = 4.7;

/**
 * @param {object} site piers with arms and segments, mm, as the office sent them
 * @param {{subject:string, status:string}[]} known states by subject
 * @param {(subjects:string[]) => void} pick what a tap may mean, the nearest first
 * @param {object[]} all the same with sheet and state; none while they are read
 * @returns {HTMLElement}
 */
export function elevation(site, known, pick, all) {
  const states = new Map(known.map((one) => [one.subject, one.status]));
  const stages = stagesOf(all);
  const piers = site.piers ?? [];
  // One scale for all: a pier without arms yet is no larger than its neighbours.
  const scale = (WIDTH - 12) / (2 * Math.max(1, ...piers.map(reachOf)));
  return h(`figure.elevation${all.length ? "" : ".unread"}`, {},
    ...piers.map((pier) => pierPicture(pier, scale, { states, stages, pick })),
    ...(all.length && piers.length ? legend() : []));
}

// What each look of a box says.
function legend() {
  const hatched = svg("svg.hatched", { "aria-hidden": "true" },
    svg("pattern", { id: "hatched", width: 4, height: 4,
      patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    svg("path", { d: "M0 0v4" })));
  return [hatched, h("ul.stages", {}, ...STAGES.map((stage) => h("li", {},
    svg("svg", { viewBox: "0 0 24 16", "aria-hidden": "true" },
      svg(`path.segment.${stage}`, { d: "M2 2h20v12h-20z" })),
    words.elevation[stage])))];
}

function reachOf(pier) {
  return Math.max(pier.half, ...pier.arms.flatMap((arm) =>
    arm.segments.map((one) => Math.abs(one.at - pier.at) + one.length)));
}

function pierPicture(pier, scale, how) {
  const x = (mm) => WIDTH / 2 + (mm - pier.at) * scale;
  const drawn = { ...how, x, deep: (mm) => Math.max(THINNEST, mm * scale * DEEPER) };
  const deepest = drawn.deep(Math.max(0, ...pier.arms.flatMap((arm) =>
    arm.segments.map((one) => one.depth))));
  const half = pier.half * scale;
  const middle = WIDTH / 2;
  const viewBox = `0 0 ${WIDTH} ${GROUND + 6}`;
  const drawing = svg("svg.pier", { viewBox, role: "img" },
    svg("title", {}, pier.title),
    svg("path.column", { d: `M${middle - half * 0.7} ${DECK + deepest}`
      + `h${half * 1.4}l4 ${GROUND - DECK - deepest}h${-half * 1.4 - 8}z` }),
    svg("path.segment.carried", {
      d: `M${middle - half} ${DECK}h${2 * half}v${deepest}h${-2 * half}z` }),
    svg("path.ground", { d: `M6 ${GROUND}h${WIDTH - 12}` }),
    svg("text.piername", { x: 6, y: GROUND - 5 }, pier.title),
    ...pier.arms.flatMap((arm) => armPicture(arm, deepest, drawn)));
  drawing.addEventListener("click", ({ clientX }) => {
    const { left, width } = drawing.getBoundingClientRect();
    const meant = nearest(pier, x, (clientX - left) * WIDTH / width, how.states);
    if (meant.length) how.pick(meant);
  });
  return drawing;
}

// The joints a tap at a place may mean; one alone where no other is near it.
function nearest({ arms }, x, tapped, states) {
  const far = (one) => Math.abs(x(one.at) - tapped);
  const marks = arms.flatMap(({ segments }) => segments)
    .filter(({ joint }) => states.get(joint)).sort((a, b) => far(a) - far(b));
  const near = marks.filter((one, place) => place === 0 || far(one) < far(marks[0])
    + 2 * THUMB).slice(0, NEAREST);
  return near.map(({ joint }) => joint);
}

function armPicture(arm, deepest, { x, deep, states, stages }) {
  let inner = deepest;
  const parts = [];
  const marks = [];
  for (const segment of arm.segments) {
    const [from, to] = [x(segment.at), x(segment.at + arm.side * segment.length)];
    const outer = deep(segment.depth);
    const stage = stages.get(segment.joint);
    const said = [segment.title, words.elevation[stage]].filter(Boolean).join(": ");
    parts.push(svg(`path.segment.${stage ?? "yard"}`, {
      d: `M${from} ${DECK}H${to}v${outer}L${from} ${DECK + inner}z`,
      "data-segment": segment.id, "data-stage": stage,
    }, svg("title", {}, said)), nameBelow(segment, (from + to) / 2, inner));
    if (segment.joint) marks.push(jointMark(segment, from, inner, states));
    inner = outer;
  }
  return [...parts, ...marks];
}

// Upright: boxes are narrow, and the name is as long as the yard painted it.
function nameBelow({ id }, middle, depth) {
  const [x, y] = [middle + NAME_DOWN, DECK + depth + 4];
  return svg("text.segmentname", { x, y, transform: `rotate(-90 ${x} ${y})` }, id);
}

function jointMark(segment, x, depth, states) {
  const status = states.get(segment.joint);
  const quiet = !status || status === "closed";
  return svg(`g.jointmark.${toneOf(status)}${quiet ? ".none" : ""}`, {
    "data-joint": segment.joint,
  },
  svg("path.jointline", { d: `M${x} ${DECK - 4}v${depth + 8}` }),
  quiet ? null : svg("path.sign", { d: signPath(status, x, DECK - 16) }));
}

// Shapes differ, so that the picture reads without colour.
function signPath(status, x, y) {
  const r = SIGN;
  if (["complete", "concession"].includes(status)) {
    return `M${x - r} ${y}l${r - 1} ${r}l${r + 2} ${-2 * r}`;
  }
  if (["stopped", "failed", "rejected"].includes(status)) {
    return `M${x - r} ${y - r}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`;
  }
  if (status === "race") {
    return `M${x - r} ${y - r}h${2 * r}l${-2 * r} ${2 * r}h${2 * r}z`;
  }
  if (status === "partial") return `M${x} ${y - r}l${r} ${r}l${-r} ${r}l${-r} ${-r}z`;
  return `M${x - r} ${y - r}h${2 * r}v${2 * r}h${-2 * r}z`;
}
