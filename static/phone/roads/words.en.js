// Texts of the screens that carry entries from phone to phone and look after keys, in
// English. Loaded with those screens only.

export const words = {
  roads: {
    title: "From phone to phone",
    hint: "With no network, entries go from one phone's screen to another's camera, or "
      + "as a file. They are checked there just as if the office had sent them.",
    show: "Show to another phone", scan: "Scan another phone",
    showNew: (count) => (count === 0 ? "Nothing new here"
      : `Show what is new here: ${count}`),
    showLast: (what) => `Show only the last: ${what}`,
    showAll: (name) => `Show all of ${name}, and who signed`,
    showRoster: "Show who is who",
    toFile: "To a file", fromFile: "From a file", reading: "Reading …",
    nothing: "There is nothing to show.",
    tooMuch: "Too much for a screen: take it over as a file.",
    codeOf: (count) => `Code of ${count} entries`,
    showHint: (count) => `${count} ${count === 1 ? "entry" : "entries"}. On the other `
      + "phone: More, Other phones, Scan; then hold it over this one.",
    answerHint: "The answer. On the other phone: Scan the answer; then hold it over "
      + "this one.",
    oneCode: "All of it is in this one code.",
    frame: (place, of) => `${place} of ${of}`,
    hold: "Hold still", before: "Previous", after: "Next",
    camera: "What the camera sees", aim: "Point the camera at the code.",
    pictures: "From pictures",
    noCamera: "The camera cannot be used. Take a photo of the code with the phone's "
      + "own camera and choose it here.",
    noReader: "What reads codes is not on this phone yet. It comes by itself with the "
      + "next network; until then take entries over as a file.",
    noCode: (name) => `No code found in ${name}.`,
    have: (have, of, missing) => (missing ? `${have} of ${of} read. Missing: ${missing}`
      : `All ${of} read.`),
    faults: {
      not_a_frame: "This code is damaged or cut off. Read it again.",
      damaged: "The codes do not add up. Read them all again.",
      too_large: "This is more than a phone takes in at once.",
      unreadable: "This is not a parcel of entries, or it is damaged.",
      other_site: "This is from another site. Nothing was taken in.",
    },
    labelHere: "This is the label of an item. Scan it in the form that asks for it.",
    noSite: "Put somebody on this phone first, by a code from the office.",
    again: "Scan another", open: (name) => `Open ${name}`, received: "Taken in",
    became: {
      fresh: (count) => `${count} new, signatures hold`,
      known: (count) => `${count} were here before`,
      apart: (count) => `${count} kept apart: signed by somebody this phone does not `
        + "know yet. Have the other phone show who is who, or reach the office.",
      refused: (count) => `${count} not believed: the signature does not hold, or they `
        + "cannot be read. Tell the office.",
    },
    kinds: {
      release: "release", refusal: "refusal", called: "call", done: "reading",
      correction: "correction", disposition: "disposition",
    },
  },
  keys: {
    title: "Keys", own: "My keys",
    ownHint: "Every key that signs in this name. One that is not yours, or on a phone "
      + "you no longer have? Tell the office at once: it can end a key.",
    thisPhone: "on this phone", since: (day) => `since ${day}`,
    byOffice: "enrolled by the office", addedBy: (key) => `added with key ${key}`,
    states: { active: "in use", retired: "retired: its entries stand",
      revoked: "revoked" },
    sign: "Put me on another phone",
    aim: "On the other phone: More, People and shifts, Put another person on, From "
      + "their own phone. Then point the camera at its code.",
    empty: "The other phone is empty", siteCode: "Code of this site",
    siteHint: "On the empty phone, under From my own phone, scan this. Choose a PIN "
      + "there; then point this phone at the code it shows.",
    siteNext: "Scan its code",
    aimSite: "On your own phone: More, People and shifts, All my keys, The other "
      + "phone is empty. Point the camera at its code. This phone reaches the office "
      + "by itself later; recording waits until it has brought the sheets.",
    askHint: "With your own phone at hand you need no code from the office. Choose a "
      + "PIN for this phone; your own phone then signs for it.",
    pin: "Choose a PIN of six digits", again: "The same PIN again",
    differ: "The two were not the same. Choose again.",
    asking: "Scan this with your own phone: there, Put me on another phone. It shows "
      + "an answer; scan that here.",
    askingEmpty: "Scan this with your own phone: there, Scan its code. It shows an "
      + "answer; scan that here.",
    answer: "Scan the answer", broken: "This browser cannot keep a key safely.",
    signCaution: "Whoever holds the other phone and knows its PIN will sign in your "
      + "name. Only go on if you have just chosen that PIN yourself.",
    asks: (device) => `${device} asks for a key in your name. The other phone shows `
      + "the same signs:",
    mine: "Yes, it is mine",
    faults: {
      damaged: "This code is damaged or cut off. Read it again.",
      foreign_site: "This phone belongs to another site. It cannot be signed for here.",
    },
  },
  marks: {
    aim: "Point the camera at the label.", cancel: "Cancel",
    foreign_site: "This label belongs to another site. Do not use it here.",
    damaged: "This label is damaged or was changed. Read it again, or choose from the "
      + "list and tell stores.",
    stranger: "This is no label of a site. Look for the label with the site's name.",
    nowhere: (id) => `${id} has no sheet on this phone yet.`,
    wrong: "This mark names a part of the bridge, not an item.",
  },
};
