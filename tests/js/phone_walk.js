// Goes to a screen of the phone and does there what a person would, all in the page, so
// that a hundred states are seen in a minute. Handed over as text; nothing of it is in
// the product.

const walk = {
  // Show a screen anew in a language.
  async show(route, language) {
    const { speak } = await import("/phone/screens/words.js");
    // English is laid anew only over another language: words grow from as they are.
    if (language === "longer") await speak("de");
    await speak(language === "longer" ? "en" : language);
    if (language === "longer") await grow();
    document.body.dataset.screen = "";
    if (location.hash === `#${route}`) dispatchEvent(new HashChangeEvent("hashchange"));
    else location.hash = route;
    await until(() => document.body.dataset.screen
      && document.getElementById("screen").childElementCount
        + document.getElementById("dock").childElementCount > 0);
    await frames(4);
  },

  // Colours need no drawing anew: they hang on one attribute.
  async theme(name) {
    const { model } = await import("/phone/screens/model.js");
    model.settings.theme = name;
    document.documentElement.dataset.theme = name;
    await frames(1);
  },

  // Let the phone's clock be some minutes further on than it is.
  async ahead(minutes) {
    Date.now = () => REAL_NOW() + minutes * 60_000;
    const { engine } = await import("/phone/screens/model.js");
    await (await engine()).refresh();
    dispatchEvent(new HashChangeEvent("hashchange"));
    await frames(4);
  },
};

const REAL_NOW = Date.now.bind(Date);
const PATIENCE_MS = 60_000;

async function until(true_) {
  const end = performance.now() + PATIENCE_MS;
  while (performance.now() < end) {
    const found = true_();
    if (found) return found;
    await frames(1);
  }
  throw new Error(`never true: ${true_} at ${location.hash}`);
}

async function frames(count) {
  for (let left = count; left > 0; left -= 1) {
    await new Promise(requestAnimationFrame);
  }
}

function seen(selector) {
  return until(() => [...document.querySelectorAll(selector)]
    .find((one) => one.checkVisibility() || one.type === "file"));
}

async function tap(selector) {
  (await seen(selector)).click();
  await frames(2);
}

async function type(selector, text) {
  const box = await seen(selector);
  box.value = text;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  await frames(2);
}

// A figure on the keys, in place of what stands there.
async function figure(text) {
  const names = { ",": ".", "-": "minus" };
  // Keys that came just now take no second tap of what led to them.
  await new Promise((done) => setTimeout(done, 320));
  for (let left = 8; left > 0; left -= 1) await tap('#dock [data-key="erase"]');
  for (const key of text) await tap(`#dock [data-key="${names[key] ?? key}"]`);
}

async function pin(digits) {
  for (const digit of digits) await tap(`.pinpad [data-key="${digit}"]:enabled`);
}

// Give files to a screen that asks for some.
async function give(selector, ...blobs) {
  const input = await seen(selector);
  const held = new DataTransfer();
  for (const blob of blobs) held.items.add(new File([blob], "a", { type: blob.type }));
  input.files = held.files;
  input.dispatchEvent(new Event("change"));
}

// A file of all this phone holds of a subject, spoilt if wished.
async function parcel(subject, spoilt = false) {
  const { everythingOf } = await import("/phone/device/roads/pick.js");
  const { parcelText } = await import("/phone/device/roads/parcel.js");
  const { model } = await import("/phone/screens/model.js");
  const rows = (await everythingOf(subject)).map((row) => (spoilt
    ? { ...row, bytes: row.bytes.replace(/"at":\d/, '"at":2') } : row));
  return new Blob([parcelText(model.identity.site, rows)],
    { type: "application/json" });
}

// Pictures of the codes that carry a subject's entries, as another phone shows them.
async function codesOf(subject) {
  const { framesOf } = await import("/phone/device/roads/frames.js");
  const { packed } = await import("/phone/device/roads/parcel.js");
  const { everythingOf } = await import("/phone/device/roads/pick.js");
  const { model } = await import("/phone/screens/model.js");
  const rows = await everythingOf(subject);
  const frames = await framesOf(await packed(model.identity.site, rows));
  return Promise.all(frames.map((frame) => picture(frame)));
}

async function picture(text, scale = 6) {
  const { generate, mode } = await import("/phone/vendor/lean-qr.js");
  const drawn = new OffscreenCanvas(1, 1);
  const written = mode.alphaNumeric.test(text) ? mode.alphaNumeric(text) : text;
  generate(written).toCanvas(drawn, { on: [0, 0, 0], off: [255, 255, 255], pad: 4 });
  const large = new OffscreenCanvas(drawn.width * scale, drawn.height * scale);
  const onto = large.getContext("2d");
  onto.imageSmoothingEnabled = false;
  onto.drawImage(drawn, 0, 0, large.width, large.height);
  return large.convertToBlob({ type: "image/png" });
}
