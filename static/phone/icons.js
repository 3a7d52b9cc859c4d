// The signs that go with every word of state, drawn on a 24 x 24 field with one
// stroke width. A sign is always beside its word, so each is hidden from readers.

const SVG = "http://www.w3.org/2000/svg";

const PATHS = {
  tick: "M4 13l5 5L20 6",
  cross: "M5 5l14 14M19 5L5 19",
  stop: "M8 2h8l6 6v8l-6 6H8l-6-6V8zM8 12h8",
  warn: "M12 3L22 20H2zM12 9v5M12 17v.5",
  lock: "M5 11h14v10H5zM8 11V7a4 4 0 018 0v4",
  open: "M5 11h14v10H5zM8 11V7a4 4 0 017-2.6",
  now: "M4 12h13M12 6l6 6-6 6",
  wait: "M6 3h12M6 21h12M7 3c0 6 10 6 10 9s-10 3-10 9M17 3c0 6-10 6-10 9",
  clock: "M12 3a9 9 0 100 18 9 9 0 000-18zM12 7v5l4 2",
  call: "M4 9v6h4l6 5V4L8 9zM17 9c1.5 2 1.5 4 0 6M20 6c3 4 3 8 0 12",
  phone: "M7 2h10v20H7zM11 18.5h2",
  office: "M3 21V9l9-6 9 6v12zM9 21v-7h6v7",
  people: "M8 11a3.5 3.5 0 100-7 3.5 3.5 0 000 7zM2 21c0-9 12-9 12 0M16 11a3 3 0 "
    + "100-6M17 14c4 0 5 3 5 7",
  back: "M20 12H5M11 5l-7 7 7 7",
  menu: "M4 6h16M4 12h16M4 18h16",
  pen: "M4 20l1-5L16 4l4 4L9 19zM14 6l4 4",
  again: "M20 12a8 8 0 11-3-6M20 3v5h-5",
  key: "M8 8a4 4 0 100 8 4 4 0 000-8zM12 12h10M18 12v4",
  sun: "M12 8a4 4 0 100 8 4 4 0 000-8zM12 2v2M12 20v2M2 12h2M20 12h2M5 5l1.5 "
    + "1.5M17.5 17.5L19 19M5 19l1.5-1.5M17.5 6.5L19 5",
  moon: "M19 15A8 8 0 119 4a7 7 0 0010 11z",
  hand: "M7 12V5.5a1.5 1.5 0 013 0V11V4a1.5 1.5 0 013 0v7V5a1.5 1.5 0 013 0v8V9a1.5 "
    + "1.5 0 013 0v6c0 5-3 7-7 7s-6-3-8-7l-1-3a1.5 1.5 0 013-1z",
  bell: "M5 18h14l-2-3v-5a5 5 0 00-10 0v5zM10 21h4M12 3v2",
  dash: "M5 12h14",
  choose: "M5 5h14v14H5z",
  plus: "M12 4v16M4 12h16",
  note: "M5 3h14v18H5zM8 8h8M8 12h8M8 16h5",
  target: "M12 3a9 9 0 100 18 9 9 0 000-18zM12 8a4 4 0 100 8 4 4 0 000-8zM12 11.5v1",
  erase: "M9 5h12v14H9l-7-7zM12 9l6 6M18 9l-6 6",
  photo: "M3 7h4l2-3h6l2 3h4v13H3zM12 9.5a4 4 0 100 8 4 4 0 000-8z",
  shield: "M12 2l8 3v7c0 5-4 8-8 10-4-2-8-5-8-10V5zM8 12l3 3 5-6",
};

/** @param {string} name one of the signs above @returns {SVGElement} */
export function icon(name) {
  const sign = document.createElementNS(SVG, "svg");
  sign.setAttribute("viewBox", "0 0 24 24");
  sign.setAttribute("class", "icon");
  sign.setAttribute("aria-hidden", "true");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", PATHS[name] ?? PATHS.dash);
  sign.append(path);
  return sign;
}
