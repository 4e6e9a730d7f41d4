/** Names that are typed anew in all their places at once. `[` and `]` stand around those that change together; `|` is the cursor. */
import { describe, expect, it } from 'vitest';
import { linkedAt, nameWhileTyped } from '../../server/language/linked-editing.ts';
import { renameAt } from '../../server/language/rename.ts';
import { cursorIn } from './marked.ts';

const template = `template t {
  parameter tower: length = 18in from 12in to 24in
  board white-12
  wall back { length 94in; height 96in }
  zone a on back { width tower; shelf high { at 84in } }
  zone b on back after a { width fill; shelf low { at 42in } }
  test "as drawn" { tower 20in; expect a.high at 84in }
}
`;

function linked(texts: Readonly<Record<string, string>>): string | undefined {
  const { snapshot, at, text, projects } = cursorIn(texts);
  const found = linkedAt(snapshot, at, projects);
  if (found.length === 0) return undefined;
  let made = text;
  for (const { start, end } of found.toReversed())
    made = `${made.slice(0, start)}[${made.slice(start, end)}]${made.slice(end)}`;
  // It changes what a rename would change, and nothing else.
  const renamed = renameAt(snapshot, at, 'another', projects);
  if (renamed.kind === 'refused') throw new Error(renamed.why);
  expect(renamed.edits.map(({ start, end }) => ({ start, end }))).toEqual(found);
  return made;
}

describe('a name that stands in one file alone', () => {
  it('is typed in all its places: a parameter', () => {
    expect(
      linked({ 'main.closet': `${template.replace('parameter tower', 'parameter |tower')}unit u t { tower 20in }\n` }),
    ).toBe(`${template.replaceAll('tower', '[tower]')}unit u t { [tower] 20in }\n`);
  });

  it('is typed in all its places: a zone, from any of them', () => {
    const unit = 'unit u t { override a.high { at 83in } }\n';
    const all = template
      .replace('zone a', 'zone [a]')
      .replace('after a', 'after [a]')
      .replace('expect a.', 'expect [a].');
    const wanted = `${all}${unit.replace('override a.', 'override [a].')}`;
    for (const [place, marked] of [
      ['zone a', 'zone |a'],
      ['after a', 'after a|'],
    ] as const)
      expect(linked({ 'main.closet': template.replace(place, marked) + unit })).toBe(wanted);
    expect(linked({ 'main.closet': template + unit.replace('a.high', '|a.high') })).toBe(wanted);
  });

  it('is typed in all its places: a template and its units', () => {
    expect(linked({ 'main.closet': `${template}unit u |t\nunit v t\n` })).toBe(
      `${template.replace('template t', 'template [t]')}unit u [t]\nunit v [t]\n`,
    );
  });
});

describe('nothing is linked', () => {
  it('where other files name it too: what is typed would be another thing there', () => {
    const here = template.replace('zone a', 'zone |a');
    expect(
      linked({ 'main.closet': here, 'units.closet': 'unit u t { override a.high { at 83in } }\n' }),
    ).toBeUndefined();
    const house = 'project "House" { }\nuse "../trade" as trade\nunit u trade.t { override a.high { at 83in } }\n';
    const trade = `project "Trade" { }\nboard white-12 { depth 12in; thickness 3/4in }\n${here}`;
    expect(linked({ '/trade/a.closet': trade, '/house/a.closet': house })).toBeUndefined();
    expect(linked({ '/trade/a.closet': trade })).toContain('zone [a]');
  });

  it('where it stands once, is no name, or comes from elsewhere', () => {
    expect(linked({ 'main.closet': template.replace('shelf low', 'shelf |low') })).toBeUndefined();
    expect(linked({ 'main.closet': template.replace('zone a', '|zone a') })).toBeUndefined();
    expect(linked({ 'main.closet': template.replace('84in', '8|4in') })).toBeUndefined();
    expect(linked({ 'main.closet': template.replace('white-12', 'white|-12') })).toBeUndefined();
  });
});

it('holds on while a name is typed, and ends with what ends a name', () => {
  const whole = new RegExp(`^(?:${nameWhileTyped})$`);
  for (const typed of ['', 't', 'tower-', 'tower-2', 'höhe', '_x']) expect(typed).toMatch(whole);
  for (const typed of ['a b', 'a.b', 'a{', 'a;', 'a,']) expect(typed).not.toMatch(whole);
});
