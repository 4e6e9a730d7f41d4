/**
 * The picture that the server drew, taken into the page. It is made of few things; whatever else stands in it was not
 * drawn by us, and is left out: what is not named here cannot run, load or link to anything.
 */

const svgNamespace = 'http://www.w3.org/2000/svg';
const elements = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text']);
const attributes = new Set([
  ...['viewBox', 'class', 'd', 'cx', 'cy', 'r', 'x', 'y', 'width', 'height', 'transform', 'stroke-width'],
  ...['stroke-dasharray', 'font-size', 'text-anchor', 'textLength', 'lengthAdjust'],
  ...['overflow', 'data-layer', 'data-part', 'role', 'aria-label'],
]);

/** Undefined where it is no picture at all. */
export function adopted(text: string): SVGSVGElement | undefined {
  const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
  const root = parsed.documentElement;
  // Where the text is broken, a browser puts what it says of that among what it could read.
  const isBroken = parsed.getElementsByTagName('parsererror').length > 0;
  if (isBroken || root.namespaceURI !== svgNamespace || root.localName !== 'svg') return undefined;
  const svg = copied(root) as SVGSVGElement;
  // It takes the room that there is.
  svg.removeAttribute('width');
  svg.removeAttribute('height');
  return svg;
}

/** A copy with what is known, and nothing else. */
function copied(from: Element): SVGElement {
  const to = document.createElementNS(svgNamespace, from.localName);
  for (const { name, value } of from.attributes) if (attributes.has(name)) to.setAttribute(name, value);
  for (const child of from.childNodes) {
    if (child instanceof Element) {
      if (child.namespaceURI === svgNamespace && elements.has(child.localName)) to.append(copied(child));
    } else if (child.nodeType === Node.TEXT_NODE && from.localName === 'text') to.append(child.textContent ?? '');
  }
  return to;
}
