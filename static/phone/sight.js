// What a form asks stays in sight, and in a race its caution with it.

import { reminders } from "./reminders.js";

/** The minutes in hand above, and what lies between. */
const MARGIN_PX = 60;

/** Bring what is asked into sight. */
export function intoSight(element, form) {
  const asked = element.querySelector(".field.active");
  if (!asked) return;
  makeRoom(form, element, asked);
  // Where what it means takes the room, its name has what is left.
  const isLong = document.querySelector(".means.long");
  asked.scrollIntoView({ block: isLong ? "start" : "nearest" });
  // Where not all has room, its name and what is typed have.
  const below = asked.getBoundingClientRect().bottom
    - element.getBoundingClientRect().bottom;
  if (below > 0 && !isLong) element.scrollTop += below;
  import("./uncover.js").then((one) => one.uncover(element, asked), () => {});
}

// Where caution and question have no room, the caution's first sentence has.
function makeRoom(form, element, asked) {
  if (form.fitted) return;
  form.fitted = true;
  const said = element.querySelector("p.raced");
  if (!said) return;
  form.shows.caution = said.offsetHeight + MARGIN_PX
    < element.clientHeight - asked.offsetHeight;
  if (!form.shows.caution) said.replaceWith(reminders(form)[0]);
}
