// What a gang would tap for a minute, told to the phone's own journal: each act is made
// as its form makes it, signed and saved; only the screens are left out. Runs in the
// page, where tests hand it over as text.

async function tell({ acts }) {
  const { model, openSubject } = await import("/phone/screens/model.js");
  // A view kept from before must become the true state first.
  if (!model.open.scene) await openSubject(model.open.subject);
  const told = [];
  for (const act of acts) {
    if (act.until) told.push(...await goOn(act));
    else if (act.release) await release(act);
    else if (act.sign) await sign(act);
    else told.push(await record(act));
  }
  return told;
}

// Record what is next until a gate, or until a step of that name, is next.
async function goOn({ until, figures }) {
  const { model } = await import("/phone/screens/model.js");
  const { currentOf } = await import("/phone/screens/column.js");
  const { nextActs } = await import("/phone/screens/minutes.js");
  const told = [];
  for (let left = 80; left > 0; left -= 1) {
    const { sheet, state, asOf } = model.open;
    const began = Object.entries(state.steps).some(([id, step]) =>
      sheet.steps[id].class === "raced" && Object.keys(step.lines).length > 0);
    const [act] = began ? nextActs(model.open, asOf) : [];
    const id = act?.step ?? currentOf(model.open);
    if (id === undefined || sheet.points[id] || id === until) return told;
    told.push(await record({ step: id, line: act?.line, figures }));
  }
  const steps = told.map(({ step, line }) => `${step}/${line}`);
  throw new Error(`no gate was ever next after ${steps.join(" ")}`);
}

async function record({ step, line, values = {}, figures = {}, at }) {
  const { model, save } = await import("/phone/screens/model.js");
  const { answersFor, draftOf } = await import("/phone/screens/draft.js");
  const { targetOf } = await import("/phone/screens/reading.js");
  const { nextLine } = await import("/phone/screens/turns.js");
  const open = model.open;
  line ??= open.sheet.steps[step].series ? "" : nextLine(open.sheet, open.state, step);
  const form = { open, step, line, entries: answersFor(open, step, line) };
  for (const entry of form.entries) {
    const { field } = entry;
    if (field && values[field.id] !== undefined) entry.value = values[field.id];
    else if (field?.need && entry.value === undefined) {
      entry.value = targetOf(form, field)
        ?? answer(open, field, figures, form.entries.map((one) => one.value));
    }
    if (entry.photos) entry.hashes = [await photo()];
    if (entry.when) entry.value = at;
  }
  const saved = await save(draftOf(form), model.shift);
  return { step, line, values: saved.values, id: saved.id };
}

// The first choice is the good one; a figure is the one named for its label, else 2.
function answer(open, field, figures, taken) {
  if (field.kind === "choice") return field.options[0].value;
  if (field.kind === "text") return "as planned";
  if (field.kind === "item") {
    const known = { ...open.sheet.items, ...open.scene.view.standing.items };
    return Object.keys(known).find((id) => known[id].kind === field.items
      && !(known[id].expires < Date.now()) && !(field.once && taken.includes(id)));
  }
  const named = Object.keys(figures).find((part) => field.label.includes(part));
  return Math.round((figures[named] ?? 2) * 10 ** (field.places ?? 0));
}

async function photo() {
  const { keepPhoto } = await import("/phone/device/photos.js");
  const canvas = new OffscreenCanvas(64, 48);
  canvas.getContext("2d").fillRect(0, 0, 64, 48);
  return keepPhoto(await canvas.convertToBlob({ type: "image/jpeg" }));
}

// The gate that is next, by somebody's PIN.
async function release({ release: person, pin }) {
  const { model, save } = await import("/phone/screens/model.js");
  const { currentOf } = await import("/phone/screens/column.js");
  const { unlock } = await import("/phone/device/keys.js");
  const point = currentOf(model.open);
  const row = model.here.find((one) => one.person === person);
  await save({ kind: "release", point }, await unlock(row.key, pin));
}

// Any other entry: by somebody's PIN, or by whoever's shift it is.
async function sign({ sign: draft, person, pin }) {
  const { model, save } = await import("/phone/screens/model.js");
  const { unlock } = await import("/phone/device/keys.js");
  const row = model.here.find((one) => one.person === person);
  await save(draft, person ? await unlock(row.key, pin) : model.shift);
}
