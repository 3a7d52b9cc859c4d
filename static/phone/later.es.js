// Las palabras de las pantallas que vienen después de la primera, en español.

const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

export const words = {
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
  reviews: {
    waiting: (count) => `Firmado. La misma revisión espera aún: ${count}`,
    next: "SIGUIENTE", back: "Volver a la junta",
  },
  hanging: {
    named: (title, time) => `nombrado en ${title}, ${time}`,
    stopped: (time, title) => `En uso al pulsar STOP ${time}: ${title}`,
    there: (where, time) => `en ${where} desde ${time}, y nadie anotó que `
      + "haya vuelto",
  },
  lost: {
    mean: "media", least: "mínima", cap: "máximo", headroom: "reserva",
    most: "Cada barra que queda, en su máximo",
    counted: "Fuerza contada: la última leída en el gato.",
    countedLess: (less) => `Fuerza contada: la última en el gato, menos ${less}`
      + " por el asiento de la tuerca.",
    recorded: (time) => `registrado ${time}`,
  },
  rests: { used: "Leído con" },
  limits: { within: (low, high) => `de ${low} a ${high}`,
    least: (low) => `al menos ${low}`, most: (high) => `como máximo ${high}`,
    never: (cap) => `nunca más de ${cap}` },
  means: {
    fits: "conforme a lo leído", inside: "dentro", below: (by) => `${by} por debajo`,
    above: (by) => `${by} por encima`, farBelow: (by) => `MUY POR DEBAJO: ${by}`,
    farAbove: (by) => `MUY POR ENCIMA: ${by}`, capped: (by) => `SOBRE EL TOPE: ${by}`,
    ten: (figure) => `¿Un factor de diez? ${figure} estaría dentro.`,
    swapped: (figure) => `¿Cifras cambiadas? ${figure} estaría dentro.`,
    caution: "Precaución", fails: "No vale hasta leer de nuevo",
    spent: (clock) => `Al guardar termina: ${clock}`,
    shuts: (gates) => `cierra ${gates}`,
  },
  plan: {
    title: "Plan por firmar", none: "Ningún plan espera una firma.",
    yours: (part) => `Un plan espera su firma: ${part}`,
    waits: (part) => `Un plan espera firmas: ${part}`,
    parts: { prepared: "preparado", checked: "revisado", approved: "aprobado" },
    named: (title, revision) => `${title}, revisión ${revision}`,
    sheets: (all, fresh) => `${all} hojas, ${fresh} nuevas o cambiadas`,
    stays: (count) => `${count} ya empezadas: ahí sigue la hoja en uso`,
    kind: ({ title, sheets, steps, points }) => `${title}: `
      + [many(sheets, "hoja", "hojas"), many(steps, "paso", "pasos"),
        many(points, "punto", "puntos")].join(", "),
    open: (who) => `todavía no: ${who}`, sign: (part) => `Firmar como ${part}`,
    hold: "Las hojas en curso siguen como están hasta que los tres hayan firmado.",
    read: "Léalo en la oficina, en Plan, antes de firmar.",
  },
  conditions: {
    title: "Condiciones", before: (name) => `a cerrar antes de: ${name}`,
    how: "Qué se hizo", ask: "Liberar con puntos abiertos",
    what: "Qué queda por hacer", which: "A cerrar antes de", add: "Una más",
    first: "Diga qué hay que hacer y elija antes de qué.",
    howFirst: "Diga qué se hizo.",
  },
  spoken: {
    said_by: "Dicho por", heard_by: "Oído por una segunda persona",
    nobody: "Nadie puede liberar esto ahora:",
    back: "Palabras, releídas", words: "Palabra por palabra", record: "REGISTRAR",
    first: "Elija quién lo dijo y quién lo oyó, y escriba las palabras.",
    caution: "Relea las palabras antes de escribirlas. Hay que firmarlas después, y se "
      + "imprimen como dichas de palabra.",
  },
  crew: {
    declare: "Declarar", first: "Elija quiénes son.", already: "Ya hicieron una parte:",
    caution: "Quien se declara no puede liberar esto, y queda declarado.",
  },
  nonconformance: {
    title: "No conformidad", propose: "Proponer", dispose: "DECIDIR",
    from: "Empezar de nuevo en", close: "Cerrarla", verdicts: {
      use_as_is: "Usar como está", repair: "Reparación", rework: "Reproceso",
      reject: "Rechazar",
    },
    who: "Decide el proyectista o el ingeniero de la propiedad; el ingeniero del "
      + "contratista propone.",
    take: "Tomarlo tal cual", shutsNone: "Ya no cierra ninguna puerta que falte.",
    blocks: "Cierra", what: "Qué está mal", why: "Dígalo primero en pocas palabras.",
    none: "Aquí no se ha avisado de ninguna.",
    several: (count) => `${count} juntas`, some: "decidir solo algunas de ellas",
    which: "Quite con un toque lo que no se decide ahora",
    alone: "El reproceso se decide de una en una.",
    about: "De lo que se trata", stages: "Con lo que empieza una etapa",
    otherStep: (count) => `Otro paso (${count})`, others: "Los demás pasos",
    fromWhere: "Elija el paso desde el que se empieza otra vez.",
    nothingLeft: "No queda nada que decidir",
    shuts: "Cierra toda puerta que falta, hasta que se decida.",
  },
  elevation: {
    yard: "Sin izar", hung: "Izada, sin pegar", bonded: "Pegada",
    carried: "Peso en las barras",
  },
  point: {
    title: "Puerta", call: "Llamar",
    withdraw: "Retirar la llamada", release: "LIBERAR", refuse: "Rechazar",
    why: "Motivo", needs: "Liberaciones", missing: "falta", limit: "límite",
    acts: { hold: "LIBERAR", witness: "LIBERAR", review: "VISAR",
      surveillance: "FIRMAR" },
    classes: { hold: "punto de parada", witness: "punto de presencia",
      review: "revisión del registro", surveillance: "vigilancia" },
    withConditions: "Liberar con condiciones", notice: "Aviso recibido",
    givenBy: (name, time) => `${name}, ${time}`, unspoken: "Nunca de palabra.",
    whyFirst: "Elija un motivo o escríbalo.", shut: "Esta puerta no está lista:",
    life: (minutes) => `Vale ${minutes} min.`,
    rests: "Evidencias", nothing: "nada registrado", within: "Dentro de los límites",
    unfold: "Todas las lecturas", fold: "Mostrar menos",
    good: (count) => `${count} bien`,
    besides: (title) => `También cerrada por: ${title}`,
    someSigned: (given, all) => `${given} de ${all} firmadas`,
    noNotice: "Aún no se recibió aviso. Sin él, o sin liberación, nadie sigue.",
    noticeUntil: (time, left) => "Aviso recibido. Puede pasarse sin presencia desde "
      + `${time}, en ${left}.`,
    waived: "El aviso venció sin que viniera nadie: el trabajo puede seguir. Así queda "
      + "registrado.",
    spokenBy: (said, heard, back, at, until, signed) => `dicho ${at} por ${said}, `
      + `oído por ${heard}: «${back}». `
      + (signed ? `Firmado ${signed} por ${said}` : `A firmar antes de ${until}`),
    deputyFrom: (role, time) => `o ${role}, desde ${time}`,
    deputyAfter: (role, minutes) => `o ${role}, ${minutes} min tras la llamada`,
    givenLate: (given) => `${given}, caducada`, used: "decaída tras usarse",
    signsFrom: (name, time) => `${name} puede firmar desde ${time}`,
    deputyNow: (role, time) => `o ${role}, desde ${time}`,
    lapsed: (what) => `Ya no vale, desde: ${what}`,
  },
  alarm: {
    silent: "Ningún teléfono suena bloqueado. La puerta aguanta; la bocina es de la "
      + "obra.",
  },
  line: {
    early: (what, time) => `Antes que «${what}», ${time}: una de estas horas `
      + "no es cierta.",
    retake: "Leer de nuevo", correct: "Corregir", reason: "Motivo",
    history: "Todas las entradas", discard: "Descartar la línea",
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
