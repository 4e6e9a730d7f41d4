/** A template of a library as a project has to write it: what it names of its library, with the name of that before it. */
import { Source } from '../../../grammar/source.ts';
import { calledInProject, type Declared, type DeclaredKind } from '../../model/names.ts';
import { slotsOf } from '../../model/phrase.ts';
import { dotted, pathIn, type Reading, readingAt } from '../../model/reading.ts';
import { topWords } from '../../model/vocabulary.ts';
import { kindsOf, namedByParameters } from '../meaning.ts';
import { thingAt } from '../things.ts';
import { type Edit, instead, textAfter } from './edits.ts';

/** `lineage` begins with the template itself. */
export function qualified(template: Declared, lineage: readonly Declared[]): Reading {
  const { home, reading, statement } = template;
  const isParameter = (name: string): boolean => thingAt(lineage, [name], 'parameter') !== undefined;
  const edits = home.prefix === '' ? [] : [...prefixed(reading, template, isParameter)];
  if (edits.length === 0) return reading;
  const source = new Source('', textAfter(statement, edits), topWords);
  const [written] = source.segments.flatMap((segment) => segment.statements);
  return (written && readingAt(written, 'file')) ?? reading;
}

function* prefixed(reading: Reading, template: Declared, isParameter: (name: string) => boolean): Generator<Edit> {
  yield* asProjectNames(reading, template, isParameter);
  for (const child of reading.children) yield* prefixed(child, template, isParameter);
}

/** The same of one statement of it, without those in its block. */
export function* asProjectNames(
  reading: Reading,
  { home }: Declared,
  isParameter: (name: string) => boolean,
): Generator<Edit> {
  for (const { name, type } of slotsOf(reading.entry.phrase)) {
    const kinds = type.kind === 'ref' ? kindsOf(type.to) : name === 'default' ? kindsGiven(reading) : [];
    for (const item of kinds.length > 0 ? (reading.slots[name] ?? []) : []) {
      if (item.kind !== 'path' || isParameter(dotted(item))) continue;
      const found = kinds.map((kind) => home.find(kind, dotted(item))).find((one) => one !== undefined);
      // What comes with the tool has the same name everywhere; a library that is used by another, one of its own.
      if (found && found.home.prefix !== '')
        yield instead(reading.statement, { start: item.start, end: item.end }, calledInProject(found));
    }
  }
}

/** What the default of a parameter names. */
function kindsGiven(parameter: Reading): readonly DeclaredKind[] {
  const type = pathIn(parameter, 'type');
  return type ? namedByParameters.filter((kind) => kind === dotted(type)) : [];
}
