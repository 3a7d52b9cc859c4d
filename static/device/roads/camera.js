// Reads codes from the camera or from pictures: by the browser's own detector where
// there is one, by the library the set-up brought where not. Gives texts and believes
// none of them. No picture is kept or sent anywhere.

const LARGEST_SIDE_PX = 1_600;
/** A picture is tried at several sizes, the camera's in turn: fine noise hides a code
 * from the library, and so do modules of few pixels. */
const SIDES_PX = [LARGEST_SIDE_PX, 1_000, 640];
const LARGEST_SCALE = 2;
const LARGEST_FILE_BYTES = 2 ** 25;
const LOOK_MS = 60;
const LONGEST_TEXT = 3_000;

let reading = null;

/** There is no camera here, or it may not be used. */
export class NoCamera extends Error {}

/** What reads codes has not come to this phone yet. */
export class NoReader extends Error {}

/**
 * Look through the camera until `stop` is called.
 * @param {HTMLVideoElement} video where the person sees what the camera sees
 * @param {(text:string) => Promise<void>|void} found each text read, repeats included
 * @returns {Promise<() => void>} stop
 */
export async function look(video, found) {
  reading ??= await chooseReader();
  const stream = await openCamera();
  const canvas = document.createElement("canvas");
  let running = true;
  let looks = 0;
  video.srcObject = stream;
  await video.play();
  const turn = async () => {
    if (!running) return;
    const text = video.videoWidth ? await readFrom(video, canvas, {
      width: video.videoWidth, height: video.videoHeight,
      sides: [SIDES_PX[looks % SIDES_PX.length]],
    }) : "";
    looks += 1;
    if (text && running) await found(text);
    if (running) setTimeout(turn, LOOK_MS);
  };
  turn();
  return () => {
    running = false;
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
}

/** @param {Blob} file picture @returns {Promise<string>} its code's text, or "" */
export async function readPicture(file) {
  reading ??= await chooseReader();
  if (file.size > LARGEST_FILE_BYTES) return "";
  let picture;
  try {
    picture = await createImageBitmap(file);
  } catch (fault) {
    if (fault instanceof DOMException) return "";
    throw fault;
  }
  try {
    return await readFrom(picture, document.createElement("canvas"), {
      width: picture.width, height: picture.height, sides: SIDES_PX,
    });
  } finally {
    picture.close();
  }
}

async function openCamera() {
  if (!navigator.mediaDevices?.getUserMedia) throw new NoCamera("no camera here");
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: "environment", width: { ideal: 1_280 } },
    });
  } catch (fault) {
    if (fault instanceof DOMException) throw new NoCamera(fault.name);
    throw fault;
  }
}

async function readFrom(source, canvas, { width, height, sides }) {
  for (const side of sides) {
    const scale = Math.min(side === LARGEST_SIDE_PX ? 1 : LARGEST_SCALE,
      side / Math.max(width, height));
    canvas.width = Math.max(1, Math.round(width * scale));
    canvas.height = Math.max(1, Math.round(height * scale));
    const brush = canvas.getContext("2d", { willReadFrequently: true });
    brush.drawImage(source, 0, 0, canvas.width, canvas.height);
    const text = await reading(canvas, brush);
    if (text && text.length <= LONGEST_TEXT) return text;
  }
  return "";
}

async function chooseReader() {
  const formats = await globalThis.BarcodeDetector?.getSupportedFormats?.() ?? [];
  if (formats.includes("qr_code")) {
    const detector = new BarcodeDetector({ formats: ["qr_code"] });
    return async (canvas) => (await detector.detect(canvas))[0]?.rawValue ?? "";
  }
  try {
    await import("../../vendor/jsqr.js");
  } catch (fault) {
    throw new NoReader(fault.message);
  }
  return (canvas, brush) => {
    const { data, width, height } = brush.getImageData(
      0, 0, canvas.width, canvas.height);
    return globalThis.jsQR(data, width, height,
      { inversionAttempts: "dontInvert" })?.data ?? "";
  };
}
