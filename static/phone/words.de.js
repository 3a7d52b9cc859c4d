// Jeder Text des Telefons auf Deutsch; `rules` hält die Worte der Regeln. Begriffe
// folgen ISO 9000: Nichtkonformität, Sonderfreigabe, Nacharbeit, Reparatur, Freigabe.

import { rules } from "./rules.de.js";

export const words = {
  app: "Fugenprotokoll", tag: "de-DE",
  marks: {
    saved: "hier", elsewhere: "auch auf anderem Telefon", all: "alles im Büro",
    waiting: (count, since) => `${count} ${count === 1 ? "wartet" : "warten"} seit `
      + since,
    unreached: "kein Büro", unheard: "noch nicht gehört", alarm: "Liste defekt",
    ended: "verloren gemeldet", stranger: "dort nicht bekannt",
    unproven: "wartet auf Ihre PIN", heard: (time) => `gehört ${time}`,
    zone: (own, site) => `Uhr ${own}, Baustelle ${site}`,
    ahead: (span) => `Die Uhr dieses Telefons geht ${span} vor. Richtig stellen.`,
    back: (time) => "Die Uhr dieses Telefons wurde zurückgestellt. Richtig stellen, "
      + `oder ein anderes Telefon nehmen: Bis ${time} kennt seine Zeiten nur die Uhr `
      + "des Büros, oder was andere Telefone sahen.",
    behind: (span) => `Die Uhr dieses Telefons geht ${span} nach. Richtig stellen.`,
    endedWhy: "Hier kommt nichts Neues an, und von hier zählt nichts. Ein anderes "
      + "Telefon nehmen.",
  },
  bar: { back: "Zurück", stop: "STOPP", menu: "Mehr", site: "Baustelle",
    keys: "Feste Tasten", dock: "Tasten dieses Bildschirms" },
  people: { start: "Schicht beginnen", none: "Noch schreibt niemand" },
  pin: {
    title: "PIN von", wrong: "Falsche PIN.", cancel: "Abbrechen",
    who: "Wer unterschreibt?", typed: (count) => `${count} von 6 Ziffern getippt`,
    wait: (time) => `${time} warten bis zum nächsten Versuch. Das Schreiben geht `
      + `weiter.`,
    nobody: "Niemand auf diesem Telefon darf das unterschreiben. Mit einem Code vom "
      + "Büro aufnehmen.",
    working: "Wird aufgeschlossen …", erase: "Löschen", minus: "minus", point: "Komma",
  },
  site: {
    title: "Baustelle", reading: "Liest, was hier liegt …",
    never: "Vom Büro ist noch nichts gekommen. Das Telefon versucht es von selbst.",
    absent: "Noch nicht auf diesem Telefon. Es kommt vom Büro oder von einem anderen "
      + "Telefon.",
    waiting: "Blatt noch nicht hier", find: "Marke von Segment oder Fuge",
    nothing: (typed) => `Auf dieser Baustelle heißt nichts „${typed}“.`,
    heard: (time) => `Büro zuletzt gehört ${time}`, notHeard: "Büro noch nicht gehört",
  },
  state: {
    off: "nicht nötig", closed: "zu", open: "offen", partial: "in Arbeit",
    failed: "nicht erfüllt", disputed: "strittig", done: "erledigt",
    ok: "in den Grenzen", anyway: "trotzdem getan", waiting: "nicht bereit",
    ready: "bereit zum Rufen", called: "gerufen", released: "freigegeben",
    refused: "verweigert", lapsed: "verfallen", expired: "abgelaufen",
    complete: "vollständig", incomplete: "unvollständig",
    concession: "vollständig mit Sonderfreigabe", rejected: "verworfen",
    running: "läuft", over: "vorbei", met: "erfüllt", proposed: "vorgeschlagen",
    disposed: "entschieden", stopped: "gestoppt", race: "Zeit läuft",
    waived: "Frist verstrichen", discarded: "verworfen", unknown: "noch nicht hier",
    settled: "abgeschlossen", idle: "bei Bedarf", later: "später",
  },
  joint: {
    copied: (time) => `Vom Papier übertragen, getan ${time}`,
    again: "Neu lesen", folded: (count) => `${count} erledigt`,
    otherReading: (said) => `Die andere Ablesung: ${said}`,
    attempt: (n) => `Versuch ${n}`, reached: (title) => `Erreicht: ${title}`,
    calledFor: (title) => `Jetzt auch: ${title}`,
    anyway: "Es ist trotzdem geschehen", of: (done, all) => `${done} von ${all}`,
    nonconformances: "Nicht­konformitäten", noShift: "Zum Schreiben Schicht beginnen",
    openPoint: "Ansehen, entscheiden", saved: (time) => `Gesichert ${time}`,
    unsaved: "NICHT GESICHERT. Noch einmal versuchen; dem Büro sagen.",
    unread: "Unterschrieben und gesichert, aber noch nicht zu zeigen: nicht noch "
      + "einmal aufschreiben. Diese Seite neu öffnen.",
    comesAfter: (name) => `Kommt nach: ${name}`,
    held: (title, time) => `${title}: bis ${time}.`,
    ofUse: (time) => `Zu früh: zählt ab ${time}`,
    complete: "Alle Schritte sind aufgeschrieben.",
    method: "Es gelten die Arbeitsanweisung, die örtlichen Vorschriften und der "
      + "verantwortliche Ingenieur.",
  },
  form: {
    help: "So wird es gemacht",
    save: "SICHERN", next: "weiter", skip: "nicht auf dem Blatt", now: "jetzt",
    rows: { when: "Wann", reason: "Warum", photos: "Fotos", paper: "Aufgeschrieben" },
    paper: "vom Papier", fresh: "hier und jetzt",
    writtenBy: "Geschrieben von", timeForm: "HHMM oder TTMMHHMM",
    copying: "Abschrift vom Papier",
    copyingEnd: "Tippen beendet sie: dann gilt wieder die Zeit von jetzt",
    allowed: (low, high) => `erlaubt ${low} bis ${high}`,
    fault: {
      empty: "eine Zahl tippen", unreadable: "keine Zahl", too_large: "zu groß",
      time: "eine Zeit als HHMM oder TTMMHHMM, nicht später als jetzt",
    },
    tooFine: (places) => `Stellen nach dem Komma: höchstens ${places}`,
    out: "hier nicht möglich", target: "Am Soll", why: "Warum",
    inTime: "Vom Papier: getan, bevor sie ablief",
    anyway: "Dieses Tor ist zu. Was geschah, kann trotzdem aufgeschrieben werden; es "
      + "wird eine Nichtkonformität.",
    none: "Nichts dieser Art steht auf dem Blatt oder im Verzeichnis.",
    optional: "falls bekannt", asked: "hier gefragt", writeHere: "Hier schreiben",
    correct: "Korrektur: nur was sich ändert, wird unterschrieben. Der alte Eintrag "
      + "bleibt sichtbar.",
  },
  photo: {
    take: "Foto machen", choose: "Datei wählen", one: "Foto", whole: "Ganz zeigen",
    unseen: "Foto auf diesem Telefon nicht gesehen",
    unreadable: "Das ist kein Bild, das dieses Telefon lesen kann.",
    unkept: "FOTO NICHT GESICHERT. Noch einmal versuchen.", added: "Foto ergänzt",
    add: "Foto ergänzen",
    wanted: (count) => (count === 1 ? "eines verlangt" : `${count} verlangt`),
    missing: (count) => (count === 1 ? "Foto fehlt" : `${count} Fotos fehlen`),
  },
  unsaved: {
    title: "Noch nicht gesichert", away: "Wegwerfen", sure: "Endgültig wegwerfen",
    since: (time, name) => `Noch nicht gesichert, begonnen ${time} von ${name}. Wurde `
      + "damals abgelesen, unter Wann angeben.",
    older: "aus einem Versuch, der vorbei ist",
  },
  items: {
    taken: "Das steht schon an anderer Stelle.", scan: "Schild lesen",
    label: "Schild oder Teil", unknown: "nicht im Verzeichnis",
    wrong: (found, wanted) => `das ist: ${found}; verlangt ist: ${wanted}`,
    nothing: (typed) => `Nichts dieser Art hat „${typed}“ im Namen.`,
    expired: (day) => `verfallen seit ${day}`,
    dayPast: (day) => `sein Tag ist vorbei: ${day}`,
    uncalibrated: (day) => `Kalibrierung abgelaufen seit ${day}`,
    overused: (uses, most) => `an ${uses} anderen benutzt, erlaubt ${most}`,
    used: (uses, most) => `${uses} von ${most} Mal benutzt`,
    counted: "Benutzungen, soweit dieses Telefon weiß",
    foreign: (label) => `${label} ist kein Schild aus dem Verzeichnis dieser `
      + `Baustelle. `
      + "Noch einmal lesen oder das Lager fragen.",
    refused: (label, why) => `${label}: ${why}. Etwas anderes wählen.`,
  },
  point: {
    owed: (name) => `von ${name} noch zu unterschreiben`,
    calledAt: (time, span) => `Gerufen ${time}, wartet ${span}`,
    until: (time) => `läuft ab ${time}`, ranOut: (time) => `abgelaufen ${time}`,
  },
  conditions: { close: "Schließen" },
  minutes: {
    hottest: "Ohne neue Ablesung gilt die heißeste ab",
    hottestNow: "Neu ablesen: jetzt gilt die heißeste, seit",
    go: "LOS", late: "ZU SPÄT", start: (time) => `Beginn bis ${time}`,
    expected: "erwartet",
    inHand: "min Reserve", spare: (span) => `${span} Reserve`,
    tooLate: (span) => `${span} zu spät`,
    notKnown: "Zeit nicht bekannt: gilt als vorbei", behind: "min zu spät",
    over: "ZEIT VORBEI", writtenLater: "Später aufgeschrieben",
    endMissing: (title) => `Ende noch nicht eingetragen: ${title}. Bis dahin gilt es `
      + "als überschritten.",
    begunNow: "Jetzt begonnen", guessed: "nach dem Plan: noch kein Tempo bekannt",
    outlasts: (title) => "Der Versuch ist beendet, seine Zeit läuft, bis dies steht: "
      + `${title}.`,
    missing: "Vor dem Beginn",
    unknownAhead: (title, time) => `${title}: niemand hat es erfasst, Stand ${time}. `
      + "Es kann trotzdem so sein.",
  },
  alarm: {
    acknowledge: "Gesehen", high: "JETZT HANDELN", medium: "Bald", low: "Hinweis",
    past: (title) => `${title}: Zeit ist vorbei`,
    near: (title, minutes) => `${title} in ${minutes} min`,
    expiry: (title, minutes) => `${title}: Freigabe läuft ab in ${minutes} min`,
  },
  line: { late: (time) => `Spät aufgeschrieben, ${time}` },
  entry: {
    done: "aufgeschrieben", anyway: "trotzdem geschehen", correction: "Korrektur",
    copied: "vom Papier abgeschrieben", stopped: "STOPP", made_safe: "gesichert",
    acknowledged: "Alarm gesehen", note: "Notiz",
  },
  nonconformance: { raise: "Nicht­konformität melden" },
  stop: {
    title: "STOPP: warum?", recorded: "Stopp aufgeschrieben", safe: "GESICHERT",
    note: "Einen Grund antippen: er wird sofort aufgeschrieben.", which: "STOPP wo?",
    nowhere: "Das Blatt dazu ist nicht auf diesem Telefon: es kann den Stopp nicht "
      + "aufschreiben. Die Arbeit mit der Stimme und dem Horn der Baustelle anhalten "
      + "und auf einem anderen Telefon aufschreiben lassen.",
    unsigned: "Keine Schicht läuft: zuerst dies tun, dann zum Aufschreiben anmelden.",
    since: (time) => `gestoppt ${time}`,
  },
  phone: {
    title: "Dieses Telefon", roads: "Andere Telefone", language: "Sprache",
    away: "Das ist noch nicht auf dem Telefon: es braucht einmal Netz.",
  },
  reasons: {
    correction: ["Verlesen", "Falsche Taste", "Falsche Zeile"],
    anyway: ["Nicht rechtzeitig bemerkt", "Last oder Kleber ließ kein Warten zu",
      "Auf Papier freigegeben"],
  },
  rules,
};
