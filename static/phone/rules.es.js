// What the rules say, in Spanish; English has it in the rules' own file (words.json).

export const rules = {
  not_reached: "Primero: {name}.",
  step_open: "{step} aún no está registrado.",
  step_closed: "{step} aún no está registrado.",
  step_partial: "{step} no está terminado.",
  step_failed: "{step} está fuera de sus límites. Corríjalo y lea de nuevo, o que se "
    + "decida.",
  step_disputed: "{step}: dos lecturas se contradicen. Lea de nuevo.",
  requirement: "Se pide: {requirement}",
  nonconformance: "Una no conformidad abierta cierra esta puerta: {id}",
  hold_untimed: "{hold}: no se sabe cuándo empezó, el reloj de ese teléfono iba mal. "
    + "Lea otra vez el paso en un teléfono con el reloj en hora: cuenta desde "
    + "entonces.",
  item_untimed: "No se sabe si ya había pasado su último día, el reloj del teléfono "
    + "iba mal: {check}. Léalo otra vez en un teléfono con el reloj en hora.",
  item_out_untimed: "{step}: no se sabe si ya pasó el último día de lo elegido, el "
    + "reloj del teléfono iba mal.",
  hold_running: "{hold}: espere hasta {until}.",
  item_ran_out: "{step}: el último día de lo elegido ya pasó. Elija otro.",
  hold_not_begun: "{hold} no ha empezado.",
  other_subject: "{subject} debe tener antes {name}, que sepa este teléfono.",
  never_heard: "Nada se sabe del otro brazo. Oiga su teléfono, o que alguien mire y "
    + "firme lo que cuelga allí.",
  heard_long_ago: "El otro brazo se oyó por última vez {at}: hace demasiado. Oiga su "
    + "teléfono, o que alguien mire y firme lo que cuelga allí.",
  stopped: "Rige un ALTO: {reason}. Registre primero que se aseguró.",
  gate_shut: "{point} no está liberado.",
  gate_expired: "La liberación de {point} ha caducado. Llame otra vez al inspector.",
  gate_untimed: "No se sabe cuándo se liberó {point}: el reloj de ese teléfono iba "
    + "atrasado. Ponga bien su fecha y hora y que se libere de nuevo.",
  said_anyway: "Registrado como hecho aunque no estaba libre.",
  pin_needed: "Esta firma necesita el PIN.",
  deputy_early: "{person} es suplente en {point} y aún no puede liberar: debe haber "
    + "llamada y haber corrido la espera del suplente.",
  wrong_role: "{person} no puede liberar {point}: debe hacerlo otro cargo u otra "
    + "organización.",
  own_work: "{person} hizo parte de este trabajo y no puede liberar {point}.",
  own_organisation: "{person} es de la organización que hizo este trabajo y no puede "
    + "liberar {point}.",
  not_heard: "Una liberación de palabra necesita una segunda persona nombrada que la "
    + "oyera.",
  condition_open: "Una condición de {point} sigue abierta: {condition}",
  notice_not_given: "Aún no se recibió aviso para {point}.",
  notice_running: "El aviso para {point} corre hasta {until}.",
  spoken_unsigned: "Una liberación de palabra no se firmó a tiempo.",
  item_unknown: "No está en el registro: {check}",
  item_wrong: "Otra clase de objeto que la pedida: {check}",
  item_expired: "Caducado: {check}",
  item_uncalibrated: "Calibración vencida: {check}",
  item_twice: "{step}: {item} figura a la vez en {lines} y solo puede estar en un "
    + "sitio. Lea las etiquetas y corrija la línea equivocada.",
  item_elsewhere: "Lo mismo figura a la vez en otro sitio de este paso.",
  item_foreign: "{check} no es ninguno de los mirados antes del punto de "
    + "parada ({seen}).",
  item_overused: "Usado más veces de las permitidas: {check}",
  item_corrected: "Su certificado se corrigió después: {check}",
  taken_back: "{check}: lo leído antes no vuelve atrás por mirar otra vez. Si aquella "
    + "lectura era errónea, corríjala y diga por qué.",
  check_failed: "Fuera de sus límites: {check}",
  clock_over: "Se acabó el tiempo: {check}",
  by_hand: "Avisada por una persona.",
  step_off: "{step} no se pide.",
  unknown_step: "Esta hoja no tiene ese paso ni esa línea.",
  bad_value: "{field}: {found} no es posible aquí; permitido {allowed}.",
  missing_value: "Hace falta {field}.",
  unknown_kind: "Una entrada de una clase que esta versión no conoce; se guarda y "
    + "se lleva.",
  other_sheet: "Hecho con otra revisión de la hoja; el paso dice ahora otra cosa.",
  target_missing: "Corrige una entrada que no ha llegado.",
  target_unseen: "Corrige una entrada que su autor no había visto.",
  time_unknown: "El reloj del teléfono iba atrasado tras reiniciar; la hora no se "
    + "sabe "
    + "y cuenta como pasada. Ponga bien su fecha y hora; lo que firme entonces, u otro "
    + "teléfono que haya visto esto, dice cuándo fue.",
  time_taken: "El reloj del teléfono iba atrasado tras reiniciar; la hora es la del "
    + "reloj de la oficina, la escrita, o queda entre lo firmado antes y después.",
  stated_later: "La hora dicha es posterior a la firma; vale la de la firma.",
  late: "Registrado tarde.",
  time_contradicts: "Las horas contradicen el orden en que los teléfonos vieron las "
    + "entradas de los otros.",
  unknown_person: "Firmado por alguien que no está en la lista.",
  without_pin: "Firmado sin el PIN; no cuenta.",
  wrong_role_entry: "Registrado por otro cargo que el que nombra el plan.",
  release_void: "Esta liberación no valía cuando se dio.",
  release_lapsed: "Esta liberación ha decaído.",
  copied: "Copiado del papel.",
  correction: "Una corrección.",
  anyway: "Hecho aunque una puerta lo prohibía.",
  newer_rules: "Hecho con reglas más nuevas que las de esta versión.",
  out_of_order: "Registrado fuera de orden.",
  fork: "Dos entradas de un teléfono llevan el mismo número.",
  other_attempt: "Es de un intento que no cuenta.",
  plan_is_signed: "El plan está preparado, revisado y aprobado: no falta ninguna "
    + "firma.",
  plan_role: "Como {part} debe firmar otro cargo u otra organización.",
  plan_same_person: "Como {part} debe firmar alguien que aún no haya firmado este "
    + "plan.",
  plan_same_organisation: "Como {part} debe firmar otra organización que la que lo "
    + "preparó.",
};
