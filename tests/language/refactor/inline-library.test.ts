/** A template of a library, written into what a project builds on it, names things as the project calls them. */
import { describe, expect, it } from 'vitest';
import { made, titleOf } from './support.ts';

const firm = 'hardware cleat { is support; spacing at most 24in }\n';
const trade = `use "../firm" as f
board pine { depth 14in; thickness 3/4in }
template base {
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { at 60in; board pine; carried by f.cleat } }
}
template heir extends base { zone a { shelf s { at 50in; board pine; carried by f.cleat } } }
template other extends base { parameter top: board = pine; zone a { shelf s { board top } } }
`;

const texts = (uses: string, rest: string) => ({
  '/firm/all.closet': firm,
  '/trade/all.closet': trade,
  'main.closet': `use "../trade" as trade\n${uses}${rest}`,
});

describe('a template of a library that uses another', () => {
  const own = 'template |mine extends trade.base { }\nunit u mine\n';

  it('names what that has through both', () => {
    expect(made(texts('', own), 'inline-base')['main.closet']).toContain(
      'shelf s { at 60in; board trade.pine; carried by trade.f.cleat }',
    );
  });

  it('names it as the project does, where that uses it as well', () => {
    const after = made(texts('use "../firm" as house\n', own), 'inline-base');
    expect(after['main.closet']).toContain('shelf s { at 60in; board trade.pine; carried by house.cleat }');
  });

  it('names it so in the overrides of a unit, too', () => {
    const before = texts('use "../firm" as house\n', 'unit u| trade.heir\n');
    expect(titleOf(before, 'inline-template')).toContain('Build unit "u" on "trade.base"');
    const after = made(before, 'inline-template')['main.closet'];
    expect(after).toContain('unit u trade.base');
    expect(after).toContain('at 50in');
    expect(after).toContain('board trade.pine');
    expect(after).toContain('carried by house.cleat');
  });

  it('names so what a parameter holds that only the template has', () => {
    const before = texts('board pine { depth 10in; thickness 1in }\n', 'unit u| trade.other\n');
    expect(made(before, 'inline-template')['main.closet']).toContain('override a.s { board trade.pine }');
  });
});
