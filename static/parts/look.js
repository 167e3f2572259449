// Day, night, a dimmer night, or as the phone is set. Kept on the phone, not in the log.
import { signal } from "@preact/signals";

const KEY = "handline-look";
export const looks = [
  { id: "auto", label: "As the phone is set" },
  { id: "day", label: "Day" },
  { id: "night", label: "Night" },
  { id: "dim", label: "Night, dimmer" },
];
export const look = signal("auto");

/** @param {string} id */
export function setLook(id) {
  look.value = id;
  if (id === "auto") delete document.documentElement.dataset.look;
  else document.documentElement.dataset.look = id;
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // A phone that keeps nothing here shows its own setting next time; no work is lost by it.
  }
}

/** Takes the look that was picked here before. */
export function recallLook() {
  try {
    const kept = localStorage.getItem(KEY);
    if (looks.some(({ id }) => id === kept)) setLook(/** @type {string} */ (kept));
  } catch {
    // no storage: as the phone is set
  }
}
recallLook();
