// Todos los textos del teléfono en español; `rules` tiene las palabras de las reglas.
// Los términos siguen ISO 9000: no conformidad, concesión, reproceso, reparación.

export const words = {
  app: "Registro de juntas", tag: "es-ES",
  marks: {
    saved: "aquí", elsewhere: "en otro teléfono", all: "todo en la oficina",
    waiting: (count, since) => `${count} esperan desde ${since}`,
    unreached: "sin oficina", unheard: "aún sin noticia", alarm: "lista rota",
    ended: "dado por perdido", stranger: "allí no se conoce",
    endedWhy: "Aquí no llega nada nuevo y de aquí nada cuenta. Tome otro teléfono.",
  },
  bar: { back: "Atrás", stop: "ALTO", menu: "Más", site: "Obra",
    keys: "Teclas fijas", dock: "Teclas de esta pantalla" },
  enrol: {
    own: "Desde su propio teléfono",
    scan: "Leer el código",
    title: "Persona nueva",
    first: "Este teléfono registra para una obra. La oficina da a cada persona un "
      + "código; con él y un PIN de seis cifras el teléfono crea una llave que solo "
      + "esa persona puede usar.",
    more: "Otra persona entra en este teléfono. Su llave y su PIN son solo suyos.",
    code: "Código de la oficina", next: "Seguir", pin: "Elija un PIN de seis cifras",
    again: "El mismo PIN otra vez", differ: "No eran iguales. Elija otra vez.",
    easy: "Demasiado fácil de adivinar. Elija otro.",
    sending: "Se crea la llave y se pregunta a la oficina …",
    unreached: "La oficina no respondió. Un código necesita red una vez; inténtelo de "
      + "nuevo donde haya señal.",
    refused: (reason) => `La oficina no lo aceptó: ${reason}`,
    whose: (name) => `Código de ${name}`, asking: "Preguntando a la oficina …",
    form: "Un código tiene ocho letras y cifras, sin 0, 1, I, L, O ni U.",
    codes: {
      code_unknown: "el código no se conoce o ha caducado. Pida uno nuevo.",
      code_used: "el código ya se usó. Pida uno nuevo.",
      device_revoked: "este teléfono se dio por perdido. Use otro.",
      too_fast: "demasiados intentos. Espere un poco.",
    },
    broken: "Este navegador no puede guardar una llave con seguridad. Use otro "
      + "teléfono "
      + "u otro navegador.",
    pinBefore: "Este código se empezó con otro PIN. Use aquel.",
  },
  people: {
    keys: "Todas mis llaves",
    title: "Personas en este teléfono", add: "Añadir otra persona",
    start: "Empezar mi turno", end: "Terminar turno", recording: "registra ahora",
    until: (time) => `hasta ${time}`, none: "Nadie registra todavía",
    hint: "Quien empieza un turno registra con un toque hasta que termina. Las "
      + "liberaciones y las decisiones siempre piden un PIN.",
    unknown: "la oficina aún no la nombra",
  },
  pin: {
    title: "PIN de", wrong: "PIN equivocado.", cancel: "Cancelar", who: "¿Quién firma?",
    typed: (count) => `${count} de 6 cifras`,
    wait: (time) => `Espere ${time} antes del próximo intento. El registro sigue.`,
    nobody: "Nadie en este teléfono puede firmar esto. Añada a alguien con un código "
      + "de la oficina.",
    working: "Abriendo …", erase: "Borrar", minus: "menos", point: "coma decimal",
  },
  site: {
    title: "Obra",
    never: "Aún no ha llegado nada de la oficina. El teléfono sigue intentándolo solo.",
    waiting: "la hoja aún no está aquí", find: "Marca de dovela o junta",
    nothing: (typed) => `Nada en esta obra se llama «${typed}».`,
    heard: (time) => `Última noticia de la oficina ${time}`,
    notHeard: "Aún sin noticia de la oficina",
  },
  state: {
    off: "no hace falta", closed: "cerrado", open: "abierto", partial: "en curso",
    failed: "fuera de límites", disputed: "en disputa", done: "hecho",
    ok: "en los límites", anyway: "hecho de todos modos", waiting: "no listo",
    ready: "listo para llamar", called: "llamado", released: "liberado",
    refused: "rechazado", lapsed: "decaído", expired: "caducado",
    complete: "completo", incomplete: "incompleto",
    concession: "completo con concesión", rejected: "rechazado",
    running: "corre", over: "terminado", met: "cumplido", proposed: "propuesto",
    disposed: "decidido", stopped: "parado", race: "corre el tiempo",
    waived: "aviso vencido", discarded: "descartado", unknown: "aún no está aquí",
    settled: "cerrada", idle: "si hace falta",
  },
  joint: {
    again: "Leer de nuevo", attempt: (n) => `intento ${n}`,
    reached: (title) => `Alcanzado: ${title}`,
    calledFor: (title) => `Ahora también: ${title}`,
    anyway: "Ocurrió de todos modos", of: (done, all) => `${done} de ${all}`,
    nonconformances: "No conformidades", noShift: "Empiece un turno para registrar",
    openPoint: "Mirar y decidir", saved: (time) => `Guardado ${time}`,
    unsaved: "NO GUARDADO. Inténtelo de nuevo; avise a la oficina.",
    complete: "Todos los pasos están registrados.",
    unread: "Está firmado y guardado, pero aún no se puede mostrar: no lo anote otra "
      + "vez. Abra esta página de nuevo.",
    method: "Mandan el procedimiento, las normas locales y el ingeniero responsable.",
  },
  form: {
    save: "GUARDAR", next: "sigue", now: "ahora", target: "En el valor",
    why: "Por qué",
    rows: { when: "Cuándo", reason: "Por qué", photos: "Fotos", paper: "Escrito" },
    paper: "copiado del papel", fresh: "aquí y ahora", writtenBy: "Escrito por",
    timeForm: "HHMM o DDMMHHMM", copying: "Copiando del papel",
    copyingEnd: "Toque para acabar: después cada toque vale para ahora",
    allowed: (low, high) => `permitido de ${low} a ${high}`,
    fault: {
      empty: "escriba una cifra", unreadable: "no es una cifra",
      too_large: "demasiado grande",
      time: "una hora como HHMM, o DDMMHHMM, no después de ahora",
    },
    tooFine: (places) => `cifras tras la coma: como mucho ${places}`,
    out: "aquí no es posible",
    anyway: "Esta puerta está cerrada. Lo ocurrido aún puede escribirse; será una no "
      + "conformidad.",
    none: "Nada de esta clase está en la hoja ni en el registro.",
    optional: "si se sabe", writeHere: "Escriba aquí",
    correct: "Corrección: solo se firma lo que cambia. La anotación anterior sigue a "
      + "la "
      + "vista.",
  },
  photo: {
    take: "Hacer foto", choose: "Elegir archivo", one: "Foto", whole: "Ver entera",
    unseen: "foto no vista en este teléfono",
    unreadable: "Este teléfono no puede leer esa imagen.",
    unkept: "FOTO NO GUARDADA. Inténtelo de nuevo.", added: "Foto añadida",
    add: "Añadir foto",
    wanted: (count) => (count === 1 ? "se pide una" : `se piden ${count}`),
    missing: (count) => (count === 1 ? "falta la foto" : `faltan ${count} fotos`),
  },
  unsaved: {
    title: "Aún sin guardar", away: "Desechar", sure: "Desechar del todo",
    since: (time, name) => `Aún sin guardar, empezado ${time} por ${name}. Si se leyó `
      + "entonces, dígalo en Cuándo.",
    older: "de un intento ya terminado",
  },
  items: {
    taken: "Ya está en otra fila de este formulario.",
    scan: "Leer etiqueta",
    label: "Etiqueta o parte", unknown: "no está en el registro",
    wrong: (found, wanted) => `esto es: ${found}; se pide: ${wanted}`,
    nothing: (typed) => `Nada de esta clase lleva «${typed}» en su nombre.`,
    expired: (day) => `caducado o sin calibrar desde ${day}`,
    overused: (uses, most) => `usado en otros ${uses}, permitido ${most}`,
    used: (uses, most) => `usado ${uses} de ${most} veces, que sepa este teléfono`,
    foreign: (label) => `${label} no es una etiqueta del registro de esta obra. Léala `
      + `de `
      + "nuevo o pregunte en almacén.",
    refused: (label, why) => `${label}: ${why}. Elija otro.`,
  },
  point: {
    title: "Puerta", rests: "En qué se apoya", call: "Llamar",
    withdraw: "Retirar la llamada", release: "LIBERAR", refuse: "Rechazar",
    why: "Motivo", needs: "Liberaciones", missing: "falta",
    acts: { hold: "LIBERAR", witness: "LIBERAR", review: "VISAR",
      surveillance: "FIRMAR" },
    classes: { hold: "punto de parada", witness: "punto de presencia",
      review: "revisión del registro", surveillance: "vigilancia" },
    withConditions: "Liberar con condiciones", notice: "Aviso recibido",
    noNotice: "Aún no se recibió aviso. Sin él, o sin liberación, nadie sigue.",
    noticeUntil: (time, left) => "Aviso recibido. Puede pasarse sin presencia desde "
      + `${time}, en ${left}.`,
    waived: "El aviso venció sin que viniera nadie: el trabajo puede seguir. Así queda "
      + "registrado.",
    calledAt: (time, span) => `Llamado ${time}, espera ${span}`,
    givenBy: (name, time) => `${name}, ${time}`,
    spokenBy: (said, heard, back, time) => `dicho por ${said}, oído por ${heard}: `
      + `«${back}». A firmar antes de ${time}`,
    deputyFrom: (role, time) => `o ${role}, desde ${time}`,
    deputyAfter: (role, minutes) => `o ${role}, ${minutes} min tras la llamada`,
    until: (time) => `caduca ${time}`, ranOut: (time) => `caducó ${time}`,
    givenLate: (given) => `${given}, caducada`,
    signsFrom: (name, time) => `${name} puede firmar desde ${time}`,
    deputyNow: (role, time) => `o ${role}, desde ${time}`,
    lapsed: (what) => `Ya no vale, desde: ${what}`,
    unspoken: "No de palabra.", whyFirst: "Elija un motivo o escríbalo.",
    life: (minutes) => `Una liberación vale ${minutes} min.`,
    nothing: "nada registrado", shut: "Esta puerta no está lista:", limit: "límite",
  },
  sighting: {
    never: "Nunca se ha oído nada del otro brazo.",
    at: (time) => `El otro brazo se oyó o se vio por última vez ${time}.`,
    look: "He mirado al otro lado", sign: "FIRMAR",
    sure: "Usted dice: visto ahora mismo, allí no cuelga nada que no esté registrado "
      + "aquí. Un izado puede apoyarse en ello.",
    seen: "Mirado al otro lado: no cuelga nada que no esté registrado",
  },
  conditions: {
    title: "Condiciones", before: (name) => `a cerrar antes de: ${name}`,
    close: "Cerrarla", how: "Qué se hizo", ask: "Liberar con puntos abiertos",
    what: "Qué queda por hacer", which: "A cerrar antes de", add: "Una más",
    first: "Diga qué hay que hacer y elija antes de qué.",
    howFirst: "Diga qué se hizo.",
  },
  spoken: {
    title: "Liberación de palabra", said_by: "Dicho por",
    heard_by: "Oído por una segunda persona",
    nobody: "Nadie puede liberar esto ahora:",
    back: "Palabras, releídas", words: "Palabra por palabra", record: "REGISTRAR",
    first: "Elija quién lo dijo y quién lo oyó, y escriba las palabras.",
    sign: "Firmar lo dicho",
    caution: "Relea las palabras antes de escribirlas. Hay que firmarlas después, y se "
      + "imprimen como dichas de palabra.",
  },
  crew: {
    title: "Cuadrilla", declare: "Declarar", first: "Elija quiénes son.",
    already: "Ya hicieron una parte:",
    caution: "Quien se declara no puede liberar esto, y queda declarado.",
  },
  minutes: {
    go: "ADELANTE", start: (time) => `empezar antes de ${time}`, expected: "previsto",
    inHand: "min de margen", behind: "min de retraso", over: "TIEMPO AGOTADO",
    begunNow: "Si se empieza ahora",
    missing: "Antes de empezar",
    unknownAhead: (title, time) => `${title}: no consta, según noticias de ${time}. `
      + "Esto no permite nada.",
  },
  alarm: {
    acknowledge: "Visto", high: "ACTÚE YA", medium: "Pronto", low: "Nota",
    passed: (title) => `${title}: ya pasó la hora`,
    near: (title, minutes) => `${title} en ${minutes} min`,
    expiry: (title, minutes) => `${title}: la liberación caduca en ${minutes} min`,
    silent: "Ningún teléfono suena bloqueado. La puerta aguanta; la bocina es de la "
      + "obra.",
  },
  line: {
    late: (time) => `Registrado tarde, ${time}`,
    retake: "Leer de nuevo", correct: "Corregir", reason: "Motivo",
    history: "Todas las anotaciones", discard: "Descartar la línea",
  },
  entry: {
    done: "registrado", anyway: "ocurrió de todos modos", correction: "corrección",
    discarded: "descartado", copied: "copiado del papel", called: "llamada",
    call_withdrawn: "llamada retirada", notice: "aviso recibido",
    release: "liberación", spoken: "liberación de palabra", refusal: "rechazo",
    nonconformance: "no conformidad", proposal: "propuesta",
    disposition: "decisión", closing: "cierre",
    condition_closed: "condición cerrada", crew: "equipo declarado",
    sighting: "visto el otro brazo", stopped: "ALTO", made_safe: "asegurado",
    acknowledged: "alarma vista", note: "nota", registered: "inscrito",
    plan_signed: "plan firmado", sheet_issued: "hoja emitida",
    enrolled: "persona añadida", key_retired: "llave retirada",
    key_revoked: "llave revocada",
  },
  nonconformance: {
    title: "No conformidad", propose: "Proponer", dispose: "DECIDIR",
    from: "Empezar de nuevo en", close: "Cerrarla", verdicts: {
      use_as_is: "Usar como está", repair: "Reparación", rework: "Reproceso",
      reject: "Rechazar",
    },
    who: "Decide el proyectista o el ingeniero de la propiedad; el ingeniero del "
      + "contratista propone.",
    blocks: "Cierra", raise: "Avisar de una no conformidad", what: "Qué está mal",
    why: "Dígalo primero en pocas palabras.",
    fromWhere: "Elija el paso desde el que se empieza otra vez.",
    shuts: "Cierra toda puerta que falta, hasta que se decida.",
  },
  stop: {
    title: "ALTO: ¿por qué?", recorded: "Alto registrado", safe: "ASEGURADO",
    note: "Toque un motivo: se registra al momento.", which: "ALTO ¿dónde?",
    unsigned: "No hay turno: haga esto primero, luego entre para registrarlo.",
    since: (time) => `parado ${time}`,
  },
  lost: {
    mean: "media", least: "mínima", cap: "máximo", headroom: "reserva",
    recorded: (time) => `registrado ${time}`,
  },
  office: {
    title: "Llevado a la oficina", waiting: "Espera aquí", faulty: "No aceptado",
    none: "Nada espera. La oficina tiene todo lo registrado aquí.",
    reached: (time) => `Oficina alcanzada ${time}`,
    unreached: "La oficina no responde. Nada se pierde: todo queda aquí y sale solo.",
    tryNow: "Probar ahora", stranger: "La oficina no conoce este teléfono. Dé de alta "
      + "a alguien con un código nuevo: entonces todo va solo.",
    ended: "Lo que solo sabía este teléfono queda apartado en la oficina. Anótelo otra "
      + "vez en otro teléfono, como copiado.",
    hole: "A la lista de la oficina le falta algo. Avise a la oficina antes de fiarse "
      + "de anotaciones de otros teléfonos.",
    history: "La historia de la oficina no contiene lo que este teléfono vio antes. "
      + "Avise a la oficina.",
    restored: "La oficina empezó de nuevo con una copia a la que le falta lo que este "
      + "teléfono vio. Este teléfono vuelve a ofrecerlo todo. Avise a la oficina.",
    receipt: "El recibo de la oficina no es válido. En este teléfono queda todo. Avise "
      + "a la oficina.",
    alarmTold: "La oficina está avisada",
    row: (seq) => `n.º ${seq}`,
    photos: (count) => (count === 1 ? "1 foto" : `${count} fotos`),
    why: {
      unreadable: "allí no se puede leer; queda aquí",
      signature: "la firma no vale",
      bad_signature: "apartado: la firma no vale",
      unknown_key: "apartado: la oficina aún no conoce esta llave",
      other_device: "apartado: la llave es de otro teléfono",
      other_site: "apartado: es de otra obra",
      revoked_key: "apartado: esta llave fue revocada",
      revoked_device: "apartado: este teléfono fue revocado",
    },
  },
  phone: {
    title: "Este teléfono", theme: "Sol o noche", sun: "Sol", night: "Noche",
    hand: "Mano", left: "Mano izquierda", right: "Mano derecha", version: "Versión",
    update: "Poner la versión nueva",
    updateHint: "La oficina tiene una versión nueva. Le espera.",
    updating: "Se trae entera …",
    updateFailed: "No se pudo traer entera. Sigue esta versión.",
    updateLater: "La oficina tiene una versión nueva. Entrará cuando no corra ningún "
      + "tiempo.",
    storage: "Memoria", kept: "guardada para siempre",
    mayGo: "el navegador puede borrarla: instale esta página como aplicación",
    ask: "Guardar para siempre", keysLost: "Este navegador perdió sus llaves. Las "
      + "anotaciones están a salvo. Cada persona necesita un código nuevo.",
    people: "Personas y turnos", device: "Teléfono", roads: "Otros teléfonos",
    language: "Idioma", away: "Esto aún no está en el teléfono: necesita red una vez.",
  },
  plan: {
    title: "Plan por firmar", none: "Ningún plan espera una firma.",
    yours: (part) => `Un plan espera su firma: ${part}`,
    waits: (part) => `Un plan espera firmas: ${part}`,
    parts: { prepared: "preparado", checked: "revisado", approved: "aprobado" },
    named: (title, revision) => `${title}, revisión ${revision}`,
    sheets: (all, fresh) => `${all} hojas, ${fresh} nuevas o cambiadas`,
    kind: ({ title, sheets, steps, points }) => `${title}: ${sheets} hojas, `
      + `${steps} pasos, ${points} puntos`,
    open: (who) => `todavía no: ${who}`,
    hold: "Las hojas en curso siguen como están hasta que los tres hayan firmado.",
    read: "Léalo en la oficina, en Plan, antes de firmar.",
    sign: (part) => `Firmar como ${part}`,
  },
  reasons: {
    correction: ["Mal leído", "Tecla equivocada", "Línea equivocada"],
    refusal: ["Lectura fuera de límites", "Falta una lectura", "No se vio en la cara"],
    anyway: ["No se advirtió a tiempo", "La carga o el adhesivo no dejó esperar"],
    call_withdrawn: ["Llamado por error", "No está listo"],
    discarded: ["Mal mezclado", "Envase equivocado", "Registrado por error"],
  },
  rules: {
    not_reached: "Primero: {name}.",
    step_open: "{step} aún no está registrado.",
    step_closed: "{step} aún no está registrado.",
    step_partial: "{step} no está terminado.",
    step_failed: "{step} está fuera de sus límites. Corríjalo y lea de nuevo, o que se "
      + "decida.",
    step_disputed: "{step}: dos lecturas se contradicen. Lea de nuevo.",
    requirement: "{requirement}",
    nonconformance: "Una no conformidad abierta cierra esta puerta: {id}",
    hold_running: "{hold}: espere hasta {until}.",
    hold_not_begun: "{hold} no ha empezado.",
    other_subject: "{subject} debe tener antes {name}, que sepa este teléfono.",
    never_heard: "Nada se sabe del otro brazo. Oiga su teléfono, o que alguien mire y "
      + "firme lo que cuelga allí.",
    heard_long_ago: "El otro brazo se oyó por última vez {at}: hace demasiado. Oiga su "
      + "teléfono, o que alguien mire y firme lo que cuelga allí.",
    stopped: "Rige un ALTO: {reason}. Registre primero que se aseguró.",
    gate_shut: "{point} no está liberado.",
    gate_expired: "La liberación de {point} ha caducado. Llame otra vez al inspector.",
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
    item_expired: "Caducado o sin calibrar: {check}",
    item_overused: "Usado más veces de las permitidas: {check}",
    item_corrected: "Su certificado se corrigió después: {check}",
    check_failed: "Fuera de sus límites: {check}",
    clock_over: "Se acabó el tiempo: {check}",
    by_hand: "Avisada por una persona.",
    step_off: "{step} no se pide.",
    unknown_step: "Esta hoja no tiene ese paso ni esa línea.",
    bad_value: "{field}: {found} no es posible aquí; permitido {allowed}.",
    missing_value: "Hace falta {field}.",
    unknown_kind: "Una anotación de una clase que esta versión no conoce; se guarda y "
      + "se lleva.",
    other_sheet: "Hecho con otra revisión de la hoja; el paso dice ahora otra cosa.",
    target_missing: "Corrige una anotación que no ha llegado.",
    target_unseen: "Corrige una anotación que su autor no había visto.",
    time_unknown: "El reloj del teléfono iba atrasado tras reiniciar; la hora no se "
      + "sabe "
      + "y cuenta como pasada.",
    stated_later: "La hora dicha es posterior a la firma; vale la de la firma.",
    late: "Registrado tarde.",
    time_contradicts: "Las horas contradicen el orden en que los teléfonos vieron las "
      + "anotaciones de los otros.",
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
    fork: "Dos anotaciones de un teléfono llevan el mismo número.",
    other_attempt: "Es de un intento que no cuenta.",
    plan_is_signed: "El plan está preparado, revisado y aprobado: no falta ninguna "
      + "firma.",
    plan_role: "Como {part} debe firmar otro cargo u otra organización.",
    plan_same_person: "Como {part} debe firmar alguien que aún no haya firmado este "
      + "plan.",
    plan_same_organisation: "Como {part} debe firmar otra organización que la que lo "
      + "preparó.",
  },
};
