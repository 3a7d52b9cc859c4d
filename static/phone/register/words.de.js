// Texte des Verzeichnisses: was auf der Baustelle ist und wer es einträgt, deutsch.

export const words = {
  register: {
    enter: "Neues eintragen",
    title: "Verzeichnis", find: "Schild, Zeugnis oder Art",
    none: "Im Verzeichnis steht noch nichts.",
    nothing: (typed) => `Nichts im Verzeichnis enthält „${typed}“.`,
    count: (all) => (all === 1 ? "1 Teil" : `${all} Teile`),
    over: (count) => `${count} nicht brauchbar`,
    good: (day) => `gut bis ${day}`, endless: "kein letzter Tag",
    expired: (day) => `abgelaufen, letzter Tag ${day}`,
    planned: (day) => `geplant für ${day}`,
    who: (roles) => `Eingetragen und berichtigt von: ${roles}, in eigener Schicht.`,
    start: "Schicht des Lagers beginnen", new: "Neues Teil",
    renew: "Neues Zeugnis", correct: "Zeugnis berichtigen",
    label: "Schild", kind: "Art", certificate: "Zeugnis", lastDay: "Letzter Tag",
    id: "Kennung", earlier: "Zeugnisse vor diesem",
    by: (name, time) => `Eingetragen von ${name}, ${time}`, byOffice: "dem Büro",
    correctedBy: (name, time, why) => `Berichtigt von ${name}, ${time}: „${why}“`,
    renewedBy: (name, time) => `Neues Zeugnis eingetragen von ${name}, ${time}`,
    saved: (time) => `Gesichert ${time}.`,
    choosable: "Auf diesem Telefon sofort wählbar.",
    ended: "Der letzte Tag ist vorbei: vor einem Tor kann es niemand wählen.",
    out: "Außer Gebrauch nehmen",
    isOut: "Außer Gebrauch: vor einem Tor kann es niemand wählen. Ein neues Zeugnis "
      + "bringt es zurück.",
    wasOut: (why) => `außer Gebrauch: ${why}`,
    outBy: (name, time, why) => `Außer Gebrauch seit ${time}, ${name}: „${why}“`,
    gone: "Dieses Telefon kennt kein solches Teil.",
    certified: "Bescheinigt von", to: (high) => `bis ${high}`,
  },
  entering: {
    dayForm: "TTMM oder TTMMJJ", noDay: "Kein letzter Tag",
    number: (id) => (id === "uses_max" ? "Erlaubte Einsätze"
      : id.replaceAll("_", " ")),
    points: "Kalibrierung",
    change: "Punkte ändern",
    anew: "Punkte neu tippen", before: "wie bisher",
    pressure: (place) => `Punkt ${place}: Druck`,
    force: (place) => `Punkt ${place}: Kraft`, scan: "Schild einlesen",
    scanTitle: "Die Kamera auf den Code am Teil richten.",
    more: "noch einer, falls vorhanden",
    renewing: "Ein neues Zeugnis: was mit dem alten gelesen wurde, bleibt wie es ist.",
    correcting: "Eine Berichtigung: was mit dem falschen Zeugnis gelesen wurde, wird "
      + "gemeldet, einmal je Fuge, die es benutzt hat.",
    takingOut: "Ab jetzt vor keinem Tor mehr wählbar. Was damit gelesen wurde, bleibt.",
    over: "Dieser Tag ist vorbei: vor einem Tor kann es niemand wählen.",
    fault: {
      label: "ein Schild, wie man das Teil auf der Baustelle nennt",
      long: (most) => `höchstens ${most} Zeichen`,
      taken: (label) => `${label} steht schon im Verzeichnis: jenes berichtigen, oder `
        + "ein Schild schreiben, das beide unterscheidet",
      certificate: "wie das Zeugnis heißt",
      day: "ein Tag als TTMM oder TTMMJJ", noSuchDay: "diesen Tag gibt es nicht",
      pair: "ein Druck und seine Kraft gehören zusammen",
      rising: "nicht über dem Punkt davor", few: "mindestens zwei Punkte",
      fit: (percent, most) => `Die Punkte weichen um ${percent} % von einer Geraden `
        + `ab, erlaubt ${most} %: eine Zahl ist wohl falsch.`,
      printed: "Dieses Schild steht im Verzeichnis des Büros, noch nicht auf diesem "
        + "Telefon: Büro erreichen, oder von einem anderen Telefon übernehmen.",
      foreign: "Dieses Schild gehört zu einer anderen Baustelle oder ist beschädigt.",
      same: "Nichts weicht von dem Zeugnis ab, das schon da ist.",
      unsayable: "Was das Zeugnis dieser Art angibt, steht nicht in den Dateien der "
        + "Baustelle: vom Büro dort eintragen lassen.",
      moved: "Inzwischen hat jemand anders dieses Teil geändert: zuerst ansehen.",
    },
    role: (name) => `${name} darf keine Teile eintragen.`,
    reasons: ["Vom Zeugnis falsch abgelesen", "Zeugnis eines anderen Teils",
      "Der Hersteller hat ein berichtigtes Zeugnis geschickt"],
    outReasons: ["Gebrochen", "Beschädigt", "Verloren", "Abgenutzt"],
  },
};
