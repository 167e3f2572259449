import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { keepFile } from "../logbook/files.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { preview, TakePhoto } from "../parts/photo.js";
import { subjectWords } from "../parts/say.js";
import { sheetIdOf, step as stepOf, write } from "../parts/show.js";

/** A photo of a step or a thing, looked at before it is written. @param {{ rest: string }} props */
function TakeOne({ rest }) {
  const [photo, setPhoto] = useState(/** @type {{ file: File, url: string } | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const asked = step?.asks === "photo" && step.subject === rest;
  const back = step ? `#/step/${step.subject}` : "#/";
  async function taken(/** @type {File} */ file) {
    setTrouble(null);
    try {
      setPhoto({ file, url: await preview(file) });
    } catch {
      setTrouble("This file is no picture that the phone can read. Take it again.");
    }
  }
  async function keep() {
    if (!photo) return;
    try {
      const file = await keepFile(await photo.file.arrayBuffer(), photo.file.type);
      await write({ subject: rest, kind: "photo", body: { file } });
      if (asked) await write({ subject: rest, kind: "tick", body: {} });
      location.hash = asked ? `#/sheet/${sheetIdOf(rest)}` : back;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Page} title="Photo" back=${back} backWord="Back">
    <h2>${subjectWords(rest)}</h2>
    ${step?.caution && html`<p class="caution"><strong>Caution.</strong> ${step.caution}</p>`}
    ${photo && html`<img class="photo" src=${photo.url} alt="The photo just taken" />`}
    <${TakePhoto} words=${photo ? "Take it again" : "Open the camera"} taken=${taken} main=${!photo} />
    ${photo && html`<button type="button" class="act main" onClick=${keep}>${asked ? step.done : "Keep this photo"}</button>`}
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const PhotoScreen = withShow(TakeOne, "Photo");
