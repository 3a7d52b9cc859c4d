// What somebody sets on this phone, which nobody does before the first screen stands.

import { putMeta } from "../device/database.js";
import { keepLook } from "./look.js";
import { changed, model } from "./model.js";

/** Keep a setting of this phone (theme, hand). */
export async function setSetting(name, value) {
  model.settings = { ...model.settings, [name]: value };
  keepLook(model.settings);
  await putMeta("settings", model.settings);
  changed();
}
