// What a form of a later screen still lacks, said where it is seen.

import { fill } from "./parts.js";

/** Say what is missing, where it is seen; "" takes it away. */
export function sayMissing(note, said) {
  fill(note, said);
  if (said) note.scrollIntoView({ block: "nearest" });
}
