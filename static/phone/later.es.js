// Las palabras de las pantallas que vienen después de la primera, en español.

import { deciding } from "./deciding.es.js";

export const words = {
  ...deciding,
  people: {
    bridge: "Al puente", gate: "Volver a la puerta", keys: "Todas mis llaves",
    until: (time) => `hasta ${time}`,
    joined: (name) => `${name} ya está en este teléfono.`,
    title: "Personas en este teléfono", add: "Añadir otra persona",
    end: "Terminar turno", recording: "registra ahora",
    hint: "Quien empieza un turno registra con un toque hasta que termina. Las "
      + "liberaciones y las decisiones siempre piden un PIN.",
    unknown: "la oficina aún no la nombra",
  },
  enrol: {
    own: "Desde su propio teléfono", myOwn: "Desde mi propio teléfono",
    scan: "Leer el código", title: "Persona nueva",
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
    ended: {
      retired: (name) => `La oficina retiró la llave de ${name} en este teléfono. Lo `
        + "que firmó vale. Para seguir aquí, un código nuevo y un PIN nuevo.",
      revoked: (name) => `La oficina revocó la llave de ${name} en este teléfono.`,
    },
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
  office: {
    title: "Llevado a la oficina", waiting: "Espera aquí", faulty: "No aceptado",
    others: "De otros teléfonos, no creído",
    othersHint: "No tiene que ver con lo registrado aquí. Llegó por código o archivo y "
      + "en este teléfono no cuenta.",
    fromOther: "de otro teléfono", from: (device) => `de ${device}`,
    none: "Nada espera. La oficina tiene todo lo registrado aquí.",
    reached: (time) => `Oficina alcanzada ${time}`,
    unreached: "La oficina no responde. Nada se pierde: todo queda aquí y sale solo.",
    tryNow: "Probar ahora", stranger: "La oficina no conoce este teléfono: se "
      + "recuperó de una copia anterior, u otro teléfono firmó por este. Mientras "
      + "alguien anota, el teléfono se acredita solo; si no, con un PIN; luego todo "
      + "sale. Si no sirve, dé de alta a alguien con un código nuevo.",
    unproven: "Su propio teléfono firmó por este; la oficina aún no lo sabe. Empiece "
      + "su turno o acredítese con PIN: entonces llegan las hojas.",
    nobody: "Todavía no hay nadie en este teléfono.", prove: "Acreditarse con PIN",
    ended: "Lo que solo sabía este teléfono queda apartado en la oficina. Anótelo otra "
      + "vez en otro teléfono, como copiado.",
    hole: "A la lista de la oficina le falta algo. Avise a la oficina antes de fiarse "
      + "de entradas de otros teléfonos.",
    history: "La historia de la oficina no contiene lo que este teléfono vio antes. "
      + "Avise a la oficina.",
    restored: "La oficina empezó de nuevo con una copia a la que le falta lo que este "
      + "teléfono vio. Este teléfono vuelve a ofrecerlo todo. Avise a la oficina.",
    receipt: "El recibo de la oficina no es válido. En este teléfono queda todo. Avise "
      + "a la oficina.",
    alarmTold: "La oficina está avisada", row: (seq) => `n.º\u00a0${seq}`,
    photos: (count) => (count === 1 ? "1 foto" : `${count} fotos`),
    why: {
      unreadable: "allí no se puede leer; queda aquí", signature: "la firma no vale",
      bad_signature: "apartado: la firma no vale",
      unknown_key: "apartado: la oficina aún no conoce esta llave",
      other_device: "apartado: la llave es de otro teléfono",
      other_site: "apartado: es de otra obra",
      revoked_key: "apartado: esta llave fue revocada",
      revoked_device: "apartado: este teléfono fue revocado",
    },
    whyOther: {
      unreadable: "no se puede leer", other_site: "de otra obra",
      bad_signature: "la firma no vale: avise a la oficina",
      unknown_key: "firmado por alguien que este teléfono aún no conoce",
      other_device: "firmado en otro teléfono que el de su llave: avise a la oficina",
      revoked_key: "firmado con una llave que la oficina terminó",
    },
  },
  sighting: {
    never: "Nunca se ha oído nada del otro brazo.",
    at: (time, minutes) => `Otro brazo, oído o visto por última vez `
      + `${time}; vale ${minutes} min.`,
    look: "He mirado al otro lado", sign: "FIRMAR",
    sure: "Usted dice: visto ahora mismo, allí no cuelga nada que no esté registrado "
      + "aquí. Un izado puede apoyarse en ello.",
    seen: "Mirado al otro lado: no cuelga nada que no esté registrado",
  },
  hanging: {
    looked: "mirado antes del punto de parada",
    unlooked: "no mirado antes del punto de parada",
    elsewhere: (where) => `lo último en otro teléfono: ${where}`,
    out: "fuera de uso",
    outSince: (time) => `fuera de uso desde ${time}`,
    named: (title, time) => `nombrado en ${title}, ${time}`,
    stopped: (time, title) => `En uso al pulsar STOP ${time}: ${title}`,
    there: (where, time) => `en ${where} desde ${time}, y nadie anotó que `
      + "haya vuelto",
  },
  lost: {
    unread: "no se sabe hasta que cada barra tenga su ronda",
    mean: "media", least: "mínima", cap: "máximo", headroom: "reserva",
    most: "Cada barra que queda, en su máximo",
    counted: "Fuerza contada: la última leída en el gato.",
    countedLess: (less) => `Fuerza contada: la última en el gato, menos ${less}`
      + " por el asiento de la tuerca.",
    which: "¿Qué se desecha?", record: (what) => `Perdida: ${what}`, gone: "perdida",
    recorded: (time) => `registrado ${time}`,
  },
  rests: { used: "Leído con" },
  limits: {
    awaits: (name) => `se juzga además en cuanto se elija «${name}»`,
    by: (limit, name) => `${limit} por «${name}»`,
    within: (low, high) => `de ${low} a ${high}`,
    least: (low) => `al menos ${low}`, most: (high) => `como máximo ${high}`,
    never: (cap) => `nunca más de ${cap}` },
  means: {
    fits: "conforme a lo leído", inside: "dentro", below: (by) => `${by} por debajo`,
    above: (by) => `${by} por encima`, farBelow: (by) => `MUY POR DEBAJO: ${by}`,
    farAbove: (by) => `MUY POR ENCIMA: ${by}`, capped: (by) => `SOBRE EL TOPE: ${by}`,
    ten: (figure) => `¿Un factor de diez? ${figure} estaría dentro.`,
    swapped: (figure) => `¿Cifras cambiadas? ${figure} estaría dentro.`,
    yesterday: (time) => `Más tarde que ahora: se toma como ayer, ${time}.`,
    doubt: (figure, known, time) =>
      `¿Cifras cambiadas? A las ${time}, ${known}: ${figure} estaría más cerca.`,
    ended: (point) => `Anula la liberación de ${point}`,
    caution: "Precaución", fails: "No vale hasta leer de nuevo",
    spent: (clock) => `Al guardar termina: ${clock}`,
    shuts: (gates) => `cierra ${gates}`,
  },
  elevation: {
    yard: "Sin izar", hung: "Izada, sin pegar", bonded: "Pegada",
    carried: "Peso en las barras",
  },
  minutes: {
    won: (title, time, span, limit) =>
      `${title} a las ${time}: ${span} antes de acabarse el tiempo · ${limit}`,
    tooLate: (title, time, span, limit) =>
      `${title} a las ${time}: ${span} tarde · ${limit}`,
  },
  instead: {
    fromPaper: "Del papel",
    otherLast: (time) => `Última anotación de otro teléfono: ${time}`,
    copyingLeft: (writer, time) => "Copiando de la hoja de papel"
      + `${writer ? ` de ${writer}` : ""}, última ${time}: ¿seguir?`,
    copyingOn: "Seguir copiando", copyingNow: "Terminar: registrar al momento",
    parted: (title, time) => `${title} ${time}. Antes se decide cómo sigue.`,
  },
  alarm: {
    discard: "No usar: desechar, o que se decida.",
    late: "Siga mientras dure el tiempo abierto, o separe y limpie: decide el "
      + "ingeniero.",
    apart: "Junta abierta: pare, separe y limpie mientras se separe limpia. Deciden el "
      + "procedimiento y el ingeniero.",
    unclosed: "Junta abierta y nada bajo fuerza, según lo registrado: no la cierre. "
      + "Quite lo que aún salga. Deciden el procedimiento y el ingeniero.",
    closed: "Junta cerrada: mantenga la fuerza. Si se sigue tesando lo deciden el "
      + "procedimiento y el ingeniero.",
    silent: "Ningún teléfono suena bloqueado. La puerta aguanta; la bocina es de la "
      + "obra.",
  },
  line: {
    meanwhile: "Registrado entretanto",
    early: (what, time) => `Antes que «${what}», ${time}: una de estas horas `
      + "no es cierta.",
    thrown: (began, ended) => `Descartado en «${began}», pero consta en `
      + `«${ended}»: hay que decidir qué se hace con ello.`,
    retake: "Leer de nuevo", correct: "Corregir", reason: "Motivo",
    history: "Todas las entradas",
    settles: "Corrija o lea de nuevo: con eso queda resuelto.",
    takesAway: (count) => (count > 2 ? `quita las ${count} lecturas`
      : "quita las dos lecturas"),
    hour: (time) => `Sigue contando desde ${time}: a más tarde solo se corrige un `
      + "descuido, por su autor, antes de registrar otra cosa.",
    discard: "Descartar",
  },
  phone: {
    register: "Registro",
    sun: "Sol", night: "Noche", left: "Mano izquierda", right: "Mano derecha",
    version: "Versión", update: "Poner la versión nueva",
    updateHint: "La oficina tiene una versión nueva. Le espera.",
    updating: "Se trae entera …",
    updateFailed: "No se pudo traer entera. Sigue esta versión.",
    updateLater: "La oficina tiene una versión nueva. Entrará cuando no corra ningún "
      + "tiempo.",
    storage: "Memoria", kept: "guardada para siempre",
    mayGo: "el navegador puede borrarla: instale esta página como aplicación",
    ask: "Guardar para siempre", keysLost: "Este navegador perdió sus llaves. Las "
      + "entradas están a salvo. Cada persona necesita un código nuevo.",
    people: "Personas y turnos", device: "Teléfono",
  },
};
