// The roads to the server. An answer that is not a plain success is an
// `OfficeFault`; whoever calls keeps what it has and tries again. The browser's own
// word on being online is never asked: only an answer proves a connection.

const API_VERSION = "1";
const PATIENCE_MS = 15_000;
const PHOTO_PATIENCE_MS = 60_000;

/** No answer, or not the one hoped for. `status` is 0 when nothing came back. */
export class OfficeFault extends Error {
  constructor(status, message, answer = {}) {
    super(message);
    this.status = status;
    this.answer = answer;
  }
}

/** @returns {Promise<object>} {token, person, site, office_key} */
export function enrol(request, token) {
  return askJson("/api/enrol", { token, body: request });
}

/** Ask for a challenge, or with its proof for a token. @returns {Promise<object>} */
export function comeBack(request) {
  return askJson("/api/return", { body: request });
}

/** Ask whose a code is. @returns {Promise<object>} {person, name, records} */
export function codeOf(code) {
  return askJson("/api/code", { body: { code } });
}

/** @returns {Promise<{results:object[], receipt?:object}>} */
export function push(token, entries) {
  return askJson("/api/push", { token, body: { entries } });
}

/** @returns {Promise<object>} {epoch, head, last, entries, now} */
export function pull(token, after, limit) {
  return askJson(`/api/pull?after=${after}&limit=${limit}`, { token });
}

/** @returns {Promise<{epoch:string, last:number, now:number}>} told to anybody */
export function ping() {
  return askJson("/api/ping");
}

/** @returns {Promise<object>} {site, sheets, now} */
export function bundle(token) {
  return askJson("/api/bundle", { token });
}

/** @returns {Promise<string>} the canonical text of a sheet or table */
export async function readDocument(token, kind, hash) {
  const response = await ask(`/api/${kind}/${hash}`, { token });
  return response.text();
}

/** Offer one photo, named by its hash. */
export function pushPhoto(token, hash, bytes) {
  return ask("/api/photo", { token, photo: { hash, bytes } });
}

/** @returns {Promise<ArrayBuffer>} a photo's bytes as they came to the office */
export async function pullPhoto(token, hash) {
  const response = await ask(`/api/photo/${hash}`, { token, photo: {} });
  return response.arrayBuffer();
}

async function askJson(path, options) {
  const response = await ask(path, options);
  try {
    return await response.json();
  } catch {
    throw new OfficeFault(0, `${path}: the answer was not JSON`);
  }
}

async function ask(path, { token, body, photo } = {}) {
  const headers = { "Fieldapp-Api": API_VERSION };
  if (token) headers.Authorization = `Bearer ${token}`;
  if (body) headers["Content-Type"] = "application/json";
  if (photo?.hash) {
    headers["Content-Type"] = "image/jpeg";
    headers["X-Photo-Hash"] = photo.hash;
  }
  let response;
  try {
    response = await fetch(path, {
      method: body || photo?.hash ? "POST" : "GET",
      headers,
      body: photo?.bytes ?? (body && JSON.stringify(body)),
      cache: "no-store",
      credentials: "omit",
      redirect: "error",
      signal: AbortSignal.timeout(photo ? PHOTO_PATIENCE_MS : PATIENCE_MS),
    });
  } catch (fault) {
    throw new OfficeFault(0, `${path}: ${fault.message}`);
  }
  if (!response.ok) throw await refused(path, response);
  return response;
}

async function refused(path, response) {
  let answer = {};
  try {
    answer = await response.json();
  } catch {
    // An error page is not JSON; the status alone must do.
  }
  const reason = answer.error?.allowed ?? response.statusText;
  return new OfficeFault(response.status, `${path}: ${reason}`, answer);
}
