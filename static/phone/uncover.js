// The caution that stays in a race never covers what is asked: where both have no room,
// it goes with what it stands before. Nor are words over the keys ever cut.

const followed = new WeakSet();

/** Bring what is asked from under what stays. */
export function uncover(element, asked) {
  follow(element);
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

// What was saved last stands above the questions and grows by what can be done about
// it: what is asked stays in sight.
function follow(element) {
  const told = element.querySelector(":scope > #notice");
  if (!told || followed.has(told)) return;
  followed.add(told);
  new ResizeObserver(() => {
    if (!told.isConnected) return;
    element.querySelector(".field.active")?.scrollIntoView({ block: "nearest" });
  }).observe(told);
}

/** Every word of what a figure means is read: where they need more room they have it,
 * before the picture of the band, and before the rows above. */
export function fit(element) {
  const isCut = () => element.scrollHeight > element.clientHeight;
  const grow = () => {
    const edges = element.offsetHeight - element.clientHeight;
    element.style.height = isCut() ? `${element.scrollHeight + edges}px` : "";
  };
  // What was said here before may have needed another height.
  element.style.height = "";
  element.classList.remove("long");
  grow();
  if (!isCut()) return;
  element.classList.add("long");
  element.style.height = "";
  grow();
}
