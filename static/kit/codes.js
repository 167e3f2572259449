// Codes on labels: reading one from a picture, and what tag it names.

/** @typedef {{ detect: (picture: any) => Promise<{ rawValue: string }[]> }} Reader */

const FORMATS = ["qr_code"];

/** @type {Promise<Reader> | null} */
let reader = null;

/** The browser's own reader where it knows these codes; else the one that came with the app. */
export function codeReader() {
  reader ??= ownReader()
    .then((own) => own ?? selfHosted())
    .catch((error) => {
      reader = null;
      throw error;
    });
  return reader;
}

/** @returns {Promise<Reader | null>} */
async function ownReader() {
  const { BarcodeDetector: Own } = /** @type {any} */ (globalThis);
  const known = await Own?.getSupportedFormats?.().catch(() => []); // some browsers name it and cannot
  return known?.includes("qr_code") ? new Own({ formats: FORMATS }) : null;
}

/** Loaded when a code is to be read: the app starts without it. @returns {Promise<Reader>} */
async function selfHosted() {
  const { prepareZXingModule, BarcodeDetector: SelfHosted } = await import("barcode-detector/ponyfill");
  prepareZXingModule({
    overrides: { locateFile: () => "/static/vendor/barcode/zxing_reader.wasm" },
  });
  return /** @type {any} */ (new SelfHosted({ formats: /** @type {any} */ (FORMATS) }));
}

/**
 * The tags that the codes in a picture name, each once.
 * @param {any} picture a video, an image's bitmap or a blob
 */
export async function tagsIn(picture) {
  const found = await (await codeReader()).detect(picture);
  return [...new Set(found.map(({ rawValue }) => tagOf(rawValue)).filter((tag) => tag !== null))];
}

/**
 * What a label's code or a typed word names: `/k/TAG` at any origin, for old labels outlive an address, or a bare tag.
 * @param {string} text
 * @returns {string | null}
 */
export function tagOf(text) {
  const path = text.trim().match(/^(?:https?:\/\/[^/?#]+\/k\/)?([A-Za-z0-9._-]+)$/);
  return path?.[1] ?? null;
}
