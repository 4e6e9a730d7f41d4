/** Lengths that are written elsewhere in the same template of things of the same kind: a shelf that lines up with those beside it. */
import type { Item, Statement } from '../../grammar/tree.ts';
import { textsThatHold } from '../checks/alternatives.ts';
import type { Offer } from './offer.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageAt } from './target.ts';

/** So many are tried on all that rests on the template; those that are written most often first. */
const mostTried = 6;
/** Of so many that have a length it is said whose it is. */
const mostNamed = 2;

/**
 * What stands in the place of `item` of other statements like the last of the trail (`at` of a shelf, `width` of a zone), as
 * far as it is a plain length that brings no error and no warning here. Known once the project is up to date.
 */
export function lengthsElsewhere(
  snapshot: Snapshot,
  trail: readonly Statement[],
  item: Item | undefined,
  index: number,
): Offer[] {
  const [template] = trail;
  const statement = trail.at(-1);
  if (!snapshot.project.isFresh || template?.word.text !== 'template' || !statement || trail.length < 2) return [];
  const owners = new Map<string, string[]>();
  for (const { text, owner } of alike(snapshot, trail, index)) {
    const named = owners.get(text) ?? [];
    named.push(owner);
    owners.set(text, named);
  }
  const texts = [...owners.keys()]
    .sort((a, b) => (owners.get(b)?.length ?? 0) - (owners.get(a)?.length ?? 0))
    .slice(0, mostTried);
  const end = statement.head.end;
  const place = { statement, start: item?.start ?? end, end: item?.end ?? end };
  return textsThatHold(snapshot.project, place, texts, item ? '' : ' ').map((text) => ({
    kind: 'value',
    label: text,
    text,
    detail: `as ${asNamed(owners.get(text) ?? [])}`,
    rank: 1,
  }));
}

function* alike(
  snapshot: Snapshot,
  trail: readonly Statement[],
  index: number,
): Generator<{ readonly text: string; readonly owner: string }> {
  const own = trail.at(-1) as Statement;
  const around = trail.at(-2) as Statement;
  for (const { statement } of lineageAt(snapshot, trail)) {
    for (const line of linesWithin(statement, [])) {
      const found = line.at(-1) as Statement;
      const owner = line.at(-2) as Statement;
      const item = found.items[index];
      if (found === own || found.word.text !== own.word.text || owner.word.text !== around.word.text) continue;
      if (item?.kind === 'number' && item.parts.every(({ unit }) => unit))
        yield { text: item.raw, owner: line.slice(1, -1).flatMap(nameOf).join('.') || owner.word.text };
    }
  }
}

/** Each statement that has another around it, with all that it stands in. */
function* linesWithin(statement: Statement, above: readonly Statement[]): Generator<readonly Statement[]> {
  const line = [...above, statement];
  for (const child of statement.block?.children ?? []) {
    yield [...line, child];
    yield* linesWithin(child, line);
  }
}

function nameOf({ items: [first] }: Statement): string[] {
  return first?.kind === 'path' ? [first.words.map(({ text }) => text).join('.')] : [];
}

function asNamed(owners: readonly string[]): string {
  const names = owners.slice(0, mostNamed).join(', ');
  return owners.length > mostNamed ? `${names} and ${owners.length - mostNamed} more` : names;
}
