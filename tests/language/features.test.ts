import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { quickFixesAt } from '../../server/language/actions.ts';
import { completionsAt } from '../../server/language/completion.ts';
import { cutListAt } from '../../server/language/cut-list.ts';
import { definitionAt } from '../../server/language/definition.ts';
import { foldsOf } from '../../server/language/folding.ts';
import { hoverAt } from '../../server/language/hover.ts';
import { highlightsAt, referencesAt } from '../../server/language/references.ts';
import { renameAt, renameableAt } from '../../server/language/rename.ts';
import { selectionsAt } from '../../server/language/selection.ts';
import { symbolsOf } from '../../server/language/symbols.ts';
import { usedFrom, usersOf } from '../../server/language/template-use.ts';
import { typeDefinitionsAt } from '../../server/language/type-definition.ts';
import { cursor, snapshotOf } from './marked.ts';

/** What is offered, best first, and the text it replaces. */
function offered(marked: string): { labels: string[]; replaced: string | undefined } {
  const { snapshot, at, text } = cursor(marked);
  const found = completionsAt(snapshot, at).sort((a, b) => a.rank - b.rank);
  return { labels: found.map((c) => c.label), replaced: found[0] && text.slice(found[0].start, found[0].end) };
}

/** A template with a zone that holds `inside`, and a unit that says `given`. */
const closet = (inside: string, given = 'width 60in'): string => `template t {
  parameter width: length from 50in to 70in
  wall back { length width; height 96in }
  board white-12
  pole chrome
  zone a on back { width fill
    shelf top { at 84in }
    ${inside}
  }
}
unit u t { ${given} }
`;

describe('folds', () => {
  it('of comments that follow each other are one, on one line too', () => {
    const text = '/* a\n b\n*/ // c\n// d\nunit u t { // e\n}\n';
    const folds = foldsOf(snapshotOf(text)).map(({ kind, start, end }) => `${kind} ${text.slice(start, end)}`);
    expect(folds).toEqual(['block { // e\n', 'comment /* a\n b\n*/ // c\n// d', 'comment // e']);
  });
});

describe('completion', () => {
  it('offers the words that may stand there', () => {
    expect(offered(closet('sh|')).labels).toContain('shelf');
    expect(offered(closet('sh|')).replaced).toBe('sh');
    expect(offered('te|').labels).toContain('template');
    expect(offered(closet('shelf low { | }')).labels).not.toContain('template');
  });

  it('offers names by kind, and words of the phrase', () => {
    expect(offered(closet('rod r { under | }')).labels).toEqual(['top']);
    expect(offered(closet('rod r { under top | }')).labels).toEqual(['by']);
    expect(offered(closet('shelf low { board wh| }'))).toEqual({ labels: ['white-12', 'white-16'], replaced: 'wh' });
  });

  it('offers what a unit has still to give before the rest', () => {
    expect(offered(closet('', '|')).labels[0]).toBe('width');
    expect(offered(closet('', 'width 60in; |')).labels[0]).not.toBe('width');
    expect(offered(closet('', 'width 60in; override a.top { | }')).labels).toContain('at');
  });

  it('offers units of measure right behind a number, and nothing else', () => {
    expect(offered(closet('shelf low { at 12| }'))).toEqual({ labels: ['in', 'ft', 'mm', 'cm', 'm'], replaced: '' });
  });

  it('offers parameters and dimensions to compute with', () => {
    expect(offered(closet('shelf low { at 3in + | }')).labels).toEqual(['width', 'back.height', 'back.length']);
  });

  it('offers nothing in comments and texts', () => {
    for (const marked of ['// a |', '/// a |\nunit u t', '/* a | */', 'project "a|b" { show inches }'])
      expect(offered(marked).labels).toEqual([]);
  });
});

describe('hover', () => {
  const told = (marked: string): string | undefined => {
    const { snapshot, at } = cursor(marked);
    return hoverAt(snapshot, at)?.text;
  };

  it('tells a length in the other system', () => {
    expect(told(closet('shelf low { at 4|2in }'))).toBe('42in = 1066.8mm');
    expect(told(closet('shelf low { at 1016m|m }'))).toBe('1016mm = 40in');
  });

  it('tells the length of a rod step by step', () => {
    // Common practice, no source: the cups of the rod take 3/8in at each end.
    const text = told(closet('ro|d r { under top by 3in }'));
    expect(text).toContain(
      'Cut **59-1/4in** of `chrome` in 1 unit (49-1/4in to 69-1/4in over the ranges of the template).',
    );
    expect(text).toContain('    60in  wall back, as drawn\n - 3/8in  left end at the wall, for the cup');
    expect(text).toContain('At 81in, from the finished floor to its centre.');
  });

  it('tells of a zone, a wall and a unit', () => {
    expect(told(closet('').replace('zone a', 'zo|ne a'))).toContain(
      '**60in** wide in 1 unit (50in to 70in over the ranges of the template), its left end 0in along wall back.\n\nWhat is left of wall back (60in).',
    );
    expect(told(closet('').replace('wall', 'wa|ll'))).toContain('Drawn **60in** long in 1 unit.');
    expect(told(closet('').replace('unit', 'un|it'))).toContain('Unit u (t)');
  });
});

describe('definition', () => {
  const declared = (marked: string): string | undefined => {
    const { snapshot, at, text } = cursor(marked);
    const found = definitionAt(snapshot, at);
    return (
      found && (found.source === snapshot.source ? text.slice(found.whole.start, found.whole.end) : found.source.id)
    );
  };

  it('leads to templates, fittings, parameters and other files', () => {
    expect(declared(closet('rod r { under t|op by 3in }'))).toBe('shelf top { at 84in }');
    expect(declared(closet('').replace('length width', 'length wi|dth'))).toContain('parameter width');
    expect(declared(closet('', 'wi|dth 60in'))).toContain('parameter width');
    expect(declared(closet('', 'width 60in; override a.t|op { at 80in }'))).toBe('shelf top { at 84in }');
    expect(declared(closet('').replace('unit u t', 'unit u t|'))).toMatch(/^template t /);
    expect(declared(closet('').replace('board white-12', 'board whi|te-12'))).toBe('/p/prelude.closet');
  });
});

/** A mistake in an editor feature must not cost the reader the feature: nothing throws, whatever is typed. */
describe('every feature answers everywhere', { timeout: 60_000 }, () => {
  const root = path.resolve(import.meta.dirname, '../../examples');
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.closet'));

  it.each(files)('%s', (name) => {
    const text = readFileSync(path.join(root, name), 'utf8');
    for (const part of [text, text.slice(0, text.length >> 1), text.slice(0, Math.floor(text.length * 0.77))]) {
      const snapshot = snapshotOf(part);
      for (let at = 0; at <= part.length; at++) {
        hoverAt(snapshot, at);
        definitionAt(snapshot, at);
        typeDefinitionsAt(snapshot, at);
        renameableAt(snapshot, at);
        for (const c of completionsAt(snapshot, at)) {
          if (c.start > at || c.end < at) expect([name, at, c]).toBe('replaced text reaches over the cursor');
        }
      }
      for (let at = 0; at <= part.length; at += 40) {
        cutListAt(snapshot, at);
        referencesAt(snapshot, at);
        highlightsAt(snapshot, at);
        renameAt(snapshot, at, 'top');
        usersOf(snapshot, at);
        usedFrom(snapshot, at);
        selectionsAt(snapshot, at);
        quickFixesAt(snapshot, { start: at, end: at });
      }
      const end = snapshot.source.length;
      expect(
        symbolsOf(snapshot).every((s) => s.start <= s.selection.start && s.selection.end <= s.end && s.end <= end),
      ).toBe(true);
      expect(foldsOf(snapshot).every((f) => f.start <= f.end && f.end <= end)).toBe(true);
    }
  });
});
