// Todos los textos del teléfono en español; `rules` tiene las palabras de las reglas.
// Los términos siguen ISO 9000: no conformidad, concesión, reproceso, reparación.

import { rules } from "./rules.es.js";

export const words = {
  app: "Registro de juntas", tag: "es-ES",
  marks: {
    saved: "aquí", elsewhere: "también en otro teléfono", all: "todo en la oficina",
    waiting: (count, since) => `${count} desde ${since}`,
    unreached: "sin oficina", unheard: "aún sin noticia", alarm: "lista rota",
    ended: "dado por perdido", stranger: "allí no se conoce", unproven: "espera su PIN",
    ahead: (span) => `El reloj de este teléfono va ${span} adelantado. Corríjalo.`,
    heard: (time) => `oída ${time}`,
    zone: (own, site) => `hora ${own}, obra ${site}`,
    back: (time) => "El reloj de este teléfono se atrasó. Póngalo bien o tome otro "
      + `teléfono: hasta ${time} sus horas solo se saben por el reloj de la oficina o `
      + "por lo que vieron otros.",
    behind: (span) => `El reloj de este teléfono va ${span} atrasado. Corríjalo.`,
    endedWhy: "Aquí no llega nada nuevo y de aquí nada cuenta. Tome otro teléfono.",
  },
  bar: { back: "Atrás", stop: "ALTO", menu: "Más", site: "Obra",
    keys: "Teclas fijas", dock: "Teclas de esta pantalla" },
  people: { start: "Empezar mi turno", none: "Nadie registra todavía" },
  pin: {
    title: "PIN de", wrong: "PIN equivocado.", cancel: "Cancelar", who: "¿Quién firma?",
    typed: (count) => `${count} de 6 cifras`,
    wait: (time) => `Espere ${time} antes del próximo intento. El registro sigue.`,
    nobody: "Nadie en este teléfono puede firmar esto. Añada a alguien con un código "
      + "de la oficina.",
    working: "Abriendo …", erase: "Borrar", minus: "menos", point: "coma decimal",
  },
  site: {
    reading: "Leyendo lo guardado aquí …", title: "Obra",
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
    copied: (time) => `Copiado del papel, hecho ${time}`,
    again: "Leer de nuevo", folded: (count) => `${count} hechos`,
    attempt: (n) => `intento ${n}`,
    otherReading: (said) => `La otra lectura: ${said}`,
    reached: (title) => `Alcanzado: ${title}`,
    calledFor: (title) => `Ahora también: ${title}`,
    anyway: "Ocurrió de todos modos", of: (done, all) => `${done} de ${all}`,
    nonconformances: "No conformidades", noShift: "Empiece un turno para registrar",
    openPoint: "Mirar y decidir", saved: (time) => `Guardado ${time}`,
    unsaved: "NO GUARDADO. Inténtelo de nuevo; avise a la oficina.",
    unread: "Está firmado y guardado, pero aún no se puede mostrar: no lo registre "
      + "otra vez. Abra esta página de nuevo.",
    comesAfter: (name) => `Va después de: ${name}`,
    held: (title, time) => `${title}: hasta ${time}.`,
    ofUse: (time) => `Demasiado pronto: cuenta desde ${time}`,
    complete: "Todos los pasos están registrados.",
    method: "Mandan el procedimiento, las normas locales y el ingeniero responsable.",
  },
  form: {
    help: "Cómo se hace",
    save: "GUARDAR", next: "sigue", skip: "no está en el papel", now: "ahora",
    target: "En el valor",
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
    inTime: "Del papel: hecho antes de que venciera",
    anyway: "Esta puerta está cerrada. Lo ocurrido aún puede escribirse; será una no "
      + "conformidad.",
    none: "Nada de esta clase está en la hoja ni en el registro.",
    optional: "si se sabe", asked: "se pide aquí", writeHere: "Escriba aquí",
    correct: "Corrección: solo se firma lo que cambia. La entrada anterior sigue a "
      + "la vista.",
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
    dayPast: (day) => `su día ya pasó: ${day}`,
    uncalibrated: (day) => `sin calibración válida desde ${day}`,
    overused: (uses, most) => `usado en otros ${uses}, permitido ${most}`,
    used: (uses, most) => `usado ${uses} de ${most}`,
    counted: "Usos, que sepa este teléfono",
    foreign: (label) => `${label} no es una etiqueta del registro de esta obra. Léala `
      + `de `
      + "nuevo o pregunte en almacén.",
    refused: (label, why) => `${label}: ${why}. Elija otro.`,
  },
  point: {
    owed: (name) => `falta la firma de ${name}`,
    calledAt: (time, span) => `Llamado ${time}, espera ${span}`,
    until: (time) => `caduca ${time}`, ranOut: (time) => `caducó ${time}`,
  },
  conditions: { close: "Cerrarla" },
  minutes: {
    hottest: "Sin nueva lectura cuenta la más cálida desde",
    hottestNow: "Lea de nuevo: ahora cuenta la más cálida, desde",
    go: "ADELANTE", late: "TARDE", start: (time) => `empezar antes de ${time}`,
    expected: "previsto",
    inHand: "min de margen", spare: (span) => `${span} de margen`,
    tooLate: (span) => `${span} tarde`,
    notKnown: "hora no conocida: cuenta como agotada",
    behind: "min de retraso", over: "TIEMPO AGOTADO",
    writtenLater: "Escrito más tarde",
    endMissing: (title) => `Falta anotar el final: ${title}. Hasta entonces cuenta `
      + "como pasado.",
    begunNow: "Si se empieza ahora", guessed: "según el plan: aún sin ritmo propio",
    outlasts: (title) => "Ese intento terminó, este tiempo corre hasta que conste: "
      + `${title}.`,
    missing: "Antes de empezar",
    unknownAhead: (title, time) => `${title}: nadie lo ha registrado, según noticias `
      + `de ${time}. Puede ser así de todos modos.`,
  },
  alarm: {
    acknowledge: "Visto", high: "ACTÚE YA", medium: "Pronto", low: "Nota",
    past: (title) => `${title}: ya pasó la hora`,
    near: (title, minutes) => `${title} en ${minutes} min`,
    expiry: (title, minutes) => `${title}: la liberación caduca en ${minutes} min`,
  },
  line: { late: (time) => `Registrado tarde, ${time}` },
  entry: {
    done: "registrado", anyway: "ocurrió de todos modos", correction: "corrección",
    copied: "copiado del papel", stopped: "ALTO", made_safe: "asegurado",
    acknowledged: "alarma vista", note: "nota",
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
    title: "Este teléfono", roads: "Otros teléfonos", language: "Idioma",
    away: "Esto aún no está en el teléfono: necesita red una vez.",
  },
  reasons: {
    correction: ["Mal leído", "Tecla equivocada", "Línea equivocada"],
    anyway: ["No se advirtió a tiempo", "La carga o el adhesivo no dejó esperar",
      "Liberado en papel"],
  },
  rules,
};
