// Todos los textos del teléfono en español; `rules` tiene las palabras de las reglas.
// Los términos siguen ISO 9000: no conformidad, concesión, reproceso, reparación.

import { rules } from "./rules.es.js";

export const words = {
  app: "Registro de juntas", tag: "es-ES",
  marks: {
    saved: "aquí", elsewhere: "también en otro teléfono", all: "todo en la oficina",
    waiting: (count, since) => `${count} desde ${since}`,
    unreached: "sin oficina", unheard: "aún sin noticia", alarm: "lista rota",
    ended: "dado por perdido", stranger: "allí no se conoce",
    unproven: "espera su PIN",
    ahead: (span) => `El reloj de este teléfono va ${span} adelantado. Corríjalo.`,
    heard: (time) => `oída ${time}`,
    back: (time) => "El reloj de este teléfono se atrasó. Póngalo bien o tome otro "
      + `teléfono: hasta ${time} sus horas solo se saben por el reloj de la oficina o `
      + "por lo que vieron otros.",
    behind: (span) => `El reloj de este teléfono va ${span} atrasado. Corríjalo.`,
    endedWhy: "Aquí no llega nada nuevo y de aquí nada cuenta. Tome otro teléfono.",
  },
  bar: { back: "Atrás", stop: "ALTO", menu: "Más", site: "Obra",
    keys: "Teclas fijas", dock: "Teclas de esta pantalla" },
  people: {
    keys: "Todas mis llaves",
    joined: (name) => `${name} ya está en este teléfono.`,
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
    reading: "Leyendo lo guardado aquí …",
    title: "Obra",
    never: "Aún no ha llegado nada de la oficina. El teléfono sigue intentándolo solo.",
    absent: "Aún no está en este teléfono. Llega de la oficina o de otro teléfono.",
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
    settled: "cerrada", idle: "si hace falta", later: "después",
  },
  joint: {
    again: "Leer de nuevo", folded: (count) => `${count} hechos`,
    attempt: (n) => `intento ${n}`,
    reached: (title) => `Alcanzado: ${title}`,
    calledFor: (title) => `Ahora también: ${title}`,
    anyway: "Ocurrió de todos modos", of: (done, all) => `${done} de ${all}`,
    nonconformances: "No conformidades", noShift: "Empiece un turno para registrar",
    openPoint: "Mirar y decidir", saved: (time) => `Guardado ${time}`,
    unsaved: "NO GUARDADO. Inténtelo de nuevo; avise a la oficina.",
    unread: "Está firmado y guardado, pero aún no se puede mostrar: no lo registre "
      + "otra vez. Abra esta página de nuevo.",
    comesAfter: (name) => `Va después de: ${name}`,
    complete: "Todos los pasos están registrados.",
    method: "Mandan el procedimiento, las normas locales y el ingeniero responsable.",
  },
  form: {
    save: "GUARDAR", next: "sigue", now: "ahora", target: "En el valor",
    why: "Por qué",
    rows: { when: "Cuándo", reason: "Por qué", photos: "Fotos", paper: "Escrito" },
    paper: "copiado del papel", fresh: "aquí y ahora", writtenBy: "Escrito por",
    timeForm: "HHMM o DDMMHHMM", copying: "Copiando del papel",
    copyingEnd: "Toque para acabar: después cada toque vale para ahora",
    copyingLeft: (writer, time) => "Copiando de la hoja de papel"
      + `${writer ? ` de ${writer}` : ""}, última ${time}: ¿seguir?`,
    copyingOn: "Seguir copiando", copyingNow: "Terminar: registrar al momento",
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
    correct: "Corrección: solo se firma lo que cambia. La entrada anterior sigue a "
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
    taken: "Ya está en otro lugar.",
    scan: "Leer etiqueta",
    label: "Etiqueta o parte", unknown: "no está en el registro",
    wrong: (found, wanted) => `esto es: ${found}; se pide: ${wanted}`,
    nothing: (typed) => `Nada de esta clase lleva «${typed}» en su nombre.`,
    expired: (day) => `caducado desde ${day}`,
    uncalibrated: (day) => `sin calibración válida desde ${day}`,
    overused: (uses, most) => `usado en otros ${uses}, permitido ${most}`,
    used: (uses, most) => `usado ${uses} de ${most} veces, que sepa este teléfono`,
    foreign: (label) => `${label} no es una etiqueta del registro de esta obra. Léala `
      + `de `
      + "nuevo o pregunte en almacén.",
    refused: (label, why) => `${label}: ${why}. Elija otro.`,
  },
  point: {
    title: "Puerta", rests: "Evidencias", call: "Llamar",
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
    unspoken: "Nunca de palabra.", whyFirst: "Elija un motivo o escríbalo.",
    life: (minutes) => `Vale ${minutes} min.`,
    within: "Dentro de los límites", unfold: "Todas las lecturas",
    fold: "Mostrar menos", good: (count) => `${count} bien`,
    nothing: "nada registrado", shut: "Esta puerta no está lista:", limit: "límite",
  },
  conditions: { close: "Cerrarla" },
  spoken: { title: "Liberación de palabra", sign: "Firmar lo dicho" },
  crew: { title: "Cuadrilla" },
  minutes: {
    go: "ADELANTE", late: "TARDE", start: (time) => `empezar antes de ${time}`,
    expected: "previsto",
    inHand: "min de margen", spare: (span) => `${span} de margen`,
    notKnown: "hora no conocida: cuenta como agotada",
    behind: "min de retraso", over: "TIEMPO AGOTADO",
    writtenLater: "Escrito más tarde",
    endMissing: (title) => `Falta anotar el final: ${title}. Hasta entonces cuenta `
      + "como pasado.",
    begunNow: "Si se empieza ahora",
    outlasts: (title) => "Ese intento terminó, este tiempo corre hasta que conste: "
      + `${title}.`,
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
    history: "Todas las entradas", discard: "Descartar la línea",
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
    key_added: "llave añadida",
    acknowledged: "alarma vista", note: "nota", registered: "inscrito",
    plan_signed: "plan firmado", sheet_issued: "hoja emitida",
    enrolled: "persona añadida", key_retired: "llave retirada",
    key_revoked: "llave revocada",
  },
  nonconformance: { raise: "Avisar de una no conformidad" },
  stop: {
    title: "ALTO: ¿por qué?", recorded: "Alto registrado", safe: "ASEGURADO",
    note: "Toque un motivo: se registra al momento.", which: "ALTO ¿dónde?",
    nowhere: "La hoja de esto no está en este teléfono: no puede registrar el alto. "
      + "Pare el trabajo de viva voz y con la bocina de la obra, y haga que se "
      + "registre en otro teléfono.",
    unsigned: "No hay turno: haga esto primero, luego entre para registrarlo.",
    since: (time) => `parado ${time}`,
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
      + "entradas están a salvo. Cada persona necesita un código nuevo.",
    people: "Personas y turnos", device: "Teléfono", roads: "Otros teléfonos",
    language: "Idioma", away: "Esto aún no está en el teléfono: necesita red una vez.",
  },
  reasons: {
    correction: ["Mal leído", "Tecla equivocada", "Línea equivocada"],
    refusal: ["Lectura fuera de límites", "Falta una lectura", "No se vio en la cara"],
    anyway: ["No se advirtió a tiempo", "La carga o el adhesivo no dejó esperar",
      "Liberado en papel"],
    call_withdrawn: ["Llamado por error", "No está listo"],
    discarded: ["Mal mezclado", "Envase equivocado", "Registrado por error"],
  },
  rules,
};
