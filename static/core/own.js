// Looking things up by an id from outside: `constructor` and `toString` are fair ids,
// so only what a plain map itself holds may be found in it.

/** @returns {any} what the map itself holds under the key, else undefined */
export function own(map, key) {
  return map !== undefined && Object.hasOwn(map, key) ? map[key] : undefined;
}

/** @param {object|undefined} map @returns {Map<string, any>} */
export function mapOf(map) {
  return new Map(Object.entries(map ?? {}));
}

/** Add to the list a map holds under a key. @param {Map<any, any[]>} lists */
export function addTo(lists, key, value) {
  const known = lists.get(key);
  if (known) known.push(value);
  else lists.set(key, [value]);
}

/** @returns {boolean} whether two readings state the same */
export function sameValues(one, other) {
  const names = Object.keys(one);
  return one === other || (names.length === Object.keys(other).length
    && names.every((name) => one[name] === own(other, name)));
}
