/** What can be computed with: parameters of a template, and dimensions that are given as a length. */

import type { Dimension } from '../../grammar/measures.ts';
import type { Expression, Statement } from '../../grammar/tree.ts';
import type { Declared } from '../model/names.ts';
import { child, dotted, expressionIn, nameIn, pathIn, type Reading } from '../model/reading.ts';
import { headText } from './completion-offer.ts';
import { operandsOf } from './completion-path.ts';
import { commented } from './markdown.ts';
import { withDimensions } from './meaning.ts';
import type { Offer } from './offer.ts';
import { parametersAt } from './parameters.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageAt } from './target.ts';

/** Where a quantity is written. */
export interface Wanted {
  readonly dimension: Dimension;
  /** It is part of a sum: what is multiplied or divided may be of another kind. */
  readonly inSum: boolean;
}

/** Parameters and dimensions of the template around, or of that which a unit overrides or a survey is about. */
export function valueOffers(snapshot: Snapshot, trail: readonly Statement[], wanted: Wanted): Offer[] {
  if (!isComputed(trail)) return [];
  const parameters = parametersAt(snapshot, trail).filter(({ reading }) => {
    const type = pathIn(reading, 'type');
    return type && fits(dotted(type), wanted);
  });
  return [
    ...parameters.map(
      ({ name, statement }): Offer => ({
        kind: 'parameter',
        label: name,
        text: name,
        detail: headText(statement),
        doc: () => statement.doc && commented(statement.doc),
        rank: 2,
      }),
    ),
    ...(fits('length', wanted) ? dimensionOffers(snapshot, trail) : []),
  ];
}

/** Names have values in a template, in what a unit overrides, and in what is measured of one. */
function isComputed(trail: readonly Statement[]): boolean {
  const top = trail[0]?.word.text;
  if (top === 'template') return trail.length > 1;
  return (top === 'unit' || top === 'survey') && trail.length > 2;
}

function fits(type: string, { dimension, inSum }: Wanted): boolean {
  if (type === dimension) return type === 'length' || type === 'count' || type === 'angle';
  // `back.length / 12in` is a count, and anything can be taken some times.
  return inSum && (type === 'count' || (type === 'length' && dimension === 'count'));
}

const dimensions: Readonly<Record<string, readonly string[]>> = {
  wall: ['length', 'height'],
  opening: ['width', 'height'],
  zone: ['width'],
  gap: ['width'],
};

/** Statements whose lengths go up from the floor; those of all others mostly lie along a wall. */
const upright: ReadonlySet<string> = new Set(['at', 'height', 'above', 'under', 'between', 'pitch']);

/** Not the one that is being written, those that are computed from it, nor those that the chain of zones has still to find. */
function dimensionOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const writing = trail.at(-1);
  const lineage = lineageAt(snapshot, trail);
  const own = ownDimension(trail);
  return [...namesWithDimensions(lineage)].flatMap((name) => {
    const [thing] = withDimensions(lineage, name)?.heads ?? [];
    return (dimensions[thing?.word ?? ''] ?? []).flatMap((property): Offer[] => {
      const label = `${name}.${property}`;
      const given = givenAs(lineage, name, property);
      if (!thing || !given || (own !== undefined && isComputedFrom(lineage, label, own))) return [];
      const detail = `${thing.word} ${name} { ${headText(given.statement)} }`;
      // A height beside heights, a width beside widths; the others can still be meant.
      const isAlike = (property === 'height') === upright.has(writing?.word.text ?? '');
      return [{ kind: 'dimension', label, text: label, detail, rank: isAlike ? 3 : 4 }];
    });
  });
}

function namesWithDimensions(lineage: readonly Declared[]): Set<string> {
  return new Set(
    lineage.flatMap(({ reading }) =>
      reading.children.flatMap((thing) => (Object.hasOwn(dimensions, thing.word) ? (nameIn(thing)?.text ?? []) : [])),
    ),
  );
}

/** The statement that gives a dimension as a length: what a template says goes before what those say that it extends. */
function givenAs(lineage: readonly Declared[], name: string, property: string): Reading | undefined {
  const thing = withDimensions(lineage, name);
  if (!thing || !dimensions[thing.heads[0].word]?.includes(property)) return undefined;
  const said = thing.heads.map((head) => child(head, property)).find((reading) => reading !== undefined);
  return said && expressionIn(said, 'value') ? said : undefined;
}

/** `back.length`, where the length of a wall of the template is being written. */
function ownDimension([top, thing, property, more]: readonly Statement[]): string | undefined {
  const name = thing?.items[0];
  if (top?.word.text !== 'template' || !property || more || name?.kind !== 'path') return undefined;
  return dimensions[thing?.word.text ?? '']?.includes(property.word.text)
    ? `${dotted(name)}.${property.word.text}`
    : undefined;
}

/** Dimensions may be computed from others, and none from itself. */
function isComputedFrom(lineage: readonly Declared[], label: string, from: string, seen = new Set<string>()): boolean {
  if (label === from) return true;
  if (seen.has(label)) return false;
  seen.add(label);
  const [name = '', property = ''] = label.split('.');
  const given = givenAs(lineage, name, property);
  const expression = given && expressionIn(given, 'value');
  return expression !== undefined && pathsIn(expression).some((path) => isComputedFrom(lineage, path, from, seen));
}

/** The dimensions that are named in an expression. */
function pathsIn(e: Expression): string[] {
  if (e.kind === 'path') return e.words.length === 2 ? [dotted(e)] : [];
  return operandsOf(e).flatMap(pathsIn);
}
