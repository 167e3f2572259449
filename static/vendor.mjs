// Copies what the phone runs from node_modules into vendor/, which is served and not committed.
import { copyFile, mkdir, readdir, rm, stat, utimes } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));

/** Where each served file comes from: name in vendor/ to name in node_modules/. */
const files = {
  "preact.mjs": "preact/dist/preact.mjs",
  "preact-hooks.mjs": "preact/hooks/dist/hooks.mjs",
  "htm.mjs": "htm/dist/htm.mjs",
  "htm-preact.mjs": "htm/preact/index.mjs",
  "signals-core.mjs": "@preact/signals-core/dist/signals-core.mjs",
  "signals.mjs": "@preact/signals/dist/signals.mjs",
  "idb.mjs": "idb/build/index.js",
  "fflate.mjs": "fflate/esm/browser.js",
  "signature_pad.mjs": "signature_pad/dist/signature_pad.js",
  "barcode/ponyfill.js": "barcode-detector/dist/es/ponyfill.js",
  "barcode/zxing-exported.js": "barcode-detector/dist/es/zxing-exported.js",
  "barcode/zxing_reader.wasm": "zxing-wasm/dist/reader/zxing_reader.wasm",
  "pdfjs/pdf.min.mjs": "pdfjs-dist/build/pdf.min.mjs",
  "pdfjs/pdf.worker.min.mjs": "pdfjs-dist/build/pdf.worker.min.mjs",
  "pyodide/pyodide.mjs": "pyodide/pyodide.mjs",
  "pyodide/pyodide.asm.mjs": "pyodide/pyodide.asm.mjs",
  "pyodide/pyodide.asm.wasm": "pyodide/pyodide.asm.wasm",
  "pyodide/python_stdlib.zip": "pyodide/python_stdlib.zip",
  "pyodide/pyodide-lock.json": "pyodide/pyodide-lock.json",
  "fonts/atkinson-400.woff2": font("atkinson-hyperlegible-next", 400),
  "fonts/atkinson-700.woff2": font("atkinson-hyperlegible-next", 700),
  "fonts/atkinson-ext-400.woff2": font("atkinson-hyperlegible-next", 400, "latin-ext"),
  "fonts/atkinson-ext-700.woff2": font("atkinson-hyperlegible-next", 700, "latin-ext"),
  "fonts/saira-stencil-400.woff2": font("saira-stencil-one", 400),
};

/** @param {string} family @param {number} weight @param {string} [subset] */
function font(family, weight, subset = "latin") {
  return `@fontsource/${family}/files/${family}-${subset}-${weight}-normal.woff2`;
}

/** Copies unless size and time say that it was copied. @param {string} from @param {string} to */
async function copyChanged(from, to) {
  const [source, copy] = await Promise.all([stat(from), stat(to).catch(() => null)]);
  if (copy?.size === source.size && copy.mtimeMs === source.mtimeMs) return;
  await mkdir(dirname(to), { recursive: true });
  await copyFile(from, to);
  await utimes(to, source.mtime, source.mtime);
}

const vendor = join(here, "vendor");
await Promise.all(
  Object.entries(files).map(([to, from]) => copyChanged(join(here, "node_modules", from), join(vendor, to))),
);
for (const found of await readdir(vendor, { recursive: true, withFileTypes: true })) {
  const path = join(found.parentPath, found.name);
  const name = path.slice(vendor.length + 1).replaceAll("\\", "/");
  if (found.isFile() && !(name in files)) await rm(path);
}
