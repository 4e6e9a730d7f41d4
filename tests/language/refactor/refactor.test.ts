/** Refactorings keep what is built: all units of the example building are computed before and after. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Source } from '../../../grammar/source.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import type { TextEdit } from '../../../server/language/snapshot.ts';
import type { Project } from '../../../server/model/project.ts';
import { exampleTexts } from '../../examples/load.ts';
import { workspaceOf } from '../../model/support.ts';
import { cursor, file } from '../marked.ts';

const texts = exampleTexts('quarry-lane');
const projectOf = (all: Record<string, string>): Project => {
  const [loaded] = workspaceOf(all).projects;
  if (!loaded) throw new Error('a project was expected');
  return loaded.project;
};

/** All that is built, as numbers: zones, fittings and parts of every unit, and what is found by rule. */
function built(project: Project): string[] {
  const units = [...project.units()].flatMap(({ name, resolved }) => [
    ...(resolved?.layout.zones ?? []).flatMap((zone) => [
      `${name} ${zone.path} ${zone.from.value} ${zone.width.value}`,
      ...zone.fittings.map((f) => `${name} ${f.path} ${JSON.stringify(f.box)}`),
    ]),
    ...(resolved?.layout.parts ?? []).map((part) => `${name} ${part.path} ${part.length}`),
  ]);
  return [...units, ...project.findings().map(({ rule, about }) => `${rule.id} ${about ?? ''}`)].sort();
}

function applied(all: Record<string, string>, edits: readonly TextEdit[]): Record<string, string> {
  const made = { ...all };
  for (const { file: path, start, end, text } of [...edits].sort((a, b) => b.start - a.start))
    made[path] = `${made[path]?.slice(0, start)}${text}${made[path]?.slice(end)}`;
  return made;
}

const whole = projectOf(texts);
const before = built(whole);
const paths = Object.keys(texts);

function offeredAt(path: string, at: number) {
  const source = whole.sources.get(path) as Source;
  return refactorings({ project: whole, source, path }, { start: at, end: at }).filter((r) => r.disabled === undefined);
}

describe('every refactoring of the example building', () => {
  it('but for mirroring and rounding leaves all that is built as it was', () => {
    let tried = 0;
    fc.assert(
      fc.property(fc.nat(), fc.nat(), (which, where) => {
        const path = paths[which % paths.length] ?? '';
        const numbers = [...(texts[path] ?? '').matchAll(/\d+(-\d+\/\d+)?(in|mm|deg)?\b/g)];
        const at = numbers[where % Math.max(1, numbers.length)]?.index;
        if (at === undefined) return;
        for (const { id, title, edits } of offeredAt(path, at)) {
          if (id === 'mirror' || title.includes('rounded to')) continue;
          tried++;
          expect(built(projectOf(applied(texts, edits))), `${title} in ${path}`).toEqual(before);
        }
      }),
      { numRuns: 40, seed: 11 },
    );
    expect(tried).toBeGreaterThan(40);
  });

  it('is undone by itself where it mirrors', () => {
    const units = paths.flatMap((path) =>
      [...(texts[path] ?? '').matchAll(/^unit \S+ reach-in/gm)].map(({ index }) => ({ path, at: index })),
    );
    const one = units.find(({ path, at }) => offeredAt(path, at).some(({ id }) => id === 'mirror'));
    const { path, at } = one ?? { path: '', at: 0 };
    const mirror = one && offeredAt(path, at).find(({ id }) => id === 'mirror');
    if (!mirror) throw new Error('a unit that can be mirrored was expected');
    const once = projectOf(applied(texts, mirror.edits));
    expect(built(once)).not.toEqual(before);
    const source = once.sources.get(path) as Source;
    const back = refactorings({ project: once, source, path }, { start: at, end: at }).find(
      ({ id }) => id === 'mirror',
    );
    const again = applied(applied(texts, mirror.edits), back?.edits ?? []);
    expect(again[path]).toBe(texts[path]);
  });
});

/** Titles, with the reason in brackets where it cannot be made. */
function offered(marked: string): string[] {
  const { snapshot, at } = cursor(marked);
  return refactorings(snapshot, { start: at, end: at }).map((r) =>
    r.disabled ? `${r.title} (${r.disabled})` : r.title,
  );
}

function after(marked: string, id: string): string {
  const { snapshot, at, text } = cursor(marked);
  const found = refactorings(snapshot, { start: at, end: at }).find((r) => r.id === id);
  if (!found) throw new Error(`${id} is not offered`);
  return applied({ [file]: text }, found.edits)[file] ?? '';
}

describe('a number', () => {
  const template = (shelf: string): string => `template t {
  board white-12
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { ${shelf} } }
}
unit u t
`;

  it('becomes a parameter with itself as the default, named after what it is of', () => {
    const made = after(template('at |40in'), 'to-parameter');
    expect(made).toContain('template t {\n  parameter s-at: length = 40in from 28in to 52in\n');
    expect(made).toContain('shelf s { at s-at }');
  });

  it('of a unit, or of a parameter, becomes none', () => {
    expect(offered('template t { parameter w: length = |40in }\n').some((t) => t.includes('parameter "'))).toBe(false);
    expect(
      offered('template t { parameter w: length }\nunit u t { w |40in }\n').some((t) => t.includes('parameter "')),
    ).toBe(false);
  });

  it('is written in the other system: exactly, or saying that it is rounded', () => {
    // 1/64 in = 15,875 ticks of 25 nm = 0.396875 mm.
    expect(after(template('at |40-1/64in'), 'convert-quantity')).toContain('at 1016.396875mm');
    expect(offered(template('at |1000mm'))).toContain('Write 39-3/8in for 1000mm, rounded to 1/64in');
    expect(after(template('at |254mm'), 'convert-quantity')).toContain('at 10in');
  });

  it('is converted with all others of the file that are exact', () => {
    expect(after(template('at |254mm'), 'convert-file')).toContain('wall back { length 60in; height 96in }');
    const made = after(template('at |40in'), 'convert-file');
    expect(made).toContain('wall back { length 1524mm; height 2438.4mm }');
    expect(offered(template('at |1000mm'))).toContain(
      'Write all lengths of this file in inches; 1 that would be rounded stay (None of them is exact there.)',
    );
  });
});

describe('a unit', () => {
  it('is mirrored and turned back', () => {
    expect(after('template t { }\n|unit u t { floor 1 }\n', 'mirror')).toContain('unit u t mirrored { floor 1 }');
    expect(after('template t { }\n|unit u t mirrored { floor 1 }\n', 'mirror')).toContain('unit u t { floor 1 }');
  });

  it('that was measured is not, and says why', () => {
    const text = 'template t { }\n|unit u t\nsurvey u { taken "12 March" }\n';
    expect(offered(text)).toEqual(['Build "u" mirrored (Its survey is stated as on site, and would stay as it is.)']);
  });
});
