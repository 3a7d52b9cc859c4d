// What the rules say, in German; English has it in the rules' own file (words.json).

export const rules = {
  not_reached: "Zuerst: {name}.",
  step_open: "{step} ist noch nicht aufgeschrieben.",
  step_closed: "{step} ist noch nicht aufgeschrieben.",
  step_partial: "{step} ist nicht fertig.",
  step_failed: "{step} liegt außerhalb der Grenzen. In Ordnung bringen und neu "
    + "lesen, "
    + "oder entscheiden lassen.",
  step_disputed: "{step}: zwei Messwerte widersprechen sich. Neu lesen.",
  requirement: "Verlangt: {requirement}",
  nonconformance: "Eine offene Nichtkonformität sperrt dieses Tor: {id}",
  hold_running: "{hold}: warten bis {until}.",
  hold_untimed: "{hold}: Wann es begann, weiß niemand, die Uhr jenes Telefons ging "
    + "falsch. Den Schritt auf einem Telefon neu lesen, dessen Uhr stimmt: ab dann "
    + "läuft es.",
  item_untimed: "Ob sein letzter Tag vorbei war, weiß niemand, die Uhr des Telefons "
    + "ging falsch: {check}. Auf einem Telefon neu lesen, dessen Uhr stimmt.",
  item_out_untimed: "{step}: Ob der letzte Tag des Gewählten vorbei ist, weiß niemand, "
    + "die Uhr des Telefons ging falsch.",
  item_ran_out: "{step}: Der letzte Tag des Gewählten ist seither vorbei. Anderes "
    + "wählen.",
  hold_not_begun: "{hold} hat nicht begonnen.",
  other_subject: "{subject} braucht zuerst {name}, soweit dieses Telefon weiß.",
  never_heard: "Vom anderen Arm ist nichts bekannt. Sein Telefon hören, oder jemand "
    + "sieht nach und zeichnet, was dort hängt.",
  heard_long_ago: "Der andere Arm wurde zuletzt {at} gehört: zu lange her. Sein "
    + "Telefon hören, oder jemand sieht nach und zeichnet, was dort hängt.",
  stopped: "STOPP gilt: {reason}. Zuerst aufschreiben, dass gesichert wurde.",
  gate_shut: "{point} ist nicht freigegeben.",
  gate_expired: "Die Freigabe von {point} ist abgelaufen. Den Prüfer neu rufen.",
  gate_untimed: "Wann {point} freigegeben wurde, weiß niemand: Die Uhr jenes Telefons "
    + "ging nach. Datum und Uhrzeit dort richtig stellen und neu freigeben lassen.",
  said_anyway: "Als getan aufgeschrieben, obwohl es nicht frei war.",
  pin_needed: "Diese Unterschrift braucht die PIN.",
  deputy_early: "{person} vertritt bei {point} und darf noch nicht freigeben: es "
    + "muss gerufen und die Wartezeit der Vertretung abgelaufen sein.",
  wrong_role: "{person} darf {point} nicht freigeben: eine andere Rolle oder "
    + "Organisation muss es tun.",
  own_work: "{person} hat einen Teil dieser Arbeit getan und darf {point} nicht "
    + "freigeben.",
  own_organisation: "{person} gehört zu der Organisation, die diese Arbeit tat, und "
    + "darf {point} nicht freigeben.",
  not_heard: "Eine gesprochene Freigabe braucht eine genannte zweite Person, die sie "
    + "hörte.",
  condition_open: "Eine Bedingung von {point} ist noch offen: {condition}",
  notice_not_given: "Für {point} ist noch keine Ankündigung eingegangen.",
  notice_running: "Die Frist für {point} läuft bis {until}.",
  spoken_unsigned: "Eine gesprochene Freigabe wurde nicht rechtzeitig "
    + "unterschrieben.",
  item_unknown: "Nicht im Verzeichnis: {check}",
  item_wrong: "Etwas anderes, als verlangt ist: {check}",
  item_expired: "Verfallen: {check}",
  item_uncalibrated: "Kalibrierung abgelaufen: {check}",
  item_overused: "Öfter benutzt als erlaubt: {check}",
  item_foreign: "{check} ist keines von dem, was vor dem Haltepunkt "
    + "angesehen wurde ({seen}).",
  item_twice: "{step}: {item} ist zugleich bei {lines} genannt und kann nur an einem "
    + "Ort sein. Die Schilder lesen und die falsche Zeile berichtigen.",
  item_elsewhere: "Dasselbe ist zugleich an einem anderen Ort dieses Schritts genannt.",
  item_corrected: "Das Zeugnis wurde nachher korrigiert: {check}",
  taken_back: "{check}: Was vorher gelesen wurde, geht durch neues Hinsehen nicht "
    + "zurück. War jene Ablesung falsch, sie berichtigen und sagen, warum.",
  check_failed: "Außerhalb der Grenzen: {check}",
  clock_over: "Die Zeit ist vorbei: {check}",
  by_hand: "Von einer Person gemeldet.",
  step_off: "{step} ist nicht verlangt.",
  unknown_step: "Dieses Blatt hat keinen solchen Schritt und keine solche Zeile.",
  bad_value: "{field}: {found} ist hier nicht möglich; erlaubt {allowed}.",
  missing_value: "{field} wird gebraucht.",
  unknown_kind: "Ein Eintrag einer Art, die diese Version nicht kennt; behalten und "
    + "weitergetragen.",
  other_sheet: "Unter einer anderen Fassung des Blatts gemacht; der Schritt lautet "
    + "jetzt anders.",
  target_missing: "Korrigiert einen Eintrag, der nicht angekommen ist.",
  target_unseen: "Korrigiert einen Eintrag, den sein Verfasser nicht gesehen hatte.",
  time_unknown: "Die Uhr des Telefons ging nach einem Neustart nach; die Zeit ist "
    + "unbekannt und gilt als vorbei. Datum und Uhrzeit richtig stellen; was dann "
    + "darauf unterschrieben wird, oder ein anderes Telefon, das dies gesehen hat, "
    + "sagt, wann es war.",
  time_taken: "Die Uhr des Telefons ging nach einem Neustart nach; die Zeit "
    + "stammt von der Uhr des Büros, wurde getippt oder liegt zwischen dem, was davor "
    + "und danach unterschrieben wurde.",
  stated_later: "Die genannte Zeit liegt nach dem Unterschreiben; das Unterschreiben "
    + "gilt.",
  late: "Spät aufgeschrieben.",
  time_contradicts: "Die Zeiten widersprechen der Reihenfolge, in der die Telefone "
    + "die Einträge der anderen sahen.",
  unknown_person: "Von jemandem unterschrieben, der nicht verzeichnet ist.",
  without_pin: "Ohne die PIN unterschrieben; es gilt nicht.",
  wrong_role_entry: "Von einer anderen Rolle aufgeschrieben, als der Plan nennt.",
  release_void: "Diese Freigabe galt schon nicht, als sie gegeben wurde.",
  release_lapsed: "Diese Freigabe ist verfallen.",
  copied: "Vom Papier abgeschrieben.",
  correction: "Eine Korrektur.",
  anyway: "Getan, obwohl ein Tor es verbot.",
  newer_rules: "Unter neueren Regeln gemacht, als diese Version kennt.",
  out_of_order: "Nicht in der Reihenfolge aufgeschrieben.",
  fork: "Zwei Einträge eines Telefons tragen dieselbe Nummer.",
  other_attempt: "Gehört zu einem Versuch, der nicht gilt.",
  plan_is_signed: "Der Plan ist aufgestellt, geprüft und freigegeben: keine "
    + "Unterschrift steht aus.",
  plan_role: "Als {part} muss eine andere Rolle oder Organisation unterschreiben.",
  plan_same_person: "Als {part} muss jemand unterschreiben, der diesen Plan noch "
    + "nicht unterschrieben hat.",
  plan_same_organisation: "Als {part} muss eine andere Organisation unterschreiben "
    + "als die, die ihn aufstellte.",
};
