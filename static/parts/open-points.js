import { html } from "htm/preact";
import { byWhom, placeWord, states, subjectWords } from "./say.js";
import { kitName, logName, personName, sheetOf } from "./show.js";

/** Everything that is open, in the order in which it can hurt: for the hand-over and for whoever takes over. @param {{ report: any }} props */
export function OpenPoints({ report }) {
  const groups = [
    { title: "Missing", rows: report.missing, say: gapWords, href: kitHref },
    { title: "In the wrong locker", rows: report.astray, say: gapWords, href: kitHref },
    { title: "Away", rows: report.away, say: gapWords, href: kitHref },
    { title: "More than listed", rows: report.extra, say: gapWords, href: kitHref },
    { title: "Unserviceable", rows: report.unserviceable, say: unfit, href: kitHref },
    { title: "Suspect", rows: report.suspect, say: unfit, href: kitHref },
    { title: "Carried over", rows: report.carried, say: carriedWords, href: kitHref },
    {
      title: "Used though unfit",
      rows: report.used_though,
      say: usedWords,
      href: kitHref,
    },
    {
      title: "Overdue",
      rows: report.overdue,
      say: (/** @type {any} */ row) => `${kitName(row.tag)}: due ${row.due}`,
      href: kitHref,
    },
    {
      title: "Disputed",
      rows: report.disputed,
      say: subjectWords,
      href: (/** @type {string} */ subject) => `#/settle/${subject}`,
    },
    {
      title: "Faults",
      rows: report.faults,
      say: (/** @type {any} */ row) =>
        `${states(row)}${row.body.about ? `, ${row.body.about}` : ""}, ${byWhom(row)}`,
    },
    {
      title: "Given up",
      rows: report.given_up,
      say: (/** @type {any} */ row) => `Position ${row.position}: ${row.value.body.choice}`,
      href: (/** @type {any} */ row) => `#/position/${row.position}`,
    },
    {
      title: "Changed since signed",
      rows: report.changed,
      say: (/** @type {any} */ row) => sheetOf(row.sheet)?.title ?? row.sheet,
      href: (/** @type {any} */ row) => `#/sheet/${row.sheet}`,
    },
    { title: "Not counted back", rows: report.not_counted, say: gapWords, href: kitHref },
    {
      title: "Unsigned",
      rows: report.unsigned,
      say: (/** @type {string} */ id) => sheetOf(id)?.title ?? id,
      href: (/** @type {string} */ id) => `#/sheet/${id}`,
    },
    {
      title: "Written, not arrived",
      rows: report.not_arrived,
      say: (/** @type {any} */ row) =>
        `${personName(row.person)}: numbers ${row.gaps.map((/** @type {number[]} */ gap) => gap.join(" to ")).join(", ")}`,
    },
  ].filter(({ rows }) => rows?.length > 0);
  if (groups.length === 0) return html`<p><strong>Nothing is open.</strong></p>`;
  return groups.map((group) => html`<${Group} key=${group.title} ...${group} />`);
}

/** @param {{ title: string, rows: any[], say: (row: any) => string, href?: (row: any) => string }} props */
function Group({ title, rows, say, href }) {
  return html`<details class="slip" open=${rows.length <= 6}><summary><strong>${title}: ${rows.length}</strong></summary>
    <ul class="list">${rows.map((row, index) => html`<li key=${index}>${href ? html`<a href=${href(row)}>${say(row)}</a>` : say(row)}</li>`)}</ul></details>`;
}

/**
 * What other logs say of a thing beside this one, each with its log.
 * @param {import("../logbook/views/carried.js").UnfitTogether} row
 */
function carriedWords({ tag, values }) {
  const said = values.map((one) => `${states(one)} (${logName(one.log)}, ${byWhom(one)})`);
  return `${kitName(tag)}: ${said.join("; ")}`;
}

/** @param {{ tag: string }} row */
const kitHref = ({ tag }) => `#/k/${tag}`;

/**
 * A thing that is not back in full: how many were counted, and what was last stated of where it is.
 * @param {import("./shapes.js").Gap} gap
 */
export function gapWords({ tag, locker, listed, counted, where, last }) {
  const number = counted === null || listed === "1" ? "" : `, ${counted} of ${listed} counted`;
  const text = last?.body.text ? `: ${last.body.text}` : "";
  const seen = last && where ? `last: ${placeWord(where)}${text}, ${byWhom(last)}` : "no place written";
  return `${kitName(tag)}, from ${locker}${number}; ${seen}`;
}

/** @param {any} row */
function usedWords({ tag, slot, state, assign }) {
  const said = assign?.body.though?.find((/** @type {any} */ one) => one.tag === tag);
  const why = said ? `${said.reason}, on the word of ${said.who}` : "no reason given";
  const at = placeWord(slot.split("/").slice(0, 2).join("/"));
  return `${kitName(tag)}, ${state}, used at ${at}: ${why}${assign ? `, ${byWhom(assign)}` : ""}`;
}

/** What is neither back nor accounted for. @param {any} report @returns {import("./shapes.js").Gap[]} */
export function gapsIn({ missing, astray, not_counted }) {
  return [...missing, ...astray, ...not_counted];
}

/** @param {{ tag: string, values: import("./shapes.js").V[] }} row */
function unfit({ tag, values }) {
  return `${kitName(tag)}: ${values.map((value) => `${value.body.reason ?? value.body.state}, ${byWhom(value)}`).join("; ")}`;
}
