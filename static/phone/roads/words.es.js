// Textos de las pantallas que llevan entradas de teléfono a teléfono y cuidan llaves.

export const words = {
  roads: {
    title: "De teléfono a teléfono",
    hint: "Sin red, las entradas van de la pantalla de un teléfono a la cámara de "
      + "otro, o como archivo. Se comprueban igual que si vinieran de la oficina.",
    show: "Mostrar a otro teléfono", scan: "Leer otro teléfono",
    showNew: (count) => (count === 0 ? "Nada nuevo aquí"
      : `Mostrar lo nuevo de aquí: ${count}`),
    showLast: (what) => `Mostrar solo lo último: ${what}`,
    showAll: (name) => `Mostrar todo de ${name} y quién firmó`,
    showRoster: "Mostrar quién es quién",
    toFile: "A un archivo", fromFile: "De un archivo", reading: "Leyendo …",
    nothing: "No hay nada que mostrar.",
    tooMuch: "Demasiado para la pantalla: llévelo como archivo.",
    codeOf: (count) => `Código de ${count} entradas`,
    showHint: (count) => `${count} ${count === 1 ? "entrada" : "entradas"}. En el otro `
      + "teléfono: Más, Otros teléfonos, Leer; luego póngalo encima.",
    answerHint: "La respuesta. En el otro teléfono: Leer la respuesta; luego póngalo "
      + "encima.",
    oneCode: "Todo está en este único código.",
    frame: (place, of) => `${place} de ${of}`,
    hold: "Parar", before: "Uno atrás", after: "Uno adelante",
    camera: "Lo que ve la cámara", aim: "Apunte la cámara al código.",
    pictures: "De imágenes",
    noCamera: "No se puede usar la cámara. Fotografíe el código con la cámara del "
      + "teléfono y elija la foto aquí.",
    noReader: "El lector de códigos aún no está en este teléfono. Llega con la próxima "
      + "red; hasta entonces lleve las entradas como archivo.",
    noCode: (name) => `Ningún código en ${name}.`,
    have: (have, of, missing) => (missing
      ? `${have} de ${of} leídos. Faltan: ${missing}`
      : `Los ${of} leídos.`),
    faults: {
      not_a_frame: "Este código está dañado o cortado. Léalo otra vez.",
      damaged: "Los códigos no cuadran. Léalos todos otra vez.",
      too_large: "Es más de lo que un teléfono toma de una vez.",
      unreadable: "Esto no son entradas, o está dañado.",
      other_site: "Esto es de otra obra. No se tomó nada.",
    },
    labelHere: "Es la etiqueta de un artículo. Léala en el formulario que la pide.",
    noSite: "Primero ponga a alguien en este teléfono, con un código de la oficina.",
    again: "Leer otro", open: (name) => `Abrir ${name}`, received: "Tomado",
    became: {
      fresh: (count) => `${count} nuevas, las firmas valen`,
      known: (count) => `${count} ya estaban aquí`,
      apart: (count) => `${count} aparte: firmadas por alguien que este teléfono aún `
        + "no conoce. Que el otro teléfono muestre quién es quién, o busque red.",
      refused: (count) => `${count} no creídas: la firma no vale o no se pueden leer. `
        + "Dígalo a la oficina.",
    },
    kinds: {
      release: "liberación", refusal: "rechazo", called: "llamada", done: "lectura",
      correction: "corrección", disposition: "decisión",
    },
  },
  keys: {
    title: "Llaves", own: "Mis llaves",
    ownHint: "Cada llave que firma con este nombre. ¿Una no es suya, o está en un "
      + "teléfono que ya no tiene? Dígalo enseguida a la oficina: puede terminarla.",
    thisPhone: "en este teléfono", since: (day) => `desde ${day}`,
    byOffice: "dada de alta por la oficina",
    addedBy: (key) => `añadida con la llave ${key}`,
    states: { active: "en uso", retired: "retirada: sus entradas valen",
      revoked: "revocada" },
    sign: "Ponerme en otro teléfono",
    aim: "En el otro teléfono: Más, Personas y turnos, Añadir otra persona, "
      + "Desde su propio teléfono. Luego apunte la cámara a su código.",
    empty: "El otro teléfono está vacío", siteCode: "Código de esta obra",
    siteHint: "Léalo en el teléfono vacío, en Desde mi propio teléfono. Elija allí un "
      + "PIN; luego apunte este teléfono al código que aparece.",
    siteNext: "Leer su código",
    aimSite: "En su propio teléfono: Más, Personas y turnos, Todas mis llaves, El "
      + "otro teléfono está vacío. Apunte la cámara a su código. Este teléfono llega "
      + "solo a la oficina más tarde; se anota cuando haya traído las hojas.",
    askHint: "Con su propio teléfono a mano no hace falta código de la oficina. Elija "
      + "un PIN para este teléfono; el suyo firma por él.",
    pin: "Elija un PIN de seis cifras", again: "El mismo PIN otra vez",
    differ: "No eran iguales. Elija otra vez.",
    asking: "Léalo con su propio teléfono: allí, Ponerme en otro teléfono. Mostrará "
      + "una respuesta; léala aquí.",
    askingEmpty: "Léalo con su propio teléfono: allí, Leer su código. Mostrará una "
      + "respuesta; léala aquí.",
    answer: "Leer la respuesta",
    broken: "Este navegador no puede guardar una llave con seguridad.",
    signCaution: "Quien tenga el otro teléfono y sepa su PIN firmará con su nombre. "
      + "Siga solo si acaba de elegir ese PIN usted mismo.",
    asks: (device) => `${device} pide una llave a su nombre. El otro teléfono muestra `
      + "los mismos signos:",
    mine: "Sí, es mía",
    faults: {
      damaged: "Este código está dañado o cortado. Léalo otra vez.",
      foreign_site: "Este teléfono es de otra obra. Aquí no se puede firmar por él.",
    },
  },
  marks: {
    aim: "Apunte la cámara a la etiqueta.", cancel: "Cancelar",
    foreign_site: "Esta etiqueta es de otra obra. No la use aquí.",
    damaged: "Esta etiqueta está dañada o cambiada. Léala otra vez, o elija de la "
      + "lista y avise al almacén.",
    stranger: "No es una etiqueta de obra. Busque la que lleva el nombre de la obra.",
    nowhere: (id) => `${id} aún no tiene hoja en este teléfono.`,
    wrong: "Esta marca nombra una parte del puente, no un artículo.",
  },
};
