import { html } from "htm/preact";
import { useEffect, useRef, useState } from "preact/hooks";

const HOLD_MS = 1000;

/**
 * A button that is held for one second: by a finger, by a held Enter or space; who can do neither presses it twice.
 * @param {{ words: string, act: () => void, disabled?: boolean }} props
 */
export function HoldButton({ words, act, disabled = false }) {
  const [held, setHeld] = useState(0);
  const [armed, setArmed] = useState(false);
  const started = useRef(0);
  const frame = useRef(0);
  const ended = useRef(false);

  function stop() {
    cancelAnimationFrame(frame.current);
    started.current = 0;
    setHeld(0);
  }
  function begin() {
    if (disabled || started.current) return;
    started.current = performance.now();
    ended.current = false;
    follow();
  }
  function follow() {
    const share = (performance.now() - started.current) / HOLD_MS;
    if (share < 1) {
      setHeld(share);
      frame.current = requestAnimationFrame(follow);
      return;
    }
    stop();
    ended.current = true;
    act();
  }
  /** A click without a pointer or a key is a switch or a screen reader. @param {MouseEvent} event */
  function clicked(event) {
    if (event.detail !== 0 || ended.current) return;
    if (armed) act();
    setArmed(!armed);
  }
  /** @param {KeyboardEvent} event */
  function keyed(event) {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    if (event.type === "keyup") stop();
    else if (!event.repeat) begin();
  }
  useEffect(() => stop, []);
  return html`<button type="button" class="act main hold" disabled=${disabled} onPointerDown=${begin} onPointerUp=${stop}
    onPointerLeave=${stop} onPointerCancel=${stop} onKeyDown=${keyed} onKeyUp=${keyed} onBlur=${stop} onClick=${clicked}
    onContextMenu=${(/** @type {Event} */ event) => event.preventDefault()}>
    <span class="fill" style=${{ width: `${Math.round(held * 100)}%` }}></span>
    <span>${held > 0 ? "Keep holding" : armed ? "Press again to write it" : `Hold: ${words}`}</span>
  </button>`;
}
