// A figure's SVG made into the page's own nodes, so that it has the look's colours; only what the pen draws is taken.

const SVG = "http://www.w3.org/2000/svg";
const ELEMENTS = new Set(["svg", "g", "path", "circle", "rect", "line", "text", "title", "desc"]);
const ATTRIBUTES =
  /^(class|role|viewBox|d|x|y|x1|x2|y1|y2|cx|cy|r|width|height|transform|fill|stroke|font-[a-z]+|text-anchor|fill-opacity|stroke-[a-z]+|data-mark)$/;
const TOKENS = /<(\/?)([a-z]+)((?:\s+[\w-]+="[^"<]*")*)\s*(\/?)>|([^<]+)/gi;
const ATTRIBUTE = /([\w-]+)="([^"<]*)"/g;
const SIGNS = /** @type {Record<string, string>} */ ({
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  "#x27": "'",
  "#39": "'",
});

/** @param {string} text */
const unescaped = (text) => text.replace(/&(#?\w+);/g, (all, name) => SIGNS[name] ?? all);

/** @param {string} svg @returns {SVGElement | null} null where nothing is drawn */
export function drawn(svg) {
  /** @type {Element[]} */
  const open = [];
  /** @type {Element | null} */
  let whole = null;
  for (const [, closes, name = "", attributes = "", single, text] of svg.matchAll(TOKENS)) {
    if (text !== undefined) open.at(-1)?.append(unescaped(text));
    else if (closes) open.pop();
    else {
      if (!ELEMENTS.has(name)) return null;
      const element = document.createElementNS(SVG, name);
      for (const [, key = "", value = ""] of attributes.matchAll(ATTRIBUTE)) {
        if (ATTRIBUTES.test(key)) element.setAttribute(key, unescaped(value));
      }
      if (open.length > 0) open.at(-1)?.append(element);
      else whole ??= element;
      if (!single) open.push(element);
    }
  }
  return /** @type {SVGElement | null} */ (whole);
}
