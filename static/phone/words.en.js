// Every text the phone's screens say, in English. Texts of rules (refusals, flags) are
// the same on phone, desk and paper and live in words.json; another language's file
// holds its own under `rules`. The file of every language has these keys, no others.

export const words = {
  app: "Joint record", tag: "en-GB", rules: {},
  marks: {
    saved: "kept", elsewhere: "on another phone too", all: "all at the office",
    waiting: (count, since) => `${count} waiting since ${since}`,
    unreached: "no answer", unheard: "not heard yet", alarm: "list broken",
    ended: "reported lost", stranger: "not known there",
    unproven: "waits for your PIN",
    ahead: (span) => `This phone's clock is ${span} ahead. Set it right.`,
    heard: (time) => `heard ${time}`,
    zone: (own, site) => `hours in ${own}, site ${site}`,
    back: (time) => "This phone's clock was put back. Set it right, or take another "
      + `phone: until ${time} its times are known only by the office's clock, or by `
      + "what other phones saw.",
    behind: (span) => `This phone's clock is ${span} behind. Set it right.`,
    endedWhy: "Nothing new comes here, and nothing counts from here. Take another "
      + "phone.",
  },
  bar: { back: "Back", stop: "STOP", menu: "More", site: "Site", keys: "Fixed keys",
    dock: "Keys of this screen" },
  people: { start: "Start my shift", none: "Nobody records yet" },
  pin: {
    title: "PIN of", wrong: "Wrong PIN.", cancel: "Cancel", who: "Who signs?",
    typed: (count) => `${count} of 6 digits typed`,
    wait: (time) => `Wait ${time} before the next try. Recording goes on.`,
    nobody: "Nobody on this phone may sign this. Put them on by a code from the "
      + "office.",
    working: "Unlocking …", erase: "Erase", minus: "minus", point: "decimal point",
  },
  site: {
    title: "Site", reading: "Reading what is kept here …",
    never: "Nothing has come from the office yet. The phone keeps trying by itself.",
    absent: "Not on this phone yet. It comes from the office, or from another phone.",
    waiting: "sheet not here yet", find: "Mark of a segment or joint",
    nothing: (typed) => `Nothing on this site is called "${typed}".`,
    heard: (time) => `Office last heard ${time}`, notHeard: "Office not heard yet",
  },
  state: {
    off: "not needed", closed: "shut", open: "open", partial: "under way",
    failed: "failed", disputed: "disputed", done: "done", ok: "in limits",
    anyway: "done anyway", waiting: "not ready", ready: "ready to call",
    called: "called", released: "released", refused: "refused", lapsed: "lapsed",
    expired: "run out", complete: "complete", incomplete: "incomplete",
    concession: "complete under concession", rejected: "rejected",
    running: "running", over: "over", met: "met", proposed: "proposed",
    disposed: "decided", stopped: "stopped", race: "clock runs",
    waived: "notice ran out", discarded: "discarded", unknown: "not here yet",
    settled: "closed", idle: "if needed", later: "later",
  },
  joint: {
    copied: (time) => `Copied from paper, done ${time}`,
    again: "Read again", folded: (count) => `${count} done`,
    attempt: (n) => `attempt ${n}`,
    otherReading: (said) => `The other reading: ${said}`,
    reached: (title) => `Reached: ${title}`,
    calledFor: (title) => `Now also: ${title}`,
    anyway: "It happened anyway", of: (done, all) => `${done} of ${all}`,
    nonconformances: "Nonconformances", noShift: "Start a shift to record",
    openPoint: "Look and decide", saved: (time) => `Saved ${time}`,
    unsaved: "NOT SAVED. Try again; tell the office.",
    unread: "It is signed and kept, but cannot be shown yet: do not record it again. "
      + "Open this page anew.",
    comesAfter: (name) => `Comes after: ${name}`,
    held: (title, time) => `${title}: until ${time}.`,
    ofUse: (time) => `Too early: counts from ${time} on`,
    complete: "All steps are recorded.",
    method: "Follow the method statement, local codes and the engineer in charge.",
  },
  form: {
    help: "How it is done",
    save: "SAVE", next: "next", skip: "not on the paper", now: "now",
    target: "At target", why: "Why",
    rows: { when: "When", reason: "Why", photos: "Photos", paper: "Written down" },
    paper: "copied from paper", fresh: "here and now", writtenBy: "Written by",
    timeForm: "HHMM, or DDMMHHMM", copying: "Copying from paper",
    copyingEnd: "Tap to end: then taps record as of now",
    allowed: (low, high) => `allowed ${low} to ${high}`,
    fault: {
      empty: "type a figure", unreadable: "not a figure",
      too_large: "too large", time: "a time as HHMM, or DDMMHHMM, not later than now",
    },
    tooFine: (places) => `digits after the point: at most ${places}`,
    out: "not possible here",
    inTime: "From paper: done before it ran out",
    anyway: "This gate is shut. What happened can still be written down; it becomes "
      + "a nonconformance.",
    none: "Nothing of this kind is on the sheet or in the register.",
    optional: "if known", asked: "asked for here", writeHere: "Type here",
    correct: "Correction: only what you change is signed. The old entry stays visible.",
  },
  photo: {
    take: "Take photo", choose: "Choose a file", one: "Photo", whole: "Show whole",
    unseen: "photo not seen on this phone", unreadable: "That is no picture this "
      + "phone can read.",
    unkept: "PHOTO NOT KEPT. Try again.", added: "Photo added", add: "Add a photo",
    wanted: (count) => (count === 1 ? "one wanted" : `${count} wanted`),
    missing: (count) => `${count === 1 ? "photo" : `${count} photos`} missing`,
  },
  unsaved: {
    title: "Not saved yet", away: "Throw away", sure: "Throw away for good",
    since: (time, name) => `Not saved yet, begun ${time} by ${name}. If it was read `
      + "then, say so under When.",
    older: "from an attempt that is over",
  },
  items: {
    taken: "It is in another place already.",
    label: "Label, or some of it", scan: "Scan label",
    unknown: "not in the register",
    wrong: (found, wanted) => `this is: ${found}; wanted: ${wanted}`,
    nothing: (typed) => `Nothing of this kind has "${typed}" in its name.`,
    expired: (day) => `expired since ${day}`,
    dayPast: (day) => `its day is past: ${day}`,
    uncalibrated: (day) => `out of calibration since ${day}`,
    overused: (uses, most) => `used on ${uses} others, allowed ${most}`,
    used: (uses, most) => `used ${uses} of ${most}`,
    counted: "Uses as far as this phone knows",
    foreign: (label) => `${label} is no label of this site's register. Read it again, `
      + "or ask stores.",
    refused: (label, why) => `${label}: ${why}. Choose another.`,
  },
  point: {
    owed: (name) => `to be signed by ${name}`,
    calledAt: (time, span) => `Called ${time}, waits ${span}`,
    until: (time) => `runs out ${time}`, ranOut: (time) => `ran out ${time}`,
  },
  conditions: { close: "Close it" },
  minutes: {
    hottest: "Unless read again, counts as hottest from",
    hottestNow: "Read again: counts as hottest now, since",
    go: "GO", late: "TOO LATE", start: (time) => `start by ${time}`,
    expected: "expected",
    inHand: "min in hand", spare: (span) => `${span} in hand`,
    notKnown: "time not known: counts as over",
    tooLate: (span) => `${span} too late`,
    behind: "min too late", over: "TIME OVER",
    writtenLater: "Written down later",
    endMissing: (title) => `End not entered yet: ${title}. Until then it counts as `
      + "over.",
    begunNow: "If begun now", guessed: "by the plan's times: no pace known yet",
    outlasts: (title) => "That attempt has ended; its time runs on until recorded: "
      + `${title}.`,
    missing: "Before this can start",
    unknownAhead: (title, time) => `${title}: nobody recorded it, as heard ${time}. `
      + "It may be so all the same.",
  },
  alarm: {
    acknowledge: "Seen", high: "ACT NOW", medium: "Soon", low: "Note",
    past: (title) => `${title}: time is past`,
    near: (title, minutes) => `${title} in ${minutes} min`,
    expiry: (title, minutes) => `${title}: release runs out in ${minutes} min`,
  },
  line: { late: (time) => `Recorded late, ${time}` },
  entry: {
    done: "recorded", anyway: "happened anyway", correction: "correction",
    copied: "copied from paper", stopped: "STOP", made_safe: "made safe",
    acknowledged: "alarm seen", note: "note",
  },
  nonconformance: { raise: "Report a nonconformance" },
  stop: {
    title: "STOP: why?", recorded: "Stop recorded", safe: "MADE SAFE",
    note: "Tap a reason: it is recorded at once.", which: "STOP where?",
    nowhere: "The sheet of this is not on this phone: it cannot record the STOP. Stop "
      + "the work by voice and by the site's horn, and have it recorded on another "
      + "phone.",
    unsigned: "No shift runs: do this first, then sign in to record it.",
    since: (time) => `stopped ${time}`,
  },
  phone: {
    title: "This phone", roads: "Other phones", language: "Language",
    away: "This is not on the phone yet: it needs the network once.",
  },
  reasons: {
    correction: ["Misread", "Wrong key", "Wrong line"],
    anyway: ["Not noticed in time", "Load or adhesive did not allow a wait",
      "Released on paper"],
  },
};
