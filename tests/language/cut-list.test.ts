import { describe, expect, it } from 'vitest';
import { cutListAt } from '../../server/language/cut-list.ts';
import { cursor } from './marked.ts';
import { twoUnits } from './two-units.ts';

const sound = `${twoUnits}survey v { taken "12 March, tape" }
`;

function told(text: string, place: string): { title: string; text: string } | undefined {
  const { snapshot, at } = cursor(text.replace(place, `|${place}`));
  return cutListAt(snapshot, at);
}

const notYet = 'Do not cut by this yet: ';

describe('a cut list in the editor', () => {
  it('is that of the unit, of the one that a survey is of, or of all on a template', () => {
    expect(told(sound, 'unit v')).toMatchObject({
      title: 'Cut list of v',
      text: expect.stringMatching(/ 1 +50in .* a\.s\n/),
    });
    expect(told(sound, 'survey')).toEqual(told(sound, 'unit v'));
    expect(told(sound, 'template')?.text).toMatch(/ 1 +60in .* a\.s in u\n +1 +50in .* a\.s in v\n/);
    expect(told(sound, 'board')).toEqual(told(sound, 'template'));
    for (const place of ['template', 'unit u', 'unit v', 'survey']) {
      expect(told(sound, place)?.text).not.toContain(notYet);
    }
    expect(told(`${sound}board pine { depth 12in }\n`, 'board pine')).toBeUndefined();
  });

  it('begins with that nobody is to cut by it, where there are errors in what it is made of', () => {
    const tooHigh = sound.replace('unit v t { width 50in }', 'unit v t { width 50in; override a.s { at 97in } }');
    for (const place of ['unit v', 'survey']) {
      expect(told(tooHigh, place)?.text).toMatch(
        /^Do not cut by this yet: there (?:is|are) \d errors? in this unit\.\n\n/,
      );
    }
    expect(told(tooHigh, 'unit u')?.text).not.toContain(notYet);
    expect(told(tooHigh, 'template')?.text).toMatch(/^Do not cut by this yet: there are errors in unit v\.\n\n/);
    const all = sound.replace('at 60in', 'at 97in');
    expect(told(all, 'template')?.text).toMatch(/^Do not cut by this yet: there are errors in the 2 units\.\n\n/);
  });

  it('says so too where something of it cannot be read, and not that there is nothing to cut', () => {
    const broken = sound.replace('at 60in', 'at 6O in');
    const why = 'not all of what it is built of can be read.';
    const unknown = 'What is to be cut cannot be told until the errors are mended.';
    expect(told(broken, 'unit v')?.text).toBe(`${notYet}${why}\n\nUnit v (t)\n\n${unknown}\n`);
    expect(told(broken, 'template')?.text).toBe(
      `${notYet}not all of what the 2 units are built of can be read.\n\n${unknown}\n`,
    );
    const half = sound.replace('width 50in', 'width 5O in');
    expect(told(half, 'template')?.text).toContain(`${notYet}not all of what unit v is built of can be read.\n\n`);
    const empty = sound.replace('; shelf s { at 60in }', '');
    expect(told(empty, 'unit v')?.text).toBe('Unit v (t)\n\nNothing is to be cut.\n');
  });
});
