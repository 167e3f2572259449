import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { fileUrl } from "../logbook/book.js";

const LONG_SIDE_PX = 1600;

/** A kept photo, or that it has not arrived. @param {{ file: string, words?: string }} props */
export function Photo({ file, words = "The photo" }) {
  const [shown, setShown] = useState(/** @type {string | null | undefined} */ (undefined));
  useEffect(() => {
    let url = /** @type {string | null} */ (null);
    fileUrl(file).then((found) => {
      url = found;
      setShown(found);
    });
    return () => {
      if (url) URL.revokeObjectURL(url);
    };
  }, [file]);
  if (shown === undefined) return html`<p class="soft">Looking for the photo.</p>`;
  return shown === null
    ? html`<p><strong>Photo not arrived</strong></p>`
    : html`<img class="photo" src=${shown} alt=${words} />`;
}

/** A copy without metadata, drawn anew, to show. @param {Blob} photo @returns {Promise<string>} its address */
export async function preview(photo) {
  const image = await createImageBitmap(photo);
  const scale = Math.min(1, LONG_SIDE_PX / Math.max(image.width, image.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(image.width * scale);
  canvas.height = Math.round(image.height * scale);
  canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const copy = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
  return URL.createObjectURL(/** @type {Blob} */ (copy));
}

/** A wide target that opens the camera. @param {{ words: string, taken: (file: File) => void, main?: boolean }} props */
export function TakePhoto({ words, taken, main = false }) {
  return html`<label class=${main ? "act main file" : "act file"}>${words}<input type="file" accept="image/*" capture="environment"
    onChange=${(/** @type {any} */ event) => event.currentTarget.files[0] && taken(event.currentTarget.files[0])} /></label>`;
}
