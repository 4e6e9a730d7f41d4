/** What a test of a limit says: just as much works, and one more is told. */
import { expect, it } from 'vitest';
import { type LimitName, limits } from '../../server/model/limits.ts';
import { allFindings, projectOf, workspaceOf } from '../model/support.ts';

/** Those that have a test. */
export const reached = new Set<LimitName>();

/** A test of a limit, which it is given as a number. */
export function reaches(name: LimitName, test: (most: number) => void | Promise<void>): void {
  reached.add(name);
  it(`${name}: ${limits[name].most.toLocaleString('en')}`, () => test(limits[name].most));
}

/** A unit of another template, in a file of its own: what it comes to when something beside it is too much. */
const beside = `template neighbour {
  board white-12
  wall back { length 8ft; height 96in }
  zone z on back { width fill; shelf s { at 80in } }
}
unit next-door neighbour
`;

export interface Said {
  readonly rule: string;
  readonly message: string;
  readonly advice: string;
}

/** What is found in a text; the unit beside it has its shelf all the same. */
export function saidOf(text: string): Said[] {
  const workspace = workspaceOf({
    '/p/a.closet': beside,
    '/p/main.closet': `project "P" { show inches }\n${materials}${text}`,
  });
  const project = workspace.projectOf('/p/main.closet')?.project;
  if (!project) throw new Error('there is no project');
  const next = [...project.units()].find(({ name }) => name === 'next-door');
  expect(next?.resolved?.layout.parts.map(({ path }) => path)).toEqual(['z.s']);
  return allFindings(project).map(({ rule, message, advice = '' }) => ({ rule: rule.id, message, advice }));
}

const materials = `board white-12 { depth 12in; thickness 3/4in }
board paper { depth 12in; thickness 0.001mm }
stock white-12 { length 8ft unlimited }
stock paper { length 8ft unlimited }
rod chrome { diameter 1in }
stock chrome { length 8ft unlimited }
`;

/** Just as much is not told; one more is, once, by the rule that the table names, with the limit in the message. */
export function within(name: LimitName, text: (count: number) => string, expected: RegExp): void {
  const { most, told } = limits[name];
  const rule = 'rule' in told ? told.rule : '';
  const by = (count: number): Said[] => saidOf(text(count)).filter((said) => said.rule === rule);
  expect(by(most).filter(({ message }) => expected.test(message))).toEqual([]);
  const [first, ...others] = by(most + 1).filter(({ message }) => expected.test(message));
  expect(first?.message).toMatch(expected);
  expect(first?.advice).not.toBe('');
  expect(others.length).toBeLessThan(2);
}

export function many(count: number, line: (i: number) => string): string {
  return Array.from({ length: count }, (_, i) => line(i)).join('\n');
}

export { allFindings, projectOf, workspaceOf };
