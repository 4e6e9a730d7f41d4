/** The parameters of the template that a statement is about, and the words that stand in the block of an override. */
import type { Statement } from '../../grammar/tree.ts';
import { nameIn, type Reading } from '../model/reading.ts';
import type { BlockPlace } from '../model/vocabulary.ts';
import { placeOverridden } from './meaning.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageAt } from './target.ts';

export interface Parameter {
  readonly name: string;
  readonly statement: Statement;
  readonly reading: Reading;
  /** It has no default. */
  readonly needed: boolean;
  /** `width: length = 36in from 30in to 42in`, as it is written. */
  readonly text: string;
}

/** Those of the bases included, the nearest template's first. */
export function parametersAt(snapshot: Snapshot, trail: readonly Statement[]): Parameter[] {
  const found = new Map<string, Parameter>();
  for (const { reading: template } of lineageAt(snapshot, trail)) {
    for (const reading of template.children) {
      const name = reading.word === 'parameter' ? nameIn(reading) : undefined;
      if (!name || found.has(name.text)) continue;
      const { statement } = reading;
      const text = statement.text.slice(name.start, statement.head.end);
      found.set(name.text, { name: name.text, statement, reading, needed: !reading.slots.default?.length, text });
    }
  }
  return [...found.values()];
}

/** The statements of an override are those of the thing it changes. */
export function placeOfWord(snapshot: Snapshot, trail: readonly Statement[], place: BlockPlace): BlockPlace {
  return place === 'override' ? (placeOfThing(snapshot, trail.slice(0, -1)) ?? place) : place;
}

/** The place whose words change a thing that a unit overrides. */
export function placeOfThing({ project }: Snapshot, around: readonly Statement[]): BlockPlace | undefined {
  return placeOverridden(project.names, around);
}
