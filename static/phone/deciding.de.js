// Die Wörter der Bildschirme, auf denen unterschrieben und entschieden wird, auf
// Deutsch.

const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

export const deciding = {
  reviews: {
    waiting: (count) => `Gezeichnet. Dieselbe Durchsicht wartet noch: ${count}`,
    next: "WEITER", back: "Zurück zur Fuge",
  },
  plan: {
    title: "Plan unterschreiben", none: "Kein Plan wartet auf eine Unterschrift.",
    yours: (part) => `Ein Plan wartet auf Ihre Unterschrift: ${part}`,
    waits: (part) => `Ein Plan wartet auf Unterschriften: ${part}`,
    parts: { prepared: "aufgestellt", checked: "geprüft", approved: "freigegeben" },
    named: (title, revision) => `${title}, Fassung ${revision}`,
    sheets: (all, fresh) => `${all} Blätter, davon ${fresh} neu oder geändert`,
    stays: (count) => `${count} begonnen: dort bleibt das Blatt, das gilt`,
    kind: ({ title, sheets, steps, points }) => `${title}: `
      + [many(sheets, "Blatt", "Blätter"), many(steps, "Schritt", "Schritte"),
        many(points, "Punkt", "Punkte")].join(", "),
    open: (who) => `noch nicht: ${who}`, sign: (part) => `Unterschreiben: ${part}`,
    rule: {
      ends: "Mit diesem Plan endet das Unterschreiben von Plänen: Haben diese drei "
        + "unterschrieben, gilt der nächste, wie er geladen wird.",
      changes: "Dieser Plan ändert, wer Pläne unterschreibt: nach diesen dreien die "
        + "unten Genannten.",
      organisation: "Wer prüft und wer freigibt, gehört einer anderen Organisation an "
        + "als wer aufstellt.",
      person: "Drei Personen, gleich welcher Organisation.",
    },
    hold: "Blätter in Arbeit bleiben, wie sie sind, bis alle drei "
      + "unterschrieben haben.",
    read: "Vor dem Unterschreiben im Büro unter Plan lesen.",
  },
  conditions: {
    title: "Bedingungen", before: (name) => `zu schließen vor: ${name}`,
    open: (count, names) =>
      `${count} Bedingung${count > 1 ? "en" : ""} offen, vor: ${names}`,
    how: "Was getan wurde", ask: "Mit offenen Punkten freigeben",
    what: "Was noch zu tun ist", which: "Zu schließen vor", add: "Noch eine",
    first: "Sagen, was zu tun ist, und wählen, wovor.",
    howFirst: "Sagen, was getan wurde.",
  },
  spoken: {
    title: "Gesprochene Freigabe", sign: "Gesagtes unterschreiben",
    said_by: "Gesagt von", heard_by: "Gehört von einer zweiten Person",
    nobody: "Niemand darf das jetzt freigeben:",
    back: "Worte, zurückgelesen", words: "Wort für Wort", record: "AUFSCHREIBEN",
    first: "Wählen, wer es sagte und wer es hörte, und die Worte aufschreiben.",
    caution: "Die Worte zurücklesen, bevor sie aufgeschrieben werden. Sie müssen "
      + "nachher unterschrieben werden und stehen als gesprochen im Druck.",
  },
  crew: {
    title: "Mannschaft",
    declare: "Erklären", first: "Wählen, wer dabei ist.",
    already: "Haben schon mitgetan:",
    caution: "Wer erklärt ist, kann dies nicht freigeben, und bleibt erklärt.",
  },
  nonconformance: {
    title: "Nichtkonformität", propose: "Vorschlagen", dispose: "ENTSCHEIDEN",
    from: "Neu beginnen ab", close: "Abschließen", verdicts: {
      use_as_is: "So verwenden", repair: "Reparatur", rework: "Nacharbeit",
      reject: "Verwerfen" },
    who: "Der Entwurfsingenieur oder der Ingenieur des Bauherrn entscheidet; der "
      + "Ingenieur des Unternehmers schlägt vor.",
    take: "Das übernehmen", shutsNone: "Sperrt kein Tor mehr, das noch kommt.",
    blocks: "Sperrt", what: "Was nicht stimmt", why: "Zuerst in wenigen Worten sagen.",
    none: "Hier ist nichts gemeldet.", alone: "Nacharbeit wird einzeln entschieden.",
    several: (count) => `${count} zusammen`, some: "nur einige davon entscheiden",
    which: "Wegtippen, was jetzt nicht entschieden wird",
    about: "Worum es geht", stages: "Womit ein Abschnitt beginnt",
    otherStep: (count) => `Anderer Schritt (${count})`, others: "Alle übrigen Schritte",
    fromWhere: "Den Schritt wählen, ab dem neu begonnen wird.",
    nothingLeft: "Nichts bleibt zu entscheiden",
    shuts: "Sperrt jedes Tor, das noch kommt, bis darüber entschieden ist.",
  },
  point: {
    title: "Tor", call: "Rufen", withdraw: "Ruf beenden", release: "FREIGEBEN",
    refuse: "Verweigern", why: "Grund", needs: "Freigaben", missing: "fehlt",
    acts: { hold: "FREIGEBEN", witness: "FREIGEBEN", review: "ABZEICHNEN",
      surveillance: "ZEICHNEN" },
    classes: { hold: "Haltepunkt", witness: "Anwesenheitspunkt",
      review: "Durchsicht der Aufzeichnung", surveillance: "Überwachung" },
    withConditions: "Mit Bedingungen freigeben", notice: "Ankündigung erhalten",
    givenBy: (name, time) => `${name}, ${time}`, unspoken: "Nie mündlich.",
    whyFirst: "Einen Grund wählen oder schreiben.", limit: "Grenze",
    life: (minutes) => `Gilt ${minutes} min.`, shut: "Dieses Tor ist nicht bereit:",
    rests: "Nachweise", nothing: "nichts aufgeschrieben", within: "In den Grenzen",
    fresh: (time, until) => `${time} (gilt bis ${until})`,
    aged: (time, most) => `${time}, inzwischen älter als ${most}`,
    unfold: "Alle Ablesungen", fold: "Weniger zeigen", good: (count) => `${count} gut`,
    besides: (title) => `Auch zu durch: ${title}`,
    again: "Neu gelesen",
    ready: "bereit",
    someSigned: (given, all) => `${given} von ${all} unterschrieben`,
    noNotice: "Noch keine Ankündigung erhalten. Ohne sie oder eine Freigabe geht "
      + "niemand weiter.",
    noticeUntil: (time, left) => "Ankündigung erhalten. Ohne Anwesenheit geht es "
      + `weiter ab ${time}, in ${left}.`,
    waived: "Die Frist verstrich, ohne dass jemand kam: es darf weitergehen. So wird "
      + "es aufgeschrieben.",
    spokenBy: (said, heard, back, at, until, signed) => `gesprochen ${at} von ${said}, `
      + `gehört von ${heard}: „${back}“. ` + (signed
        ? `Unterschrieben ${signed} von ${said}` : `Zu unterschreiben bis ${until}`),
    deputyFrom: (role, time) => `oder ${role}, ab ${time}`,
    deputyAfter: (role, minutes) => `oder ${role}, ${minutes} min nach dem Ruf`,
    givenLate: (given) => `${given}, abgelaufen`, used: "nach Gebrauch verfallen",
    signsFrom: (name, time) => `${name} darf unterschreiben ab ${time}`,
    deputyNow: (role, time) => `oder ${role}, seit ${time}`,
    usedBefore: "Davor wurde er benutzt. Was noch kommen soll, braucht ihn neu.",
    lapsed: (what) => `Gilt nicht mehr, seit: ${what}`,
    overruled: (name, time) => `Freigegeben von ${name} ${time}. Die Verweigerung `
      + "steht dagegen: mit dieser Freigabe geht nichts weiter.",
  },
  entry: {
    discarded: "verworfen", called: "Ruf", call_withdrawn: "Ruf zurückgenommen",
    notice: "Ankündigung erhalten", release: "Freigabe", spoken: "gesprochene Freigabe",
    refusal: "Verweigerung", nonconformance: "Nichtkonformität", proposal: "Vorschlag",
    disposition: "Entscheid", closing: "Abschluss",
    condition_closed: "Bedingung geschlossen", crew: "Mannschaft benannt",
    sighting: "Sichtung des anderen Arms", key_added: "Schlüssel ergänzt",
    registered: "verzeichnet", plan_signed: "Plan unterschrieben",
    sheet_issued: "Blatt ausgegeben", enrolled: "Person aufgenommen",
    key_retired: "Schlüssel abgelegt", key_revoked: "Schlüssel widerrufen",
  },
  reasons: {
    refusal: ["Messwert außerhalb", "Messwert fehlt", "An der Fläche nicht gesehen"],
    call_withdrawn: ["Aus Versehen gerufen", "Nicht bereit"],
    discarded: ["Aus Versehen aufgeschrieben"],
    discarded_kit: ["Zu alt", "Nicht richtig gemischt", "Nicht das richtige",
      "Aus Versehen aufgeschrieben"],
  },
};
