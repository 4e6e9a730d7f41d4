/** How many patterns, and settings of the stop, a project allows. */
import { expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const project = (limits: string) => `project "Quarry Lane" { currency EUR; ${limits} }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 104in price 18.90 EUR }
extra long { board white-12; length 30in; count 4 }
extra middle { board white-12; length 20in; count 4 }
extra short { board white-12; length 7in; count 1 }
`;

const plan = (limits: string, words: readonly string[] = []) =>
  storypole(['plan', ...words], folderWith({ 'a.closet': project(limits) }));

// Two boards hold 2 x 30 and 2 x 20 each (100-3/8 with three cuts), and the piece of 7 a third: 2 patterns.
it('says in the plan which limit of the project it does not keep to, and costs no more for it', () => {
  const { out, status } = plan('patterns at most 1; stop-settings at most 2');
  expect(status).toBe(0);
  expect(out).toContain('3 boards, 56.70 EUR');
  expect(out).toContain('The limit of 1 pattern is not kept to: 2 are the fewest found at this cost.');
  expect(out).toContain('The limit of 2 settings of the stop is not kept to: 3 are the fewest found at this cost.');
});

it('says nothing of limits that are kept to, and puts those of the command line first', () => {
  expect(plan('patterns at most 2; stop-settings at most 3').out).not.toContain('limit');
  expect(plan('patterns at most 1', ['--most-patterns', '2']).out).not.toContain('limit');
  expect(plan('patterns at most 2', ['--most-patterns', '1']).out).toContain('The limit of 1 pattern is not kept to');
});

it('goes for each delivery on its own', () => {
  const { out } = plan('patterns at most 1', ['--by', 'phase']);
  expect(out).toContain('The limit of 1 pattern is not kept to: 2 are the fewest found at this cost.');
});

it('refuses a limit of none, and one that is no whole number', () => {
  for (const count of ['0', '1.5', '2in']) {
    const { out, status } = storypole(['check'], folderWith({ 'a.closet': project(`patterns at most ${count}`) }));
    expect([count, status]).toEqual([count, 1]);
    expect(out).toContain(`patterns at most ${count}`);
  }
});
