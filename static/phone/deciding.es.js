// Las palabras de las pantallas en que se firma y se decide, en español.

const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

export const deciding = {
  reviews: {
    waiting: (count) => `Firmado. La misma revisión espera aún: ${count}`,
    next: "SIGUIENTE", back: "Volver a la junta",
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
    rule: {
      ends: "Este plan pone fin a la firma de los planes: firmado por estos tres, el "
        + "siguiente vale tal como se cargue.",
      changes: "Este plan cambia quién firma los planes: tras estos tres, los que "
        + "siguen.",
      organisation: "Quien revisa y quien aprueba son de otra organización que quien "
        + "prepara.",
      person: "Tres personas, de cualquier organización.",
    },
    hold: "Las hojas en curso siguen como están hasta que los tres hayan firmado.",
    read: "Léalo en la oficina, en Plan, antes de firmar.",
  },
  conditions: {
    title: "Condiciones", before: (name) => `a cerrar antes de: ${name}`,
    open: (count, names) =>
      `${count} ${count > 1 ? "condiciones abiertas" : "condición abierta"}`
        + `, antes de: ${names}`,
    how: "Qué se hizo", ask: "Liberar con puntos abiertos",
    what: "Qué queda por hacer", which: "A cerrar antes de", add: "Una más",
    first: "Diga qué hay que hacer y elija antes de qué.",
    howFirst: "Diga qué se hizo.",
  },
  spoken: {
    title: "Liberación de palabra", sign: "Firmar lo dicho",
    said_by: "Dicho por", heard_by: "Oído por una segunda persona",
    nobody: "Nadie puede liberar esto ahora:",
    back: "Palabras, releídas", words: "Palabra por palabra", record: "REGISTRAR",
    first: "Elija quién lo dijo y quién lo oyó, y escriba las palabras.",
    caution: "Relea las palabras antes de escribirlas. Hay que firmarlas después, y se "
      + "imprimen como dichas de palabra.",
  },
  crew: {
    title: "Cuadrilla",
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
    fresh: (time, until) => `${time} (vale hasta ${until})`,
    aged: (time, most) => `${time}, ya con más de ${most}`,
    unfold: "Todas las lecturas", fold: "Mostrar menos",
    good: (count) => `${count} bien`,
    besides: (title) => `También cerrada por: ${title}`,
    again: "Leído de nuevo",
    ready: "lista",
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
    usedBefore: "Antes de eso se usó. Lo que aún falte lo necesita de nuevo.",
    lapsed: (what) => `Ya no vale, desde: ${what}`,
    overruled: (name, time) => `Liberado por ${name} ${time}. El rechazo prevalece: `
      + "con esta liberación no se sigue.",
  },
  entry: {
    discarded: "descartado", called: "llamada", call_withdrawn: "llamada retirada",
    notice: "aviso recibido", release: "liberación", spoken: "liberación de palabra",
    refusal: "rechazo", nonconformance: "no conformidad", proposal: "propuesta",
    disposition: "decisión", closing: "cierre", condition_closed: "condición cerrada",
    crew: "equipo declarado", sighting: "visto el otro brazo",
    key_added: "llave añadida", registered: "inscrito", plan_signed: "plan firmado",
    sheet_issued: "hoja emitida", enrolled: "persona añadida",
    key_retired: "llave retirada", key_revoked: "llave revocada",
  },
  reasons: {
    refusal: ["Lectura fuera de límites", "Falta una lectura", "No se vio en la cara"],
    call_withdrawn: ["Llamado por error", "No está listo"],
    discarded: ["Registrado por error"],
    discarded_kit: ["Demasiado viejo", "Mal mezclado", "No era ese",
      "Registrado por error"],
  },
};
