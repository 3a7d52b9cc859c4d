// The caution that stays in a race never covers what is asked: where both have no room,
// it goes with what it stands before.

/** Bring what is asked from under what stays. */
export function uncover(element, asked) {
  const said = element.querySelector(":scope > .raced");
  if (!said) return;
  said.style.position = "";
  const covered = () =>
    said.getBoundingClientRect().bottom - asked.getBoundingClientRect().top;
  if (covered() > 0) element.scrollTop -= covered();
  if (asked.getBoundingClientRect().bottom
    > element.getBoundingClientRect().bottom + 1) {
    said.style.position = "static";
    asked.scrollIntoView({ block: "nearest" });
  }
}
