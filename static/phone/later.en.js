// Words of the screens that come after the first one, in English; those of every other
// language have these keys, no others.

import { deciding } from "./deciding.en.js";

export const words = {
  ...deciding,
  people: {
    bridge: "Go to the bridge", gate: "Back to the gate", keys: "All my keys",
    joined: (name) => `${name} is on this phone now.`,
    title: "People on this phone", add: "Put another person on",
    end: "End shift", recording: "records now", until: (time) => `until ${time}`,
    hint: "Whoever starts a shift records with a tap until it ends. Releases and "
      + "dispositions always ask for a PIN.",
    unknown: "not yet heard from the office",
  },
  enrol: {
    own: "From their own phone", myOwn: "From my own phone", scan: "Scan the code",
    title: "A new person",
    first: "This phone records for one site. The office gives each person a code; "
      + "with it and a PIN of six digits the phone makes a key that only this "
      + "person can use.",
    more: "Another person joins this phone. Their key and PIN are their own.",
    code: "Code from the office", next: "Go on", pin: "Choose a PIN of six digits",
    again: "The same PIN again", differ: "The two were not the same. Choose again.",
    easy: "Too easy to guess. Choose another.",
    sending: "Making the key and asking the office …",
    unreached: "The office did not answer. A code needs the network once; try again "
      + "where there is signal.",
    refused: (reason) => `Not taken by the office: ${reason}`,
    ended: {
      retired: (name) => `The office retired the key of ${name} on this phone. What it `
        + "signed stands. To go on here, take a new code and choose a new PIN.",
      revoked: (name) => `The office revoked the key of ${name} on this phone.`,
    },
    whose: (name) => `Code of ${name}`, asking: "Asking the office …",
    form: "A code has eight letters and figures, without 0, 1, I, L, O and U.",
    codes: {
      code_unknown: "the code is not known or has run out. Ask for a new one.",
      code_used: "the code was used before. Ask for a new one.",
      device_revoked: "this phone was reported lost. Use another.",
      too_fast: "too many tries. Wait a little.",
    },
    broken: "This browser cannot keep a key safely. Use another phone or browser.",
    pinBefore: "This code was begun with another PIN. Use that one.",
  },
  office: {
    title: "Carried to the office", waiting: "Waiting here", faulty: "Not accepted",
    others: "From other phones, not believed",
    othersHint: "Nothing to do with what is recorded here. They came by code or file "
      + "and count for nothing on this phone.",
    fromOther: "from another phone", from: (device) => `from ${device}`,
    none: "Nothing waits. The office has all that was recorded here.",
    reached: (time) => `Office reached ${time}`,
    unreached: "The office does not answer. Nothing is lost: all is kept here and "
      + "goes by itself.",
    tryNow: "Try now", stranger: "The office does not know this phone: the office was "
      + "brought back from an older copy, or another phone signed for this one. While "
      + "somebody records, the phone proves by itself whose it is, else by a PIN; then "
      + "all goes. If that does not help, put somebody on by a new code.",
    unproven: "Your own phone signed for this one; the office has not heard of it yet. "
      + "Start your shift, or prove it by PIN: then the sheets come here.",
    nobody: "Nobody is on this phone yet.", prove: "Prove it by PIN",
    ended: "What only this phone knew is kept apart at the office. Have it recorded "
      + "again on another phone, as copied.",
    hole: "The office's list has a hole. Tell the office before relying on other "
      + "phones' entries.",
    history: "The office's history does not contain what this phone saw before. "
      + "Tell the office.",
    restored: "The office began again from a copy that lacks what this phone saw. "
      + "This phone offers all it holds again. Tell the office.",
    receipt: "The office's receipt does not hold. Nothing was taken off this phone. "
      + "Tell the office.",
    alarmTold: "The office has been told", row: (seq) => `no.\u00a0${seq}`,
    photos: (count) => (count === 1 ? "1 photo" : `${count} photos`),
    why: {
      unreadable: "cannot be read there; it is kept here",
      signature: "the signature does not hold",
      bad_signature: "kept apart: the signature does not hold",
      unknown_key: "kept apart: the office does not know this key yet",
      other_device: "kept apart: the key belongs to another phone",
      other_site: "kept apart: it belongs to another site",
      revoked_key: "kept apart: this key was revoked",
      revoked_device: "kept apart: this phone was revoked",
    },
    whyOther: {
      unreadable: "cannot be read",
      bad_signature: "the signature does not hold: tell the office",
      unknown_key: "signed by somebody this phone does not know yet",
      other_device: "signed on another phone than its key belongs to: tell the office",
      other_site: "of another site",
      revoked_key: "signed with a key the office has ended",
    },
  },
  sighting: {
    never: "Nothing was ever heard of the other arm.",
    at: (time, minutes) => `Other arm last heard or seen ${time}, `
      + `within ${minutes} min.`,
    look: "I have looked across", sign: "SIGN",
    sure: "You say: seen just now, nothing hangs there but what is recorded here. A "
      + "lift may rest on it.",
    seen: "Looked across: nothing hangs there but what is recorded",
  },
  hanging: {
    looked: "looked at before the gate", unlooked: "not looked at before the gate",
    elsewhere: (where) => `last on another phone: ${where}`,
    out: "out of use",
    outSince: (time) => `out of use since ${time}`,
    named: (title, time) => `named in ${title}, ${time}`,
    stopped: (time, title) => `In hand at STOP ${time}: ${title}`,
    there: (where, time) => `in ${where} since ${time}, and not said to be `
      + "back",
  },
  lost: {
    unread: "not known until every bar has its round",
    mean: "mean", least: "least", cap: "cap", headroom: "headroom",
    most: "Every bar left at its cap",
    counted: "Force counted: as last read at the jack.",
    countedLess: (less) => `Force counted: the last at the jack, less ${less}`
      + " as the nut seats.",
    which: "What is thrown away?", record: (what) => `Lost: ${what}`, gone: "lost",
    recorded: (time) => `recorded ${time}`,
  },
  rests: { used: "With" },
  limits: {
    awaits: (name) => `judged further once “${name}” is chosen`,
    by: (limit, name) => `${limit} for “${name}”`,
    within: (low, high) => `${low} to ${high}`,
    least: (low) => `at least ${low}`, most: (high) => `at most ${high}`,
    never: (cap) => `never above ${cap}` },
  means: {
    fits: "fits what was read",
    inside: "inside", below: (by) => `${by} below`, above: (by) => `${by} above`,
    farBelow: (by) => `FAR BELOW by ${by}`, farAbove: (by) => `FAR ABOVE by ${by}`,
    capped: (by) => `ABOVE THE CAP by ${by}`,
    ten: (figure) => `A factor of ten? ${figure} would be inside.`,
    swapped: (figure) => `Digits swapped? ${figure} would be inside.`,
    yesterday: (time) => `Later than now: taken as yesterday, ${time}.`,
    doubt: (figure, known, time) =>
      `Digits swapped? ${known} at ${time}: ${figure} would be nearer.`,
    ended: (point) => `Ends the release of ${point}`,
    caution: "Caution", fails: "Fails until read again",
    spent: (clock) => `Ends, if saved: ${clock}`, shuts: (gates) => `shuts ${gates}`,
  },
  elevation: {
    yard: "Not lifted yet", hung: "Lifted, not bonded", bonded: "Bonded",
    carried: "Weight on the bars",
  },
  minutes: {
    won: (title, time, span, limit) =>
      `${title} at ${time}: ${span} before its time was over · ${limit}`,
    tooLate: (title, time, span, limit) =>
      `${title} at ${time}: ${span} too late · ${limit}`,
  },
  instead: {
    fromPaper: "From paper",
    otherLast: (time) => `Another phone's last entry: ${time}`,
    copyingLeft: (writer, time) => "Copying from the paper sheet"
      + `${writer ? ` of ${writer}` : ""}, last ${time}: go on?`,
    copyingOn: "Go on copying", copyingNow: "End: record as of now",
    parted: (title, time) => `${title} ${time}. How it goes on is decided first.`,
  },
  alarm: {
    discard: "Do not use it: discard it, or have it decided.",
    late: "Go on while the open time lasts, or part and clean: the engineer decides.",
    apart: "Joint open: stop, part and clean while it parts clean. Method statement "
      + "and engineer decide.",
    unclosed: "Joint open and nothing under force, as far as recorded: do not close "
      + "it. Clean off what still comes off. Method statement and engineer decide.",
    closed: "Joint closed: hold the force. Whether to stress on, method statement "
      + "and engineer decide.",
    silent: "No phone rings when it is locked. The gate holds; the horn is the site's.",
  },
  line: {
    meanwhile: "Recorded meanwhile",
    early: (what, time) => `Earlier than “${what}”, ${time}: one of these times `
      + "is wrong.",
    thrown: (began, ended) => `Discarded under “${began}”, and stands under `
      + `“${ended}”: what becomes of it is to be decided.`,
    retake: "Read again", correct: "Correct", reason: "Reason",
    history: "All entries", discard: "Discard",
    settles: "Correct it, or read it again: that settles it.",
    takesAway: (count) => (count > 2 ? `takes away all ${count} readings`
      : "takes away both readings"),
    hour: (time) => `Counts from ${time} still: to later only a slip is corrected, `
      + "by its author, before anything else is recorded.",
  },
  phone: {
    register: "Register",
    sun: "Sun", night: "Night", left: "Left hand", right: "Right hand",
    version: "Version", update: "Install the new version",
    updateHint: "The office has a new version. It waits for you.",
    updating: "Fetching it whole …",
    updateFailed: "It could not be fetched whole. This version stays.",
    updateLater: "The office has a new version. It can go in when no clock runs.",
    storage: "Storage", kept: "kept for good", mayGo: "the browser may clear it: "
      + "install this page as an app",
    ask: "Keep for good", keysLost: "This browser lost the keys kept on it. Entries "
      + "are safe. Each person needs a new code.",
    people: "People and shifts", device: "Phone",
  },
};
