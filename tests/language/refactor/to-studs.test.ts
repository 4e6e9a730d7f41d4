/** Fixings that miss a stud where no finding asks for one: their hardware may be moved as far as the nearest. */
import { describe, expect, it } from 'vitest';
import type { Source } from '../../../grammar/source.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import type { Project } from '../../../server/model/project.ts';
import { takeoffOf } from '../../../server/sheets/takeoff.ts';
import { exampleTexts } from '../../examples/load.ts';
import { applied, made, projectFrom, titleOf } from './support.ts';

const id = 'move-to-studs';
const all = 'move-all-to-studs';

/** A shelf of 40 in along a wall of 40 in; supports 2 in from its ends, and so at 2 and 38 in. */
const texts = (hardware: string, studs = 'studs 5in, 36in', more = ''): Record<string, string> => ({
  'main.closet': `|hardware rear { is support; inset 2in${hardware}; anchor plug }
hardware plug { is anchor; rated 100 lb }

template t {
  board white-12
  carried by rear
  wall back { length 40in; height 96in; ${studs} }
  zone a on back { width fill; shelf s { at 40in } }
}

unit u t
unit v t
${more}`,
});

describe('fixings that miss a stud', () => {
  it('may be moved as far as the nearest, or as far as all of them need', () => {
    // Shifts are counted in quarters of an inch: from 38 to 36, and from 2 to 5.
    expect(titleOf(texts(''), id)).toBe('Let "rear" be moved 2in, so that 1 more of the 2 that miss a stud meets one');
    expect(titleOf(texts(''), all)).toBe('Let "rear" be moved 3in, so that 2 more of the 2 that miss a stud meet one');
    const after = made(texts(''), all, 'other')['main.closet'] ?? '';
    expect(after).toContain('hardware rear { is support; inset 2in; anchor plug; shift 3in }');
    // All meet one now, and nothing is left to move.
    expect(titleOf({ 'main.closet': `|${after}` }, id)).toBeUndefined();
  });

  it('may be moved farther than they could before, with the steps that they have', () => {
    expect(made(texts('; shift 2in by 1in'), id, 'other')['main.closet']).toContain('shift 3in by 1in');
  });

  it('are as many as can meet one', () => {
    expect(titleOf(texts('', 'studs 5in'), id)).toBe(
      'Let "rear" be moved 3in, so that 1 more of the 2 that miss a stud meets one',
    );
    expect(titleOf(texts('', 'studs 5in'), all)).toBeUndefined();
  });

  it('are not spoken of where all meet one, none can, or nobody knows where studs are', () => {
    expect(titleOf(texts('; shift 3in'), id)).toBeUndefined();
    expect(titleOf(texts('', 'framing spf'), id)).toBeUndefined();
    expect(titleOf({ 'main.closet': '|hardware rear { is support }\n' }, id)).toBeUndefined();
  });

  it('are left to the quick fix where a finding asks for it', () => {
    expect(titleOf(texts('; in-stud 1'), id)).toBeUndefined();
  });
});

it('tells of the brackets that are needed beside, since what is moved spans farther: as many as the takeoff then has', () => {
  const texts = exampleTexts('quarry-lane');
  const project = projectFrom(texts);
  const path = '/p/hardware.closet';
  const at = texts[path]?.indexOf('hardware angle-bracket') ?? 0;
  const source = project.sources.get(path) as Source;
  const [offer] = refactorings({ project, source, path }, { start: at, end: at });
  const brackets = (of: Project): number =>
    takeoffOf(of.units()).hardware.find(({ hardware: { name } }) => name === 'angle-bracket')?.count ?? 0;
  const more = brackets(projectFrom(applied(texts, offer?.edits ?? []))) - brackets(project);
  expect(more).toBeGreaterThan(0);
  expect(offer?.title).toMatch(new RegExp(`; farther apart, ${more} more of it are needed$`));
});
