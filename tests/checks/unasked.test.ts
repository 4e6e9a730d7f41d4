/**
 * What is mended unasked is how something is written, and nothing else: of the numbers that stand in a text none is
 * altered, dropped, added or measured otherwise.
 */
import '../seed.ts';
import { constantFrom, assert as holds, integer, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Source } from '../../grammar/source.ts';
import { segmentOf } from '../../grammar/tree.ts';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { keepsNumbers } from '../../server/checks/kept-numbers.ts';
import { isOfText, mended, obvious } from '../../server/checks/mending.ts';
import { projectOf } from '../model/support.ts';

const file = '/p/main.closet';

/** What is made of a text without asking; the text itself where nothing is. */
function mend(text: string): string {
  return mended(projectOf(text), { which: isOfText }).texts.get(file) ?? text;
}

/** The titles of what an editor offers in it, and of those that it prefers. */
function offered(text: string): { offers: string[]; preferred: string[] } {
  const project = projectOf(text);
  const all = project.findings().map((found) => ({ found, held: fixesThatHold(project, found) }));
  return {
    offers: all.flatMap(({ held }) => held.map(({ title }) => title)),
    preferred: all.flatMap(({ found, held }) => obvious(project, found, held)?.title ?? []),
  };
}

const closet = (at: string, more = ''): string => `template t {
  parameter width: length = 60in from 50in to 70in
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at ${at} } }
  ${more}
}
unit A-101 t
`;
const surveyed = (survey: string): string => `${closet('40in')}${survey}\n`;

describe('of numbers, unasked', () => {
  it.each([
    // A letter in place of a digit, a digit among letters.
    ['7Oin', 'Write 70in'],
    ['7lin', 'Write 71in'],
    ['7i8n', 'Write "in"'],
    ['7i8', 'Write "in"'],
    ['78in2', 'Write "in"'],
    // Two units of measure that are as near.
    ['78im', 'Write "in"'],
    // What parts thousands.
    ['1,978mm', 'Write 1978mm'],
    // The only likely unit of measure, where none or another one is written.
    ['84ft', 'Write 84in'],
    ['500', 'Write 500mm'],
  ])('nothing is made of %s, and what may be meant is offered: %s', (at, title) => {
    const text = closet(at);
    expect(mend(text)).toBe(text);
    expect(offered(text).offers).toContain(title);
    expect(offered(text).preferred).toEqual([]);
  });

  it.each([
    ['wall back { length 5.4 }', 'Write 5.4ft'],
    ['wall back { length 62ft }', 'Write 62in'],
    ['wall back { length 6Oin }', 'Write 60in'],
    ['wall back { length 62in at 1,250mm }', 'Write 1250mm'],
  ])('nothing is made of what was measured: %s', (survey, title) => {
    const text = surveyed(`survey A-101 { ${survey} }`);
    expect(mend(text)).toBe(text);
    expect(offered(text).offers).toContain(title);
    expect(offered(text).preferred).toEqual([]);
  });

  it.each([
    ['40½in', '40-1/2in'],
    ['40 ½ in', '40-1/2 in'],
    ['40,5in', '40.5in'],
    ['1016,25mm', '1016.25mm'],
    ['40″', '40in'],
    ["3' 5''", '3ft 5in'],
    ['3’-5 1/2’’', '3ft 5 1/2in'],
    ['40 inches', '40 in'],
    ['40inx', '40in'],
    ['42in – 1/2in', '42in - 1/2in'],
  ])('the spelling of %s is mended', (at, meant) => {
    expect(mend(closet(at))).toBe(closet(meant));
  });
});

describe('of names, unasked', () => {
  it('none is changed into one with other digits', () => {
    const text = closet('40in').replace('white-12', 'white-21');
    expect(mend(text)).toBe(text);
    expect(offered(text)).toEqual({ offers: ['Write "white-12"'], preferred: [] });
    expect(mend(closet('40in').replace('white-12', 'whit-12'))).toBe(closet('40in'));
  });

  it('what was measured in one flat is given to no other', () => {
    for (const unit of ['A-102', 'A-1001', 'B-101']) {
      const text = surveyed(`survey ${unit} { wall back { length 60-1/2in } }`);
      expect(mend(text)).toBe(text);
      expect(offered(text)).toEqual({ offers: ['Write "A-101"'], preferred: [] });
    }
  });

  it('none is chosen from several that are as near, also where a rule objects to the others', () => {
    const text = closet('40in', 'zone east on back after a { width 10in }; zone c on back after eas { width 10in }');
    const two = text.replace('zone c', 'zone eash on back { width 1in }; zone c');
    expect(mend(two)).toBe(two);
    expect(offered(two).preferred).toEqual([]);
  });

  it('none is spelt as in a declaration that nobody else names', () => {
    const board = 'board whiet-14 { depth 12in; thickness 3/4in }\nstock white-14 { length 8ft }\n';
    const wall = closet('40in', 'zone b on back after a { width 10in }').replace('wall back', 'wall bck');
    const shelf = closet('40in } ; shelf tp { at 84in }; shelf u { under top by 6in }; shelf v { under top by 12in');
    for (const text of [board + closet('40in').replace('white-12', 'white-14'), wall, shelf])
      expect(mend(text)).toBe(text);
    expect(offered(wall).offers).toContain('Write "bck"');
  });
});

describe('words', () => {
  it('are no misspelt ones of others', () => {
    const text = closet('40in', 'fixture outlet on back { from height 35in }');
    expect(mend(text)).toBe(text);
  });

  it('are not taken for a name beside themselves', () => {
    const ceiling = closet('40in', 'fixture sprinkler on { from left 30in; from back 20in; depth 2in }');
    expect(mend(ceiling)).toBe(ceiling);
    expect(offered(ceiling).offers).not.toContain('Write "on"');
    const twisted = closet('40in', 'fixture outlet no back { from left 10in; height 35in }');
    expect(mend(twisted)).toBe(twisted.replace('no back', 'on back'));
  });
});

describe('whatever a rule proposes', () => {
  const text = closet('40in');
  const project = projectOf(text);
  const [template] = [...(project.sources.get(file) as Source).statements()];
  const keeps = (from: string, to: string): boolean => {
    if (!template) throw new Error('the template is not there');
    const start = template.text.indexOf(from);
    const edit = { place: { statement: template, start, end: start + from.length }, text: to };
    expect(segmentOf(template).source).toBe(project.sources.get(file));
    return keepsNumbers({ edits: [edit] }, project.sources.values());
  };

  it.each([
    ['at 40in', 'at 40.0in', false],
    ['at 40in', 'at 40mm', false],
    ['at 40in', 'at 40', false],
    ['at 40in', 'at 4 0in', false],
    ['at 40in', 'at s', false],
    ['at 40in', 'at 40in; depth 12in', false],
    ['white-12', 'white-16', false],
    ['shelf s', '', true],
    ['shelf s', 'shelf top', true],
    ['white-12', 'trade.white-12', true],
    ['from 50in to 70in', 'to 70in from 50in', true],
  ])('%s in place of which %s is written is a spelling: %s', (from, to, isSpelling) => {
    expect(keeps(from, to)).toBe(isSpelling);
  });
});

describe('after any slips of the keyboard', () => {
  const written = `board oak-14 { depth 14in; thickness 3/4in }
stock oak-14 { length 8ft; length 12ft }
template reach-in {
  parameter width: length from 92in to 98in
  board oak-14
  wall back { length width; height 2438.4mm; studs every 16in from 14-1/2in }
  zone shirts on back { width 48in; shelf high { at 84in }; shelf low { at 42in; load 15 lbf/ft2 } }
  zone coats on back after shirts { width fill at least 20in; shelf top { at 72in } }
}
unit A-101 reach-in { floor 1; width 93-3/4in }
unit A-102 reach-in mirrored { floor 1; width 2400 mm }
survey A-101 { wall back { length 93-1/2in at 4in, 93-5/8in at 48in } }
`;
  const signs = [...'abeimnoOlI01258,.-/\'"½″ ;{}'];
  const digits = (text: string): string => [...text.normalize('NFKC').matchAll(/\d/g)].map(String).sort().join('');
  const measured = (text: string, unit: string): number =>
    [...text.matchAll(new RegExp(`\\d ?${unit}(?![\\p{L}\\d])`, 'gu'))].length;

  it('all digits stand there as before, and no number is in another unit of measure', () => {
    const slip = integer({ min: 0, max: written.length - 1 });
    holds(
      property(
        slip,
        slip,
        constantFrom(...signs),
        constantFrom('insert', 'replace', 'drop', 'swap'),
        (at, other, sign, how) => {
          const slipped = (text: string, i: number): string => {
            if (how === 'insert') return text.slice(0, i) + sign + text.slice(i);
            if (how === 'replace') return text.slice(0, i) + sign + text.slice(i + 1);
            if (how === 'drop') return text.slice(0, i) + text.slice(i + 1);
            return text.slice(0, i) + text.slice(i + 1, i + 2) + text.slice(i, i + 1) + text.slice(i + 2);
          };
          const text = slipped(slipped(written, Math.max(at, other)), Math.min(at, other));
          const after = mend(text);
          if (after === text) return;
          expect(digits(after)).toBe(digits(text));
          for (const unit of ['in', 'ft', 'mm', 'cm', 'm'])
            expect(measured(after, unit), unit).toBeGreaterThanOrEqual(measured(text, unit));
        },
      ),
      { numRuns: 60 },
    );
  });
});
