// What whoever signs cannot have seen: photographs that are not on this phone.

import { photoHere } from "../device/photos.js";

/** @returns {Promise<string[]>} photos of a point's steps that are not here to see */
export async function unseenPhotos({ sheet, state, entries }, point) {
  const read = sheet.points[point].covers.flatMap((step) =>
    Object.values(state.steps[step]?.lines ?? {}).flatMap((line) => line.entries));
  const hashes = new Set(entries.filter((one) => read.includes(one.id))
    .flatMap((one) => one.photos));
  const found = await Promise.all([...hashes].map(photoHere));
  return [...hashes].filter((_, place) => !found[place]).sort();
}
