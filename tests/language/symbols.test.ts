/** The outline of a file: what each thing is called, and what else its head says. */
import { describe, expect, it } from 'vitest';
import { type Outlined, symbolsOf } from '../../server/language/symbols.ts';
import { snapshotOf } from './marked.ts';

const text = `use "../shared" as trade
template t extends base {
  parameter deep: length = 12in
  wall back { length 60in; height 96in }
  corner back left { owner left }
  fixture outlet plug on back { from left 20in; height 16in }
  fixture outlet on back { from left 40in; height 16in }
  zone a on back { width fill; shelf top { at 84in } }
}
`;

function all(symbols: readonly Outlined[]): Outlined[] {
  return symbols.flatMap((one) => [one, ...all(one.children)]);
}

describe('the outline', () => {
  const found = all(symbolsOf(snapshotOf(text)));

  it('names each thing as it is named, with the rest of its head', () => {
    expect(found.map(({ name, detail }) => `${name}: ${detail}`)).toEqual([
      '"../shared": use as trade',
      't: template extends base',
      'deep: parameter: length = 12in',
      'back: wall',
      'back left: corner',
      'plug: fixture outlet on back',
      'outlet: fixture on back',
      'a: zone on back',
      'top: shelf',
    ]);
  });

  it('selects the name', () => {
    for (const { name, selection } of found) expect(text.slice(selection.start, selection.end)).toBe(name);
  });

  it('has the head as it is written', () => {
    expect(found.find(({ name }) => name === 'plug')?.head).toBe('fixture outlet plug on back');
  });
});
