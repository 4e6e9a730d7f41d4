/** A template of a library as a project has to write it: what it names of its library, with the name of that before it. */
import { Source } from '../../../grammar/source.ts';
import type { Declared, DeclaredKind } from '../../model/names.ts';
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
  const { home } = template;
  const ofLibrary = (kinds: readonly DeclaredKind[], name: string): boolean =>
    kinds.some((kind) => home.find(kind, name)?.home.prefix.startsWith(home.prefix));
  for (const { name, type } of slotsOf(reading.entry.phrase)) {
    const kinds = type.kind === 'ref' ? kindsOf(type.to) : name === 'default' ? kindsGiven(reading) : [];
    for (const item of kinds.length > 0 ? (reading.slots[name] ?? []) : [])
      if (item.kind === 'path' && !isParameter(dotted(item)) && ofLibrary(kinds, dotted(item)))
        yield instead(reading.statement, { start: item.start, end: item.start }, home.prefix);
  }
  for (const child of reading.children) yield* prefixed(child, template, isParameter);
}

/** What the default of a parameter names. */
function kindsGiven(parameter: Reading): readonly DeclaredKind[] {
  const type = pathIn(parameter, 'type');
  return type ? namedByParameters.filter((kind) => kind === dotted(type)) : [];
}
