// Words of the screens that come after the first one, in English; those of every other
// language have these keys, no others.

const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

export const words = {
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
  reviews: {
    waiting: (count) => `Signed. The same review still waits: ${count}`,
    next: "NEXT", back: "Back to the joint",
  },
  hanging: {
    named: (title, time) => `named in ${title}, ${time}`,
    stopped: (time, title) => `In hand at STOP ${time}: ${title}`,
    there: (where, time) => `in ${where} since ${time}, and not said to be `
      + "back",
  },
  lost: {
    mean: "mean", least: "least", cap: "cap", headroom: "headroom",
    most: "Every bar left at its cap",
    counted: "Force counted: as last read at the jack.",
    countedLess: (less) => `Force counted: the last at the jack, less ${less}`
      + " as the nut seats.",
    recorded: (time) => `recorded ${time}`,
  },
  rests: { used: "With" },
  limits: { within: (low, high) => `${low} to ${high}`,
    least: (low) => `at least ${low}`, most: (high) => `at most ${high}`,
    never: (cap) => `never above ${cap}` },
  means: {
    fits: "fits what was read",
    inside: "inside", below: (by) => `${by} below`, above: (by) => `${by} above`,
    farBelow: (by) => `FAR BELOW by ${by}`, farAbove: (by) => `FAR ABOVE by ${by}`,
    capped: (by) => `ABOVE THE CAP by ${by}`,
    ten: (figure) => `A factor of ten? ${figure} would be inside.`,
    swapped: (figure) => `Digits swapped? ${figure} would be inside.`,
    caution: "Caution", fails: "Fails until read again",
    spent: (clock) => `Ends, if saved: ${clock}`, shuts: (gates) => `shuts ${gates}`,
  },
  plan: {
    title: "Plan to sign", none: "No plan waits for a signature.",
    yours: (part) => `A plan waits for your signature: ${part}`,
    waits: (part) => `A plan waits for signatures: ${part}`,
    parts: { prepared: "prepared", checked: "checked", approved: "approved" },
    named: (title, revision) => `${title}, revision ${revision}`,
    sheets: (all, fresh) => `${all} sheets, ${fresh} of them new or revised`,
    stays: (count) => `${count} begun: on these the sheet in hand stays`,
    kind: ({ title, sheets, steps, points }) => `${title}: `
      + [many(sheets, "sheet", "sheets"), many(steps, "step", "steps"),
        many(points, "point", "points")].join(", "),
    open: (who) => `not yet: ${who}`,
    hold: "Sheets in hand stay as they are until all three have signed.",
    read: "Read it at the desk, under Plan, before you sign.",
    sign: (part) => `Sign as ${part}`,
  },
  conditions: {
    title: "Conditions", before: (name) => `to be closed before: ${name}`,
    how: "What was done", ask: "Release with open items",
    what: "What is still to be done", which: "To be closed before", add: "One more",
    first: "Say what is to be done, and choose before what.",
    howFirst: "Say what was done.",
  },
  spoken: {
    said_by: "Said by", heard_by: "Heard by a second person",
    nobody: "Nobody may release this now:",
    back: "Words, read back", words: "Word for word", record: "RECORD",
    first: "Choose who said it and who heard it, and write the words down.",
    caution: "Read the words back before you write them down. It must be signed "
      + "afterwards, and prints as spoken.",
  },
  crew: {
    declare: "Declare", first: "Choose who is in it.",
    already: "Did part of it already:",
    caution: "Whoever is declared cannot release this, and stays declared.",
  },
  nonconformance: {
    title: "Nonconformance", propose: "Propose", dispose: "DISPOSE",
    from: "Start again from", close: "Close it", verdicts: {
      use_as_is: "Use as is", repair: "Repair", rework: "Rework", reject: "Reject",
    },
    who: "The designer or the owner's engineer disposes; the contractor's engineer "
      + "proposes.",
    take: "Take this over", shutsNone: "It shuts no gate that is still to come.",
    blocks: "Shuts", what: "What is wrong", why: "Say it in a few words first.",
    none: "Nothing is reported here.",
    several: (count) => `${count} together`, some: "decide only some of them",
    which: "Tap away what is not decided now",
    alone: "Rework is decided for one at a time.",
    about: "What it is about", stages: "What a stage begins with",
    otherStep: (count) => `Another step (${count})`, others: "Every other step",
    fromWhere: "Choose the step to start again from.",
    nothingLeft: "Nothing is left to decide",
    shuts: "It shuts every gate still to come, until it is disposed of.",
  },
  elevation: {
    yard: "Not lifted yet", hung: "Lifted, not bonded", bonded: "Bonded",
    carried: "Weight on the bars",
  },
  point: {
    title: "Gate", call: "Call",
    withdraw: "Withdraw the call", release: "RELEASE", refuse: "Refuse", why: "Reason",
    needs: "Releases", missing: "missing", limit: "limit",
    acts: { hold: "RELEASE", witness: "RELEASE", review: "SIGN OFF",
      surveillance: "SIGN" },
    classes: { hold: "hold point", witness: "witness point", review: "review of the "
      + "record", surveillance: "surveillance" },
    withConditions: "Release with conditions", notice: "Notice received",
    givenBy: (name, time) => `${name}, ${time}`, unspoken: "Never spoken.",
    whyFirst: "Choose a reason, or type one.", shut: "This gate is not ready:",
    life: (minutes) => `Holds ${minutes} min.`,
    rests: "Evidence", nothing: "nothing recorded", within: "Within limits",
    unfold: "Every reading", fold: "Show less", good: (count) => `${count} good`,
    besides: (title) => `Also shut by: ${title}`,
    someSigned: (given, all) => `${given} of ${all} signed`,
    noNotice: "No notice received yet. Without it, or a release, nobody goes on.",
    noticeUntil: (time, left) => `Notice received. May be passed without attendance `
      + `from ${time}, in ${left}.`,
    waived: "The notice has run out unattended: work may go on. It is recorded so.",
    spokenBy: (said, heard, back, at, until, signed) => `spoken ${at} by ${said}, `
      + `heard by ${heard}: "${back}". `
      + (signed ? `Signed ${signed} by ${said}` : `To be signed by ${until}`),
    deputyFrom: (role, time) => `or ${role}, from ${time}`,
    deputyAfter: (role, minutes) => `or ${role}, ${minutes} min after the call`,
    givenLate: (given) => `${given}, has run out`, used: "lapsed after use",
    signsFrom: (name, time) => `${name} may sign from ${time}`,
    deputyNow: (role, time) => `or ${role}, since ${time}`,
    lapsed: (what) => `Holds no longer, since: ${what}`,
  },
  alarm: {
    silent: "No phone rings when it is locked. The gate holds; the horn is the site's.",
  },
  line: {
    early: (what, time) => `Earlier than “${what}”, ${time}: one of these times `
      + "is wrong.",
    retake: "Read again", correct: "Correct", reason: "Reason",
    history: "All entries", discard: "Discard this line",
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
