// Pictures drawn by the engine or the server. Only shapes and texts of them are taken over, so that
// nothing in one can run or load anything.
import { draw, show, words } from "./ask.js";
import { el } from "./make.js";

const SHAPES = new Set(["svg", "title", "desc", "defs", "pattern", "g", "rect", "line", "polyline", "polygon", "path", "text", "circle"]);
const STYLES = new Set(["viewBox", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "width", "height", "points", "d", "fill", "stroke", "stroke-width", "stroke-dasharray", "text-anchor", "font-size", "font-weight", "font-family", "transform", "id", "patternTransform", "patternUnits", "role"]);
const NS = "http://www.w3.org/2000/svg";
let pictures = 0;

function taken(node, prefix) {
  if (node.nodeType === Node.TEXT_NODE) return document.createTextNode(node.data);
  if (node.nodeType !== Node.ELEMENT_NODE || node.namespaceURI !== NS || !SHAPES.has(node.localName)) return null;
  const copy = document.createElementNS(NS, node.localName);
  for (const { name, value } of node.attributes) {
    if (!STYLES.has(name)) continue;
    if (/url\(/i.test(value) && !/^url\(#[\w-]+\)$/.test(value)) continue;
    copy.setAttribute(name, name === "id" ? prefix + value : value.replace(/^url\(#/, `url(#${prefix}`));
  }
  copy.append(...[...node.childNodes].map((n) => taken(n, prefix)).filter(Boolean));
  return copy;
}

/** The picture in the text of an SVG. */
export function picture(text) {
  pictures += 1;
  const prefix = `p${pictures}-`;
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  const svg = taken(root, prefix);
  if (!svg) throw new Error("no picture");
  svg.setAttribute("aria-labelledby", `${prefix}t ${prefix}d`);
  return svg;
}

/** Pictures of the next day, one for each area with plants. */
export async function days(out, situation, areas) {
  const status = el("p", { class: "status", role: "status" });
  out.replaceChildren(status);
  show(status, "Drawing…");
  try {
    const made = [];
    for (const a of areas) {
      const plants = situation.plants.filter((p) => p.area === a.id);
      if (plants.length) made.push(el("div", { class: "picture" }, picture(await draw("day_ribbon", { situation: { ...situation, plants }, area: a.id }))));
    }
    out.replaceChildren(...made);
  } catch (error) { show(status, words(error), true); }
}
