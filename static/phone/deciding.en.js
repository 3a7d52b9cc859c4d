// Words of the screens on which somebody signs or decides, in English; those of every
// other language have these keys, no others.

const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

export const deciding = {
  reviews: {
    waiting: (count) => `Signed. The same review still waits: ${count}`,
    next: "NEXT", back: "Back to the joint",
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
    rule: {
      ends: "This plan ends the signing of plans: once these three have signed, the "
        + "next one is in force as loaded.",
      changes: "This plan changes who signs plans: after these three, those below.",
      organisation: "Who checks and approves: of another organisation than who "
        + "prepares.",
      person: "Three people, of whatever organisation.",
    },
    sign: (part) => `Sign as ${part}`,
  },
  conditions: {
    title: "Conditions", before: (name) => `to be closed before: ${name}`,
    open: (count, names) =>
      `${count} condition${count > 1 ? "s" : ""} open, before ${names}`,
    how: "What was done", ask: "Release with open items",
    what: "What is still to be done", which: "To be closed before", add: "One more",
    first: "Say what is to be done, and before which step.",
    howFirst: "Say what was done.",
  },
  spoken: {
    title: "Spoken release", sign: "Sign what was said",
    said_by: "Said by", heard_by: "Heard by a second person",
    nobody: "Nobody may release this now:",
    back: "Words, read back", words: "Word for word", record: "RECORD",
    first: "Choose who said it and who heard it, and write the words down.",
    caution: "Read the words back before you write them down. It must be signed "
      + "afterwards, and prints as spoken.",
  },
  crew: {
    title: "Crew",
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
    which: "Tap off what is not being decided now",
    alone: "Rework is decided for one at a time.",
    about: "What it is about", stages: "What a stage begins with",
    otherStep: (count) => `Another step (${count})`, others: "Every other step",
    fromWhere: "Choose the step to start again from.",
    nothingLeft: "Nothing is left to decide",
    shuts: "It shuts every gate still to come, until it is decided.",
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
    fresh: (time, until) => `${time} (until ${until})`,
    aged: (time, most) => `${time}, older than ${most} since`,
    unfold: "Every reading", fold: "Show less", good: (count) => `${count} good`,
    besides: (title) => `Also shut by: ${title}`,
    again: "Read again",
    ready: "ready",
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
    usedBefore: "It was used before that. What has still to come through it wants "
      + "it anew.",
    lapsed: (what) => `Holds no longer, since: ${what}`,
    overruled: (name, time) => `Released by ${name} ${time}. The refusal stands `
      + "against it: nothing goes on by this release.",
  },
  entry: {
    discarded: "discarded", called: "call", call_withdrawn: "call withdrawn",
    notice: "notice received", release: "release", spoken: "spoken release",
    refusal: "refusal", nonconformance: "nonconformance", proposal: "proposal",
    disposition: "disposition", closing: "closing",
    condition_closed: "condition closed", crew: "crew declared",
    sighting: "sighting of the other arm", registered: "registered",
    key_added: "key added", plan_signed: "plan signed", sheet_issued: "sheet issued",
    enrolled: "person put on", key_retired: "key retired", key_revoked: "key revoked",
  },
  reasons: {
    refusal: ["Reading out of limits", "Reading missing", "Not seen at the face"],
    call_withdrawn: ["Called by mistake", "Not ready"],
    discarded: ["Recorded by mistake"],
    discarded_kit: ["Too old", "Not mixed right", "Not the right one",
      "Recorded by mistake"],
  },
};
