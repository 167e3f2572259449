// Whether this browser can hold a logbook, said before anything is asked of the person.

/** @returns {string[]} what is in the way, each a sentence for the screen; empty: nothing */
export function unfitFor() {
  if (!globalThis.isSecureContext) {
    return [
      "This address is not a secure one (https): here the browser keeps no keys, and a phone does not work with no signal. Open the address that the invitation shows.",
    ];
  }
  const lacks = [
    [globalThis.crypto?.subtle, "It cannot sign."],
    [globalThis.indexedDB, "It keeps nothing."],
    [navigator.serviceWorker, "It cannot work without signal; private windows often cannot."],
    [globalThis.BroadcastChannel, "It is too old to keep two tabs in step."],
  ];
  return lacks.flatMap(([has, sentence]) => (has ? [] : [String(sentence)]));
}

/** Whether this is an iPhone or iPad whose tab would lose what is written in it: only the installed app keeps it. */
export function mustInstall() {
  const { userAgent, maxTouchPoints, platform } = navigator;
  const apple = /iPhone|iPad|iPod/.test(userAgent) || (platform === "MacIntel" && maxTouchPoints > 1);
  return apple && !isInstalled();
}

/** Whether the app runs from the Home Screen. */
export function isInstalled() {
  return (
    matchMedia("(display-mode: standalone)").matches || /** @type {any} */ (navigator).standalone === true
  );
}
