// Textos del registro: lo que hay en la obra y quién lo inscribe, en español.

export const words = {
  register: {
    enter: "Inscribir uno nuevo",
    title: "Registro", find: "Etiqueta, certificado o clase",
    none: "Aún no hay nada en el registro.",
    nothing: (typed) => `Nada en el registro contiene «${typed}».`,
    count: (all) => (all === 1 ? "1 elemento" : `${all} elementos`),
    over: (count) => `${count} no apto${count === 1 ? "" : "s"}`,
    good: (day) => `vale hasta ${day}`, endless: "sin último día",
    expired: (day) => `vencido, último día ${day}`,
    who: (roles) => `Inscriben y corrigen: ${roles}, en su propio turno.`,
    start: "Empezar un turno de almacén", new: "Nuevo elemento",
    renew: "Nuevo certificado", correct: "Corregir el certificado",
    label: "Etiqueta", kind: "Clase", certificate: "Certificado",
    lastDay: "Último día", id: "Identificador",
    earlier: "Certificados anteriores",
    by: (name, time) => `Inscrito por ${name}, ${time}`, byOffice: "la oficina",
    saved: (time) => `Guardado ${time}. En este teléfono ya se puede elegir.`,
    gone: "Este teléfono no conoce ese elemento.",
    certified: "Certificado desde", to: (high) => `hasta ${high}`,
  },
  entering: {
    dayForm: "DDMM o DDMMAA", noDay: "Sin último día",
    number: (id) => (id === "uses_max" ? "Usos permitidos" : id.replaceAll("_", " ")),
    points: "Calibración",
    change: "cambiar los puntos",
    anew: "escribir de nuevo los puntos", before: "como estaba",
    pressure: (place) => `Punto ${place}: presión`,
    force: (place) => `Punto ${place}: fuerza`, scan: "Leer la etiqueta",
    scanTitle: "Apunte la cámara al código del elemento.",
    more: "otro más, si lo hay",
    renewing: "Un certificado nuevo: lo leído con el anterior queda como está.",
    correcting: "Una corrección: lo leído con el certificado erróneo se comunica, una "
      + "vez por cada junta que lo usó.",
    over: "Ese día ya pasó: nadie puede elegirlo antes de una puerta.",
    fault: {
      label: "una etiqueta, como la gente de la obra lo conoce",
      long: (most) => `como máximo ${most} signos`,
      taken: (label) => `${label} ya está en el registro: corrija ese, o escriba una `
        + "etiqueta que los distinga",
      certificate: "cómo se llama el certificado",
      day: "un día como DDMM o DDMMAA", noSuchDay: "ese día no existe",
      pair: "una presión y su fuerza van juntas",
      rising: "no supera el punto anterior", few: "al menos dos puntos",
      fit: (percent, most) => `Los puntos se apartan ${percent} % de una recta, se `
        + `permite ${most} %: busque una cifra errónea.`,
      printed: "Esta etiqueta está en el registro de la oficina, aún no en este "
        + "teléfono: contacte con la oficina o tómela de otro teléfono.",
      foreign: "Esta etiqueta es de otra obra o está dañada.",
      same: "Nada difiere del certificado que ya está.",
      unsayable: "Lo que indica el certificado de esta clase no está en los archivos "
        + "de la obra: que la oficina lo inscriba allí.",
      moved: "Entretanto alguien cambió este elemento: mírelo primero.",
    },
    role: (name) => `${name} no puede inscribir elementos.`,
    reasons: ["Mal leído del certificado", "Certificado de otro elemento",
      "El fabricante envió un certificado corregido"],
  },
};
