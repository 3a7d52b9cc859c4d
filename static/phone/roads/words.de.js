// Texte der Seiten, die Einträge von Telefon zu Telefon tragen und Schlüssel zeigen.

export const words = {
  roads: {
    title: "Von Telefon zu Telefon",
    hint: "Ohne Netz gehen Einträge vom Bildschirm des einen in die Kamera des anderen "
      + "Telefons oder als Datei. Sie werden genauso geprüft wie vom Büro.",
    show: "Anderem Telefon zeigen", scan: "Anderes Telefon lesen",
    showNew: (count) => (count === 0 ? "Hier ist nichts Neues"
      : `Zeigen, was hier neu ist: ${count}`),
    showLast: (what) => `Nur das Letzte zeigen: ${what}`,
    showAll: (name) => `Alles von ${name} zeigen und wer unterschrieb`,
    showRoster: "Zeigen, wer wer ist",
    toFile: "In eine Datei", fromFile: "Aus einer Datei", reading: "Wird gelesen …",
    nothing: "Es gibt nichts zu zeigen.",
    tooMuch: "Zu viel für den Bildschirm: als Datei mitnehmen.",
    codeOf: (count) => `Code mit ${count} Einträgen`,
    showHint: (count) => `${count} ${count === 1 ? "Eintrag" : "Einträge"}. Am anderen `
      + "Telefon: Mehr, Andere Telefone, Lesen; dann darüber halten.",
    answerHint: "Die Antwort. Am anderen Telefon: „Antwort lesen“; dann darüber "
      + "halten.",
    oneCode: "Alles steht in diesem einen Code.",
    frame: (place, of) => `${place} von ${of}`,
    hold: "Anhalten", before: "Eins zurück", after: "Eins weiter",
    camera: "Was die Kamera sieht", aim: "Kamera auf den Code richten.",
    pictures: "Aus Bildern",
    noCamera: "Die Kamera geht nicht. Den Code mit der Kamera des Telefons "
      + "fotografieren und hier wählen.",
    noReader: "Der Leser für Codes ist noch nicht auf diesem Telefon. Er kommt mit dem "
      + "nächsten Netz; bis dahin Einträge als Datei mitnehmen.",
    noCode: (name) => `Kein Code gefunden in ${name}.`,
    have: (have, of, missing) => (missing
      ? `${have} von ${of} gelesen. Es fehlen: ${missing}`
      : `Alle ${of} gelesen.`),
    faults: {
      not_a_frame: "Dieser Code ist beschädigt oder abgeschnitten. Noch einmal lesen.",
      damaged: "Die Codes passen nicht zusammen. Alle noch einmal lesen.",
      too_large: "Das ist mehr, als ein Telefon auf einmal nimmt.",
      unreadable: "Das sind keine Einträge, oder es ist beschädigt.",
      other_site: "Das ist von einer anderen Baustelle. Nichts wurde übernommen.",
    },
    labelHere: "Das ist das Schild eines Gegenstands. Es wird in dem Formular gelesen, "
      + "das danach fragt.",
    noSite: "Erst jemanden mit einem Code vom Büro auf dieses Telefon nehmen.",
    again: "Noch eines lesen", open: (name) => `${name} öffnen`,
    received: "Übernommen",
    became: {
      fresh: (count) => `${count} neu, Unterschriften gültig`,
      known: (count) => `${count} waren schon hier`,
      apart: (count) => `${count} beiseite gelegt: von jemandem, den dieses Telefon `
        + "noch nicht kennt. Das andere Telefon zeigen lassen, wer wer ist, oder Netz "
        + "suchen.",
      refused: (count) => `${count} nicht geglaubt: Unterschrift ungültig oder nicht `
        + "lesbar. Dem Büro sagen.",
    },
    kinds: {
      release: "Freigabe", refusal: "Ablehnung", called: "Ruf", done: "Ablesung",
      correction: "Berichtigung", disposition: "Entscheid",
    },
  },
  keys: {
    title: "Schlüssel", own: "Meine Schlüssel",
    ownHint: "Jeder Schlüssel, der mit diesem Namen unterschreibt. Einer ist fremd "
      + "oder auf einem verlorenen Telefon? Sofort dem Büro sagen: es kann ihn "
      + "beenden.",
    thisPhone: "auf diesem Telefon", since: (day) => `seit ${day}`,
    byOffice: "vom Büro aufgenommen", addedBy: (key) => `mit Schlüssel ${key} ergänzt`,
    states: { active: "in Gebrauch", retired: "abgelegt: seine Einträge gelten",
      revoked: "widerrufen" },
    sign: "Mich auf ein anderes Telefon nehmen",
    aim: "Am anderen Telefon: Mehr, „Personen, Schichten“, „Noch jemanden aufnehmen“, "
      + "„Vom eigenen Telefon“. Dann die Kamera auf dessen Code richten.",
    empty: "Das andere Telefon ist leer", siteCode: "Code dieser Baustelle",
    siteHint: "Am leeren Telefon unter „Vom eigenen Telefon“ lesen. Dort eine PIN "
      + "wählen; dann dieses Telefon auf den Code richten, der dort erscheint.",
    siteNext: "Dessen Code lesen",
    aimSite: "Am eigenen Telefon: Mehr, „Personen, Schichten“, „Alle meine Schlüssel“, "
      + "„Das andere Telefon ist leer“. Die Kamera auf dessen Code richten. Das Büro "
      + "erreicht dieses Telefon später von selbst; aufgeschrieben wird, sobald die "
      + "Blätter da sind.",
    askHint: "Mit dem eigenen Telefon braucht es keinen Code vom Büro. Eine PIN für "
      + "dieses Telefon wählen; das eigene Telefon unterschreibt dafür.",
    pin: "Eine PIN aus sechs Ziffern wählen", again: "Dieselbe PIN noch einmal",
    differ: "Die beiden waren nicht gleich. Noch einmal wählen.",
    asking: "Mit dem eigenen Telefon lesen: dort „Mich auf ein anderes Telefon "
      + "nehmen“. Es zeigt eine Antwort; die hier lesen.",
    askingEmpty: "Mit dem eigenen Telefon lesen: dort „Dessen Code lesen“. Es zeigt "
      + "eine Antwort; die hier lesen.",
    answer: "Antwort lesen",
    broken: "Dieser Browser kann keinen Schlüssel sicher halten.",
    signCaution: "Wer das andere Telefon hat und seine PIN kennt, unterschreibt mit "
      + "Ihrem Namen. Nur weiter, wenn Sie diese PIN eben selbst gewählt haben.",
    asks: (device) => `${device} bittet um einen Schlüssel auf Ihren Namen. Das `
      + "andere Telefon zeigt dieselben Zeichen:",
    mine: "Ja, das ist meiner",
    faults: {
      damaged: "Dieser Code ist beschädigt oder abgeschnitten. Noch einmal lesen.",
      foreign_site: "Dieses Telefon gehört zu einer anderen Baustelle. Hier kann "
        + "nicht dafür gezeichnet werden.",
    },
  },
  marks: {
    aim: "Kamera auf das Schild richten.", cancel: "Abbrechen",
    foreign_site: "Dieses Schild gehört einer anderen Baustelle. Hier nicht benutzen.",
    damaged: "Dieses Schild ist beschädigt oder verändert. Noch einmal lesen, oder aus "
      + "der Liste wählen und dem Lager sagen.",
    stranger: "Das ist kein Schild einer Baustelle. Das Schild mit dem Namen der "
      + "Baustelle suchen.",
    nowhere: (id) => `${id} hat auf diesem Telefon noch kein Blatt.`,
    wrong: "Diese Marke nennt einen Teil der Brücke, keinen Gegenstand.",
  },
};
