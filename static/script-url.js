// The only scripts that may be started by address: the policy knows these and refuses the rest.

const KNOWN = ["/sw.js", "/static/trade/worker.js", "/static/vendor/pdfjs/pdf.worker.min.mjs"];

/** @param {string} url */
function known(url) {
  if (!KNOWN.includes(url)) throw new TypeError(`${url} is not one of Handline's scripts`);
  return url;
}

const { trustedTypes } = /** @type {any} */ (globalThis);
const policy = trustedTypes?.createPolicy("handline", { createScriptURL: known });

/** An address for `new Worker` and `serviceWorker.register`. @param {string} url @returns {string} */
export function scriptUrl(url) {
  return policy ? policy.createScriptURL(url) : known(url);
}
