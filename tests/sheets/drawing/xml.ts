/** An SVG as elements, read by a strict parser of XML that knows nothing of what wrote it. */
import { SaxesParser } from 'saxes';

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  text: string;
}

/** Throws where it is not well-formed. */
export function parsed(text: string): Element {
  const parser = new SaxesParser({ xmlns: true });
  const root: Element = { name: '', attributes: {}, children: [], text: '' };
  const open: Element[] = [root];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ local, attributes }) => {
    const plain = Object.fromEntries(Object.entries(attributes).map(([name, { value }]) => [name, value]));
    const element: Element = { name: local, attributes: plain, children: [], text: '' };
    open.at(-1)?.children.push(element);
    open.push(element);
  });
  parser.on('text', (found) => {
    const last = open.at(-1);
    if (last) last.text += found;
  });
  parser.on('closetag', () => void open.pop());
  parser.write(text).close();
  return root.children[0] as Element;
}

export function every(element: Element, name: string): Element[] {
  return [...(element.name === name ? [element] : []), ...element.children.flatMap((child) => every(child, name))];
}
