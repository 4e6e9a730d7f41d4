import { expect, it } from 'vitest';
import { Source } from '../../grammar/source.ts';
import type { Statement } from '../../grammar/tree.ts';
import { Names } from '../../server/model/names.ts';
import { Dependents, Trace } from '../../server/model/trace.ts';
import { topWords } from '../../server/model/vocabulary.ts';

/** Names of boards, and the statement of each. */
function boards(...written: readonly string[]): { names: Names; statements: readonly Statement[] } {
  const names = new Names();
  const text = written.map((name) => `board ${name} { thickness 3/4in }\n`).join('');
  const statements = [...new Source('boards', text, topWords).statements()];
  for (const statement of statements) names.add(statement);
  return { names, statements };
}

it('holds until a name it looked up means something else', () => {
  const { names, statements } = boards('oak', 'ash');
  const trace = new Trace();
  names.find('board', 'oak', trace);
  expect(trace.stillHolds()).toBe(true);
  names.remove(statements[1] as Statement);
  expect(trace.stillHolds()).toBe(true);
  names.remove(statements[0] as Statement);
  expect(trace.stillHolds()).toBe(false);
});

it('holds no longer when what it took over does not', () => {
  const { names, statements } = boards('oak', 'ash');
  const [template, unit, other] = [new Trace(), new Trace(), new Trace()];
  names.find('board', 'oak', template);
  names.find('board', 'ash', other);
  unit.take(template);
  const again = new Trace();
  again.take(unit);
  expect(again.has('board oak')).toBe(true);
  names.remove(statements[0] as Statement);
  expect([again, unit, other].map((trace) => trace.stillHolds())).toEqual([false, false, true]);
});

it('does not hold when a name comes that was missing', () => {
  const { names } = boards('oak');
  const trace = new Trace();
  expect(names.find('board', 'ash', trace)).toBeUndefined();
  expect(trace.stillHolds()).toBe(true);
  const [late] = [...new Source('late', 'board ash { thickness 3/4in }', topWords).statements()];
  names.add(late as Statement);
  expect(trace.stillHolds()).toBe(false);
});

it('does not hold when another library goes under the name of the one that was used', () => {
  const { names } = boards();
  names.useLibrary('trade', boards('oak').names);
  const trace = new Trace();
  expect(names.find('board', 'trade.oak', trace)).toBeDefined();
  names.forgetLibraries();
  names.useLibrary('trade', boards('ash').names);
  expect(trace.stillHolds()).toBe(false);
});

it('tells who depends on a name, by traces of their own and by shared ones', () => {
  const { names } = boards('oak', 'ash', 'elm');
  const shared = new Trace();
  names.find('board', 'oak', shared);
  const traceOf = (own: string): Trace => {
    const trace = new Trace();
    names.find('board', own, trace);
    trace.take(shared);
    return trace;
  };
  const [first, second] = [{ name: 'first' }, { name: 'second' }];
  const dependents = new Dependents<{ name: string }>();
  const traces = [traceOf('ash'), traceOf('elm')] as const;
  const namesOf = (key: string): string[] => [...dependents.of(key)].map(({ name }) => name);
  dependents.move(first, undefined, traces[0]);
  dependents.move(second, undefined, traces[1]);
  expect(namesOf('board oak')).toEqual(['first', 'second']);
  expect(namesOf('board ash')).toEqual(['first']);
  const later = traceOf('elm');
  dependents.move(first, traces[0], later);
  expect(namesOf('board ash')).toEqual([]);
  expect(namesOf('board elm').toSorted()).toEqual(['first', 'second']);
  expect(namesOf('board oak').toSorted()).toEqual(['first', 'second']);
  // The same name looked up again: what was kept of it is kept on, and says what it means now.
  names.remove(names.find('board', 'elm')?.statement as Statement);
  const again = new Trace();
  names.findIfAny('board', 'elm', again);
  expect(later.stillHolds()).toBe(false);
  expect(dependents.move(first, later, again)).toBe(later);
  expect(later.stillHolds()).toBe(true);
  expect(namesOf('board elm').toSorted()).toEqual(['first', 'second']);
  expect(namesOf('board oak')).toEqual(['second']);
  dependents.drop(first, later);
  expect(namesOf('board elm')).toEqual(['second']);
  dependents.drop(second, traces[1]);
  expect(namesOf('board oak')).toEqual([]);
});
