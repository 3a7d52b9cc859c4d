// Die Wörter der Bildschirme, die nach dem ersten kommen, auf Deutsch.

import { deciding } from "./deciding.de.js";

export const words = {
  ...deciding,
  people: {
    bridge: "Zur Brücke", gate: "Zurück zum Tor", keys: "Alle meine Schlüssel",
    joined: (name) => `${name} ist jetzt auf diesem Telefon.`,
    title: "Personen auf diesem Telefon", add: "Noch jemanden aufnehmen",
    end: "Schicht beenden", recording: "schreibt jetzt", until: (time) => `bis ${time}`,
    hint: "Wer eine Schicht beginnt, schreibt bis zu ihrem Ende mit einem Tippen. "
      + "Freigaben und Entscheide verlangen immer die PIN.",
    unknown: "vom Büro noch nicht gehört",
  },
  enrol: {
    own: "Vom eigenen Telefon", myOwn: "Vom eigenen Telefon", scan: "Code lesen",
    title: "Neue Person", refused: (reason) => `Vom Büro nicht angenommen: ${reason}`,
    first: "Dieses Telefon schreibt für eine Baustelle. Das Büro gibt jeder Person "
      + "einen Code; damit und mit einer PIN aus sechs Ziffern macht das Telefon einen "
      + "Schlüssel, den nur diese Person benutzen kann.",
    more: "Noch jemand kommt auf dieses Telefon, mit eigenem Schlüssel und eigener "
      + "PIN.",
    code: "Code vom Büro", next: "Weiter", pin: "PIN aus sechs Ziffern wählen",
    again: "Dieselbe PIN noch einmal",
    differ: "Die beiden waren nicht gleich. Neu wählen.",
    easy: "Zu leicht zu erraten. Eine andere wählen.",
    sending: "Schlüssel entsteht, das Büro wird gefragt …",
    unreached: "Das Büro hat nicht geantwortet. Ein Code braucht einmal Netz; noch "
      + "einmal versuchen, wo Empfang ist.",
    ended: {
      retired: (name) => `Das Büro hat den Schlüssel von ${name} auf diesem Telefon `
        + "abgelegt. Was er unterschrieb, gilt. Hier geht es mit einem neuen Code und "
        + "einer neuen PIN weiter.",
      revoked: (name) => `Das Büro hat den Schlüssel von ${name} auf diesem Telefon `
        + "widerrufen.",
    },
    whose: (name) => `Code von ${name}`, asking: "Das Büro wird gefragt …",
    form: "Ein Code hat acht Buchstaben und Ziffern, ohne 0, 1, I, L, O und U.",
    codes: {
      code_unknown: "der Code ist unbekannt oder abgelaufen. Einen neuen holen.",
      code_used: "der Code wurde schon benutzt. Einen neuen holen.",
      device_revoked: "dieses Telefon wurde verloren gemeldet. Ein anderes nehmen.",
      too_fast: "zu viele Versuche. Etwas warten.",
    },
    broken: "Dieser Browser kann keinen Schlüssel sicher halten. Ein anderes Telefon "
      + "oder einen anderen Browser nehmen.",
    pinBefore: "Dieser Code wurde mit einer anderen PIN begonnen. Jene benutzen.",
  },
  office: {
    title: "Zum Büro getragen", waiting: "Hier wartet", faulty: "Nicht angenommen",
    others: "Von anderen Telefonen, nicht geglaubt",
    othersHint: "Hat mit dem hier Aufgeschriebenen nichts zu tun. Es kam als Code oder "
      + "Datei und zählt auf diesem Telefon nicht.",
    fromOther: "von einem anderen Telefon", from: (device) => `von ${device}`,
    none: "Nichts wartet. Das Büro hat alles, was hier aufgeschrieben wurde.",
    reached: (time) => `Büro erreicht ${time}`,
    unreached: "Das Büro antwortet nicht. Nichts ist verloren: alles liegt hier und "
      + "geht von selbst.",
    tryNow: "Jetzt versuchen", stranger: "Das Büro kennt dieses Telefon nicht: "
      + "Es wurde aus einer älteren Kopie zurückgeholt, oder ein anderes Telefon hat "
      + "für dieses unterschrieben. Solange jemand aufschreibt, weist sich das Telefon "
      + "von selbst aus, sonst mit einer PIN; dann geht alles. Hilft das nicht, "
      + "jemanden mit einem neuen Code aufnehmen.",
    unproven: "Dein eigenes Telefon hat für dieses unterschrieben; das Büro weiß noch "
      + "nichts davon. Die Schicht beginnen oder mit PIN ausweisen: dann kommen die "
      + "Blätter.",
    nobody: "Auf diesem Telefon ist noch niemand.", prove: "Mit PIN ausweisen",
    ended: "Was nur dieses Telefon wusste, liegt im Büro beiseite. Auf einem anderen "
      + "noch einmal aufschreiben, als abgeschrieben.",
    hole: "Die Liste des Büros hat ein Loch. Dem Büro sagen, bevor man sich auf "
      + "Einträge anderer Telefone verlässt.",
    history: "In der Geschichte des Büros fehlt, was dieses Telefon früher sah. Dem "
      + "Büro sagen.",
    restored: "Das Büro hat aus einer Kopie neu begonnen, der fehlt, was dieses "
      + "Telefon sah. Dieses Telefon bietet alles noch einmal an. Dem Büro sagen.",
    receipt: "Die Quittung des Büros ist nicht echt. Auf diesem Telefon bleibt alles. "
      + "Dem Büro sagen.",
    alarmTold: "Dem Büro gesagt", row: (seq) => `Nr.\u00a0${seq}`,
    photos: (count) => (count === 1 ? "1 Foto" : `${count} Fotos`),
    why: {
      unreadable: "dort nicht lesbar; es bleibt hier",
      signature: "die Unterschrift hält nicht",
      bad_signature: "beiseitegelegt: die Unterschrift hält nicht",
      unknown_key: "beiseitegelegt: das Büro kennt diesen Schlüssel noch nicht",
      other_device: "beiseitegelegt: der Schlüssel gehört einem anderen Telefon",
      other_site: "beiseitegelegt: es gehört zu einer anderen Baustelle",
      revoked_key: "beiseitegelegt: dieser Schlüssel wurde widerrufen",
      revoked_device: "beiseitegelegt: dieses Telefon wurde widerrufen",
    },
    whyOther: {
      unreadable: "nicht lesbar", other_site: "von einer anderen Baustelle",
      bad_signature: "die Unterschrift hält nicht: dem Büro sagen",
      unknown_key: "von jemandem, den dieses Telefon noch nicht kennt",
      other_device: "auf einem anderen Telefon unterschrieben, als der Schlüssel "
        + "gehört: dem Büro sagen",
      revoked_key: "mit einem Schlüssel, den das Büro beendet hat",
    },
  },
  sighting: {
    never: "Vom anderen Arm wurde nie etwas gehört.",
    at: (time, minutes) => `Anderer Arm zuletzt ${time} gehört oder `
      + `gesehen, gilt ${minutes} min.`,
    look: "Ich habe hinübergesehen", sign: "ZEICHNEN",
    sure: "Damit sagen Sie: eben gesehen, dort hängt nichts, als was hier geschrieben "
      + "steht. Ein Hub darf darauf beruhen.",
    seen: "Hinübergesehen: dort hängt nichts, als was geschrieben steht",
  },
  hanging: {
    looked: "vor dem Haltepunkt angesehen",
    unlooked: "nicht vor dem Haltepunkt angesehen",
    elsewhere: (where) => `zuletzt auf einem anderen Telefon: ${where}`,
    out: "außer Gebrauch",
    outSince: (time) => `außer Gebrauch seit ${time}`,
    named: (title, time) => `genannt in ${title}, ${time}`,
    stopped: (time, title) => `In Gebrauch beim STOPP ${time}: ${title}`,
    there: (where, time) => `in ${where} seit ${time}, und niemand hat `
      + "aufgeschrieben, dass es zurück ist",
  },
  lost: {
    unread: "nicht bekannt, bis jeder Stab seine Runde hat",
    mean: "Mittel", least: "kleinste", cap: "höchstens", headroom: "Reserve",
    most: "Jeder Stab, der bleibt, an seiner Grenze",
    counted: "Gezählte Kraft: wie zuletzt an der Presse gelesen.",
    countedLess: (less) => `Gezählte Kraft: die letzte an der Presse, weniger ${less}`
      + ", um die sich die Mutter setzt.",
    which: "Was wird verworfen?", record: (what) => `Ausgefallen: ${what}`,
    gone: "ausgefallen",
    recorded: (time) => `aufgeschrieben ${time}`,
  },
  rests: { used: "Abgelesen mit" },
  limits: {
    awaits: (name) => `wird weiter beurteilt, sobald „${name}“ gewählt ist`,
    by: (limit, name) => `${limit} wegen „${name}“`,
    within: (low, high) => `${low} bis ${high}`,
    least: (low) => `mindestens ${low}`, most: (high) => `höchstens ${high}`,
    never: (cap) => `nie über ${cap}` },
  means: {
    fits: "passt zu dem, was gelesen wurde", shuts: (gates) => `sperrt ${gates}`,
    inside: "innerhalb", below: (by) => `${by} darunter`,
    above: (by) => `${by} darüber`, farBelow: (by) => `WEIT DARUNTER: ${by}`,
    farAbove: (by) => `WEIT DARÜBER: ${by}`, capped: (by) => `ÜBER MAXIMUM: ${by}`,
    ten: (figure) => `Um das Zehnfache vertan? ${figure} läge innerhalb.`,
    swapped: (figure) => `Ziffern vertauscht? ${figure} läge innerhalb.`,
    yesterday: (time) => `Später als jetzt: gilt als gestern, ${time}.`,
    doubt: (figure, known, time) =>
      `Ziffern vertauscht? Um ${time} ${known}: ${figure} läge näher.`,
    ended: (point) => `Beendet die Freigabe von ${point}`,
    caution: "Vorsicht", fails: "Gilt nicht, bis neu gelesen",
    spent: (clock) => `Endet mit dem Speichern: ${clock}`,
  },
  elevation: {
    yard: "Noch nicht gehoben", hung: "Gehoben, nicht verklebt", bonded: "Verklebt",
    carried: "Last an den Stäben",
  },
  minutes: {
    won: (title, time, span, limit) =>
      `${title} um ${time}: ${span} vor Ablauf der Zeit · ${limit}`,
    tooLate: (title, time, span, limit) =>
      `${title} um ${time}: ${span} zu spät · ${limit}`,
  },
  instead: {
    fromPaper: "Vom Papier",
    otherLast: (time) => `Zuletzt ein anderes Telefon: ${time}`,
    copyingLeft: (writer, time) => "Abschrift vom Papierblatt"
      + `${writer ? ` von ${writer}` : ""}, zuletzt ${time}: weiter abschreiben?`,
    copyingOn: "Weiter abschreiben", copyingNow: "Beenden: mit der Zeit von jetzt",
    parted: (title, time) => `${title} ${time}. Wie es weitergeht, wird erst `
      + "entschieden.",
  },
  alarm: {
    discard: "Nicht verwenden: verwerfen oder entscheiden lassen.",
    late: "Weiter, solange die offene Zeit läuft, oder trennen und reinigen: der "
      + "Ingenieur entscheidet.",
    apart: "Fuge offen: anhalten, trennen und reinigen, solange sie sich sauber "
      + "trennt. Arbeitsanweisung und Ingenieur entscheiden.",
    unclosed: "Fuge offen und nichts unter Kraft, soweit aufgeschrieben: nicht "
      + "schließen. Abnehmen, was sich noch löst. Arbeitsanweisung und "
      + "Ingenieur entscheiden.",
    closed: "Fuge geschlossen: Kraft halten. Ob weiter gespannt wird, entscheiden "
      + "Arbeitsanweisung und Ingenieur.",
    silent: "Kein Telefon läutet, wenn es gesperrt ist. Das Tor hält; das Horn ist "
      + "Sache der Baustelle.",
  },
  line: {
    meanwhile: "Inzwischen erfasst",
    early: (what, time) => `Früher als „${what}“, ${time}: eine dieser Zeiten `
      + "stimmt nicht.",
    thrown: (began, ended) => `Unter „${began}“ verworfen, steht aber unter `
      + `„${ended}“: was damit geschieht, ist zu entscheiden.`,
    retake: "Neu lesen", correct: "Korrigieren", reason: "Grund",
    history: "Alle Einträge", discard: "Verwerfen",
    settles: "Korrigieren oder neu lesen: damit ist es entschieden.",
    takesAway: (count) => (count > 2 ? `nimmt alle ${count} Messwerte weg`
      : "nimmt beide Messwerte weg"),
    hour: (time) => `Zählt weiter ab ${time}: auf später wird nur ein Versehen `
      + "korrigiert, vom Verfasser, bevor anderes erfasst ist.",
  },
  phone: {
    register: "Verzeichnis", updating: "Wird ganz geholt …",
    sun: "Sonne", night: "Nacht", left: "Linke Hand", right: "Rechte Hand",
    version: "Version", update: "Die neue Version einsetzen", device: "Telefon",
    updateHint: "Das Büro hat eine neue Version. Sie kommt erst auf Wunsch.",
    updateFailed: "Sie konnte nicht ganz geholt werden. Diese Version bleibt.",
    updateLater: "Neue Version des Büros. Sie geht hinein, wenn keine Zeit läuft.",
    storage: "Speicher", kept: "bleibt für immer", people: "Personen, Schichten",
    mayGo: "der Browser kann ihn leeren: diese Seite als App einrichten",
    ask: "Für immer behalten", keysLost: "Dieser Browser hat seine Schlüssel verloren. "
      + "Die Einträge sind sicher. Jede Person braucht einen neuen Code.",
  },
};
