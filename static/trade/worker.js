// The arithmetic in WebAssembly, in a worker of its own. Text in, text out; nothing of Python crosses.

const PYODIDE = "/static/vendor/pyodide/pyodide.mjs";
const FILES = "/static/vendor/pyodide/";
const CORE = "/static/core/trade.zip";
const START = `
from server.trade.register import assess_text, assessments, drawing_text
assessments()
{"assess": assess_text, "drawing": drawing_text}
`;

const worker = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @returns {Promise<Record<string, (text: string) => string>>} a function for each thing that is asked */
async function start() {
  const packed = fetch(CORE).then(bytesOf);
  const { loadPyodide } = await import(PYODIDE);
  const python = await loadPyodide({ indexURL: FILES });
  python.unpackArchive(await packed, "zip");
  const functions = python.runPython(START);
  return { assess: functions.get("assess"), drawing: functions.get("drawing") };
}

/** @param {Response} response */
async function bytesOf(response) {
  if (!response.ok) throw new Error("the arithmetic is not on this phone yet");
  return response.arrayBuffer();
}

/** @param {unknown} error */
const words = (error) => (error instanceof Error ? error.message : String(error));

const started = start();
started.then(
  () => worker.postMessage({ ready: true }),
  (error) => worker.postMessage({ fatal: words(error) }),
);

worker.addEventListener("message", async ({ data: { id, what, text } }) => {
  try {
    worker.postMessage({ id, text: (await started)[what]?.(text) });
  } catch (error) {
    worker.postMessage({ fatal: words(error) });
  }
});

export {};
