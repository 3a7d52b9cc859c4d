// How far each subject is, as the picture of the site is told it.

import { stagesOf } from "../../static/phone/stages.js";

export function stages(all) {
  return Object.fromEntries(stagesOf(all));
}
