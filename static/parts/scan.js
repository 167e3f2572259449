import { html } from "htm/preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { tagOf, tagsIn } from "../kit/codes.js";
import { Trouble } from "./page.js";
import { TakePhoto } from "./photo.js";
import { Field } from "./pick.js";

/**
 * Reads tags: through the camera, from a photo of the code, or typed. `read` gets each tag as it is seen; a tag that
 * stays in sight is told once.
 * @param {{ read: (tag: string) => void, said?: string | null }} props `said`: what the last tag came to
 */
export function Scan({ read, said = null }) {
  const [open, setOpen] = useState(false);
  const [camera, setCamera] = useState(true);
  const [typed, setTyped] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const tag = tagOf(typed);
  function take(/** @type {Event} */ event) {
    event.preventDefault();
    if (!tag) return;
    read(tag);
    setTyped("");
  }
  function fail(/** @type {string} */ words) {
    setCamera(false);
    setTrouble(words);
  }
  async function fromPhoto(/** @type {File} */ file) {
    setTrouble(null);
    try {
      const tags = await tagsIn(file);
      if (tags.length === 0) setTrouble("No code can be read in this photo. Go closer, or type the tag.");
      tags.forEach(read);
    } catch {
      setTrouble("This file is no picture that the phone can read. Take it again, or type the tag.");
    }
  }
  if (!open)
    return html`<button type="button" class="act" onClick=${() => setOpen(true)}>Read codes, or type a tag</button>`;
  return html`<section class="card scan" aria-label="Read tags">
    ${camera && html`<${Camera} read=${read} failed=${fail} />`}
    <p role="status" class="verdict">${said ?? (camera ? "Hold a label before the camera" : "")}</p>
    <${Trouble} words=${trouble} />
    <form class="pair" onSubmit=${take}><${Field} label="Or type the tag" name="typed-tag" value=${typed} set=${setTyped} />
      <button type="submit" class="act" disabled=${!tag}>Take ${tag ?? "the tag"}</button></form>
    <${TakePhoto} words="Or take a photo of the code" taken=${fromPhoto} />
    <button type="button" class="act" onClick=${() => setOpen(false)}>Enough read</button>
  </section>`;
}

/** The camera's picture, looked at again and again until it is shut. @param {{ read: (tag: string) => void, failed: (why: string) => void }} props */
function Camera({ read, failed }) {
  const picture = useRef(/** @type {HTMLVideoElement | null} */ (null));
  const latest = useRef(read);
  latest.current = read;
  useEffect(() => {
    const video = /** @type {HTMLVideoElement} */ (picture.current);
    const shut = new AbortController();
    watch(video, shut.signal, (tag) => latest.current(tag)).catch((error) => {
      if (!shut.signal.aborted) failed(why(error));
    });
    return () => {
      shut.abort();
      for (const track of /** @type {MediaStream | null} */ (video.srcObject)?.getTracks() ?? [])
        track.stop();
    };
  }, []);
  return html`<video class="photo" ref=${picture} muted playsinline aria-label="What the camera sees"></video>`;
}

/**
 * @param {HTMLVideoElement} video
 * @param {AbortSignal} shut
 * @param {(tag: string) => void} read
 */
async function watch(video, shut, read) {
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  if (shut.aborted) {
    for (const track of stream.getTracks()) track.stop();
    return;
  }
  video.srcObject = stream;
  await video.play();
  let inSight = /** @type {string[]} */ ([]);
  while (!shut.aborted) {
    const tags = await tagsIn(video);
    for (const tag of tags.filter((one) => !inSight.includes(one))) read(tag);
    inSight = tags;
    await new Promise((next) => requestAnimationFrame(next));
  }
}

/** @param {any} error */
function why(error) {
  if (error?.name === "NotAllowedError")
    return "This browser may not use the camera. Allow it in the browser's settings, or type the tag.";
  if (error?.name === "NotFoundError" || !navigator.mediaDevices)
    return "No camera is to be had here. Type the tag.";
  return `The camera stopped: ${error?.message ?? error}. Type the tag.`;
}
