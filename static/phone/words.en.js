// Every text the phone's screens say, in English. Texts of rules (refusals, flags) are
// the same on phone, desk and paper and live in words.json; another language's file
// holds its own under `rules`. The file of every language has these keys, no others.

export const words = {
  app: "Joint record", tag: "en-GB", rules: {},
  marks: {
    saved: "kept", elsewhere: "on another phone", all: "all at the office",
    waiting: (count, since) => `${count} wait since ${since}`,
    unreached: "no answer", unheard: "not heard yet", alarm: "list broken",
    ended: "reported lost", stranger: "not known there",
    endedWhy: "Nothing new comes here, and nothing counts from here. Take another "
      + "phone.",
  },
  bar: { back: "Back", stop: "STOP", menu: "More", site: "Site", keys: "Fixed keys",
    dock: "Keys of this screen" },
  enrol: {
    own: "From their own phone",
    scan: "Scan the code",
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
  people: {
    keys: "All my keys",
    title: "People on this phone", add: "Put another person on",
    start: "Start my shift", end: "End shift", recording: "records now",
    until: (time) => `until ${time}`, none: "Nobody records yet",
    hint: "Whoever starts a shift records with a tap until it ends. Releases and "
      + "dispositions always ask for a PIN.",
    unknown: "not yet heard from the office",
  },
  pin: {
    title: "PIN of", wrong: "Wrong PIN.", cancel: "Cancel", who: "Who signs?",
    typed: (count) => `${count} of 6 digits typed`,
    wait: (time) => `Wait ${time} before the next try. Recording goes on.`,
    nobody: "Nobody on this phone may sign this. Put them on by a code from the "
      + "office.",
    working: "Unlocking …", erase: "Erase", minus: "minus", point: "decimal point",
  },
  site: {
    title: "Site",
    never: "Nothing has come from the office yet. The phone keeps trying by itself.",
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
    disposed: "disposed", stopped: "stopped", race: "clock runs",
    waived: "notice ran out", discarded: "discarded", unknown: "not here yet",
    settled: "closed", idle: "if needed",
  },
  joint: {
    again: "Read again", attempt: (n) => `attempt ${n}`,
    reached: (title) => `Reached: ${title}`,
    calledFor: (title) => `Now also: ${title}`,
    anyway: "It happened anyway", of: (done, all) => `${done} of ${all}`,
    nonconformances: "Nonconformances", noShift: "Start a shift to record",
    openPoint: "Look and decide", saved: (time) => `Saved ${time}`,
    unsaved: "NOT SAVED. Try again; tell the office.",
    complete: "All steps are recorded.",
    unread: "It is signed and kept, but cannot be shown yet: do not record it again. "
      + "Open this page anew.",
    method: "Follow the method statement, local codes and the engineer in charge.",
  },
  form: {
    save: "SAVE", next: "next", now: "now", target: "At target", why: "Why",
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
    anyway: "This gate is shut. What happened can still be written down; it becomes "
      + "a nonconformance.",
    none: "Nothing of this kind is on the sheet or in the register.",
    optional: "if known", writeHere: "Type here",
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
    taken: "It stands in another row of this form already.",
    label: "Label, or part", scan: "Scan label",
    unknown: "not in the register",
    wrong: (found, wanted) => `this is: ${found}; wanted: ${wanted}`,
    nothing: (typed) => `Nothing of this kind has "${typed}" in its name.`,
    expired: (day) => `out of date or out of calibration since ${day}`,
    overused: (uses, most) => `used on ${uses} others, allowed ${most}`,
    used: (uses, most) => `used ${uses} of ${most} times, as far as this phone knows`,
    foreign: (label) => `${label} is no label of this site's register. Read it again, `
      + "or ask stores.",
    refused: (label, why) => `${label}: ${why}. Choose another.`,
  },
  point: {
    title: "Gate", rests: "What it rests on", call: "Call",
    withdraw: "Withdraw the call", release: "RELEASE", refuse: "Refuse", why: "Reason",
    needs: "Releases", missing: "missing",
    acts: { hold: "RELEASE", witness: "RELEASE", review: "SIGN OFF",
      surveillance: "SIGN" },
    classes: { hold: "hold point", witness: "witness point", review: "review of the "
      + "record", surveillance: "surveillance" },
    withConditions: "Release with conditions", notice: "Notice received",
    noNotice: "No notice received yet. Without it, or a release, nobody goes on.",
    noticeUntil: (time, left) => `Notice received. May be passed without attendance `
      + `from ${time}, in ${left}.`,
    waived: "The notice has run out unattended: work may go on. It is recorded so.",
    calledAt: (time, span) => `Called ${time}, waits ${span}`,
    givenBy: (name, time) => `${name}, ${time}`,
    spokenBy: (said, heard, back, time) => `spoken by ${said}, heard by ${heard}: `
      + `"${back}". To be signed by ${time}`,
    deputyFrom: (role, time) => `or ${role}, from ${time}`,
    deputyAfter: (role, minutes) => `or ${role}, ${minutes} min after the call`,
    until: (time) => `runs out ${time}`, ranOut: (time) => `ran out ${time}`,
    givenLate: (given) => `${given}, has run out`,
    signsFrom: (name, time) => `${name} may sign from ${time}`,
    deputyNow: (role, time) => `or ${role}, since ${time}`,
    lapsed: (what) => `Holds no longer, since: ${what}`,
    unspoken: "Not by word of mouth.", whyFirst: "Choose a reason, or type one.",
    life: (minutes) => `A release holds ${minutes} min.`, nothing: "nothing recorded",
    shut: "This gate is not ready:", limit: "limit",
  },
  sighting: {
    never: "Nothing was ever heard of the other arm.",
    at: (time) => `The other arm was last heard or seen ${time}.`,
    look: "I have looked across", sign: "SIGN",
    sure: "You say: seen just now, nothing hangs there but what is recorded here. A "
      + "lift may rest on it.",
    seen: "Looked across: nothing hangs there but what is recorded",
  },
  conditions: {
    title: "Conditions", before: (name) => `to be closed before: ${name}`,
    close: "Close it", how: "What was done", ask: "Release with open items",
    what: "What is still to be done", which: "To be closed before", add: "One more",
    first: "Say what is to be done, and choose before what.",
    howFirst: "Say what was done.",
  },
  spoken: {
    title: "Spoken release", said_by: "Said by", heard_by: "Heard by a second person",
    nobody: "Nobody may release this now:",
    back: "Words, read back", words: "Word for word", record: "RECORD",
    first: "Choose who said it and who heard it, and write the words down.",
    sign: "Sign what was said",
    caution: "Read the words back before you write them down. It must be signed "
      + "afterwards, and prints as spoken.",
  },
  crew: {
    title: "Crew", declare: "Declare", first: "Choose who is in it.",
    already: "Did part of it already:",
    caution: "Whoever is declared cannot release this, and stays declared.",
  },
  minutes: {
    go: "GO", start: (time) => `start by ${time}`, expected: "expected",
    inHand: "min in hand", behind: "min too late", over: "TIME OVER",
    begunNow: "If begun now",
    missing: "Before this can start",
    unknownAhead: (title, time) => `${title}: not known, as heard ${time}. This allows `
      + "nothing.",
  },
  alarm: {
    acknowledge: "Seen", high: "ACT NOW", medium: "Soon", low: "Note",
    passed: (title) => `${title}: time is past`,
    near: (title, minutes) => `${title} in ${minutes} min`,
    expiry: (title, minutes) => `${title}: release runs out in ${minutes} min`,
    silent: "No phone rings when it is locked. The gate holds; the horn is the site's.",
  },
  line: {
    late: (time) => `Recorded late, ${time}`,
    retake: "Read again", correct: "Correct", reason: "Reason",
    history: "All entries", discard: "Discard this line",
  },
  entry: {
    done: "recorded", anyway: "happened anyway", correction: "correction",
    discarded: "discarded", copied: "copied from paper", called: "call",
    call_withdrawn: "call withdrawn", notice: "notice received", release: "release",
    spoken: "spoken release", refusal: "refusal", nonconformance: "nonconformance",
    proposal: "proposal", disposition: "disposition", closing: "closing",
    condition_closed: "condition closed", crew: "crew declared",
    sighting: "sighting of the other arm", stopped: "STOP", made_safe: "made safe",
    acknowledged: "alarm seen", note: "note", registered: "registered",
    plan_signed: "plan signed", sheet_issued: "sheet issued",
    enrolled: "person put on", key_retired: "key retired", key_revoked: "key revoked",
  },
  nonconformance: {
    title: "Nonconformance", propose: "Propose", dispose: "DISPOSE",
    from: "Start again from", close: "Close it", verdicts: {
      use_as_is: "Use as is", repair: "Repair", rework: "Rework", reject: "Reject",
    },
    who: "The designer or the owner's engineer disposes; the contractor's engineer "
      + "proposes.",
    blocks: "Shuts", raise: "Report a nonconformance", what: "What is wrong",
    why: "Say it in a few words first.",
    fromWhere: "Choose the step to start again from.",
    shuts: "It shuts every gate still to come, until it is disposed of.",
  },
  stop: {
    title: "STOP: why?", recorded: "Stop recorded", safe: "MADE SAFE",
    note: "Tap a reason: it is recorded at once.", which: "STOP where?",
    unsigned: "No shift runs: do this first, then sign in to record it.",
    since: (time) => `stopped ${time}`,
  },
  lost: {
    mean: "mean", least: "least", cap: "cap", headroom: "headroom",
    recorded: (time) => `recorded ${time}`,
  },
  office: {
    title: "Carried to the office", waiting: "Waiting here", faulty: "Not accepted",
    none: "Nothing waits. The office has all that was recorded here.",
    reached: (time) => `Office reached ${time}`,
    unreached: "The office does not answer. Nothing is lost: all is kept here and "
      + "goes by itself.",
    tryNow: "Try now", stranger: "The office does not know this phone. Put somebody "
      + "on by a new code: then all goes by itself.",
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
    alarmTold: "The office has been told",
    row: (seq) => `no. ${seq}`,
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
  },
  phone: {
    title: "This phone", theme: "Sun or night", sun: "Sun", night: "Night",
    hand: "Hand", left: "Left hand", right: "Right hand", version: "Version",
    update: "Install the new version",
    updateHint: "The office has a new version. It waits for you.",
    updating: "Fetching it whole …",
    updateFailed: "It could not be fetched whole. This version stays.",
    updateLater: "The office has a new version. It can go in when no clock runs.",
    storage: "Storage", kept: "kept for good", mayGo: "the browser may clear it: "
      + "install this page as an app",
    ask: "Keep for good", keysLost: "This browser lost the keys kept on it. Entries "
      + "are safe. Each person needs a new code.",
    people: "People and shifts", device: "Phone", roads: "Other phones",
    language: "Language", away: "This is not on the phone yet: it needs the network "
      + "once.",
  },
  plan: {
    title: "Plan to sign", none: "No plan waits for a signature.",
    yours: (part) => `A plan waits for your signature: ${part}`,
    waits: (part) => `A plan waits for signatures: ${part}`,
    parts: { prepared: "prepared", checked: "checked", approved: "approved" },
    named: (title, revision) => `${title}, revision ${revision}`,
    sheets: (all, fresh) => `${all} sheets, ${fresh} of them new or revised`,
    kind: ({ title, sheets, steps, points }) => `${title}: ${sheets} sheets, `
      + `${steps} steps, ${points} points`,
    open: (who) => `not yet: ${who}`,
    hold: "Sheets in hand stay as they are until all three have signed.",
    read: "Read it at the desk, under Plan, before you sign.",
    sign: (part) => `Sign as ${part}`,
  },
  reasons: {
    correction: ["Misread", "Wrong key", "Wrong line"],
    refusal: ["Reading out of limits", "Reading missing", "Not seen at the face"],
    anyway: ["Not noticed in time", "Load or adhesive did not allow a wait"],
    call_withdrawn: ["Called by mistake", "Not ready"],
    discarded: ["Not mixed right", "Wrong kit", "Recorded by mistake"],
  },
};
