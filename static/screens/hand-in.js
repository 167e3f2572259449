import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { handIn } from "../logbook/book.js";
import { Page, Trouble } from "../parts/page.js";
import { sentence } from "../parts/server.js";

/** @param {number} number @param {string} one @param {string} several */
const many = (number, one, several) => (number === 0 ? [] : [`${number} ${number === 1 ? one : several}`]);

/** @param {{entries: number, files: number, unread: number}} taken */
function said({ entries, files, unread }) {
  if (entries + files + unread === 0) return "Nothing new in it: all of it is on this phone already.";
  const lost = unread > 0 ? ` ${unread} could not be read: keep the file and show it to the chief.` : "";
  const taken = [
    ...many(entries, "new entry", "new entries"),
    ...many(files, "photo or drawn name", "photos or drawn names"),
  ].join(" and ");
  const ours = taken && `${taken} taken in, to go to the server with this phone's own.`;
  return `${ours || "Nothing was taken in."}${lost}`;
}

/** Takes in a file that another phone saved. */
export function HandInScreen() {
  const [words, setWords] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function take(/** @type {any} */ event) {
    const input = event.currentTarget;
    const [file] = input.files;
    if (!file) return;
    setWords("");
    setTrouble(null);
    try {
      setWords(said(await handIn(file)));
    } catch (error) {
      setTrouble(sentence(error));
    }
    input.value = ""; // the same file may be picked again
  }
  return html`<${Page} title="Hand in" back="#/unsent" backWord="Unsent" needsShow=${false}>
    <p>What another phone saved to a file is taken in here, with no signal too. Handing it in twice does no harm.</p>
    <label class="act main file">Open the file that a phone saved<input type="file" accept=".zip,application/zip" onChange=${take} /></label>
    <p role="status">${words}</p>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}
