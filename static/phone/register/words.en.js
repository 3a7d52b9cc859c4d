// Texts of the register: what is on the site, and who enters it, in English.

export const words = {
  register: {
    enter: "Enter a new one",
    title: "Register", find: "Label, certificate or kind",
    none: "Nothing is in the register yet.",
    nothing: (typed) => `Nothing in the register has "${typed}" in it.`,
    count: (all) => (all === 1 ? "1 item" : `${all} items`),
    over: (count) => `${count} not fit`,
    good: (day) => `good until ${day}`, endless: "no last day",
    expired: (day) => `ran out, last day ${day}`,
    who: (roles) => `Entered and corrected by: ${roles}, in their own shift.`,
    start: "Start a shift of stores", new: "New item",
    renew: "New certificate", correct: "Correct the certificate",
    label: "Label", kind: "Kind", certificate: "Certificate", lastDay: "Last day",
    id: "Id", earlier: "Certificates before this one",
    by: (name, time) => `Registered by ${name}, ${time}`, byOffice: "the office",
    saved: (time) => `Saved ${time}. It can be chosen on this phone at once.`,
    gone: "This phone knows no such item.",
    certified: "Certified from", to: (high) => `to ${high}`,
  },
  entering: {
    dayForm: "DDMM or DDMMYY", noDay: "No last day",
    number: (id) => (id === "uses_max" ? "Uses allowed" : id.replaceAll("_", " ")),
    points: "Calibration",
    change: "change its points",
    anew: "type its points anew", before: "as it was",
    pressure: (place) => `Point ${place}: pressure`,
    force: (place) => `Point ${place}: force`,
    scan: "Scan the label",
    scanTitle: "Point the camera at the code on the item.",
    more: "one more, if there is",
    renewing: "A new certificate: what was read on the old one stays as it is.",
    correcting: "A correction: what was read on the wrong certificate is reported, "
      + "once for each joint that used it.",
    over: "This day is over: nobody can choose it before a gate.",
    fault: {
      label: "a label, as people on the site know it",
      long: (most) => `at most ${most} signs`,
      taken: (label) => `${label} is in the register already: correct that one, or `
        + "write a label that tells them apart",
      certificate: "what the certificate is called",
      day: "a day as DDMM or DDMMYY", noSuchDay: "there is no such day",
      pair: "a pressure and its force belong together",
      rising: "not above the point before", few: "two points at least",
      fit: (percent, most) => `The points lie off one line by ${percent} %, allowed `
        + `${most} %: look for a wrong figure.`,
      printed: "This label is in the office's register, not on this phone yet: reach "
        + "the office, or take it over from another phone.",
      foreign: "This label is another site's, or damaged.",
      same: "Nothing differs from the certificate that is there.",
      unsayable: "What this kind's certificate states is not in the site's files: "
        + "have the office enter it there.",
      moved: "Somebody else changed this item meanwhile: look at it first.",
    },
    role: (name) => `${name} may not enter items.`,
    reasons: ["Misread from the certificate", "Certificate of another item",
      "The maker sent a corrected certificate"],
  },
};
