/** What a unit overrides, as the statements of a template that extends the unit's own. */
import type { Statement } from '../../../grammar/tree.ts';
import { type Blueprint, fixtureKind, headReading, propsOf } from '../../model/blueprint.ts';
import { otherWall } from '../../model/mirror.ts';
import { dotted, nameIn, pathIn, type Reading, readingAt, says } from '../../model/reading.ts';
import { type Edit, textAfter } from './edits.ts';
import { blockText, type Piece, piecesOf, pieceText } from './pieces.ts';
import { turned } from './turned.ts';

/** The block of the template, or why none can say it. `pieces` are the overrides in their order. */
export type Extending = { readonly block: string } | { readonly why: string };

interface Node {
  readonly thing: Blueprint;
  /** Later overrides of the same thing go before earlier ones. */
  readonly said: Map<string, string[]>;
  lead: string;
  trail: string;
  readonly inner: Map<Blueprint, Node>;
}

export function extending(template: Blueprint, pieces: readonly Piece[], isMirrored: boolean): Extending {
  const roots = new Map<Blueprint, Node>();
  for (const piece of pieces) {
    const reading = readingAt(piece.statement, 'unit');
    const path = reading && pathIn(reading, 'thing');
    const trail = path && thingOf(template, dotted(path), isMirrored);
    if (!trail) return { why: `What it overrides is not in the template: ${piece.statement.text.split('\n')[0]}` };
    let level = roots;
    let node: Node | undefined;
    for (const thing of trail) {
      node = level.get(thing) ?? { thing, said: new Map(), lead: '', trail: '', inner: new Map() };
      level.set(thing, node);
      level = node.inner;
    }
    if (!node) continue;
    const why = say(node, piece, isMirrored);
    if (why !== undefined) return { why };
  }
  return { block: blockOf(roots, true) };
}

/** The things from the outermost zone to the one that is changed, in the order in which the model looks for it. */
function thingOf(template: Blueprint, name: string, isMirrored: boolean): Blueprint[] | undefined {
  const zones = (outer: Blueprint, trail: readonly Blueprint[], path: string): Blueprint[] | undefined => {
    for (const thing of outer.things) {
      const own = path === '' ? thing.name : `${path}.${thing.name}`;
      const isZone = thing.word === 'zone' || thing.word === 'gap';
      if (isZone && own === name) return [...trail, thing];
      const found = isZone ? zones(thing, [...trail, thing], own) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  const fittings = (outer: Blueprint, trail: readonly Blueprint[], path: string): Blueprint[] | undefined => {
    for (const thing of outer.things) {
      const isZone = thing.word === 'zone' || thing.word === 'gap';
      const own = path === '' ? thing.name : `${path}.${thing.name}`;
      if (!isZone && path !== '' && own === name) return [...trail, thing];
      const found = isZone ? fittings(thing, [...trail, thing], own) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  const drawn = isMirrored ? otherWall(name) : name;
  const top = (word: string, called: string): Blueprint[] | undefined => {
    const found = template.things.find((thing) => thing.word === word && thing.name === called);
    return found && [found];
  };
  return (
    zones(template, [], '') ??
    fittings(template, [], '') ??
    top('wall', drawn) ??
    top('opening', drawn) ??
    top('fixture', name)
  );
}

/** Of these, an override takes all in place of all, and a template each in place of its own. */
export const together: readonly (readonly string[])[] = [
  ['at', 'under', 'above'],
  ['load', 'line-load', 'point-load'],
  ['swing', 'leaves'],
];

function say(node: Node, piece: Piece, isMirrored: boolean): string | undefined {
  const { statement } = piece;
  const { thing } = node;
  const place = headReading(thing).entry.block ?? 'anything';
  const { pieces, rest } = piecesOf(statement);
  const said = new Map<string, string[]>();
  for (const own of pieces) {
    const reading = readingAt(own.statement, place);
    if (!reading || reading.entry.block)
      return `"${own.statement.text}" is nothing that can be said of ${named(thing)}.`;
    const edits: Edit[] = isMirrored ? [...turned(reading, () => false)] : [];
    const list = said.get(reading.word) ?? [];
    list.push(pieceText({ ...own, apart: false }, textAfter(own.statement, edits)));
    said.set(reading.word, list);
    if (reading.word === 'from' && thing.word === 'fixture') keepOther(reading, thing, list);
  }
  for (const group of together) {
    const [wins] = group.flatMap((word) => (said.has(word) ? [word] : []));
    if (wins === undefined) continue;
    for (const word of group) node.said.delete(word);
    const left = group
      .flatMap((word) => (said.has(word) ? [] : propsOf(thing, word)))
      .filter(
        // A leaf that swings goes before any other.
        ({ word }) => word !== 'leaves',
      );
    const [back] = left;
    if (back)
      return `"${headText(back.statement)}" of ${named(thing)} would still hold beside what the unit says instead, since a template cannot take back what it extends.`;
  }
  for (const [word, list] of said) node.said.set(word, list);
  const inHead = statement.comments.map(({ start, end }) => statement.text.slice(start, end));
  node.lead = [node.lead, piece.lead, ...inHead].filter(Boolean).join('\n');
  node.trail = [rest, piece.trail, node.trail].filter(Boolean).join(' ');
  return undefined;
}

/** Of a fixture on the ceiling, an override changes one of its two distances and leaves the other. */
function keepOther(own: Reading, thing: Blueprint, list: string[]): void {
  const isAlong = (reading: Reading): boolean => says(reading, 'left') || says(reading, 'right');
  const other = propsOf(thing, 'from').find((reading) => isAlong(reading) !== isAlong(own));
  if (other && list.length === 1) list.push(headText(other.statement));
}

function named(thing: Blueprint): string {
  return `${thing.word} "${thing.name}"`;
}

export function headText({ text, word, head }: Statement): string {
  return text.slice(word.start, head.end);
}

function blockOf(nodes: ReadonlyMap<Blueprint, Node>, isLong: boolean): string {
  const entries = [...nodes.values()].map((node) => {
    const own = [...node.said.values()].flat();
    const inner = [...node.inner.values()].length > 0 ? [blockOf(node.inner, false)] : [];
    const inside = [...own, ...inner.map((text) => text.slice(1, -1).trim())];
    const head = headOf(node.thing);
    const text = `${head} ${blockText(inside, inside.length > 2 && inner.length > 0)}`;
    return `${node.lead && `${node.lead}\n`}${text}${node.trail && ` ${node.trail}`}`;
  });
  return blockText(entries, isLong);
}

/** As short as the language allows: where a thing stands comes from the template that is extended. */
function headOf(thing: Blueprint): string {
  const reading = headReading(thing);
  switch (thing.word) {
    case 'shelves':
      return headText(reading.statement);
    case 'panels':
      return nameIn(reading) ? `panels ${thing.name}` : 'panels';
    case 'fixture': {
      const kind = fixtureKind(reading);
      return kind === thing.name && !nameIn(reading) ? `fixture ${kind}` : `fixture ${kind} ${thing.name}`;
    }
    default:
      return `${thing.word} ${thing.name}`;
  }
}
