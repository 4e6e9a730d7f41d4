/** What is cut square, in corners that are not. Tangents worked out by hand; plain geometry, nothing outside to cite. */
import { describe, expect, it } from 'vitest';
import { expects, rulesFound, run } from './rooms.ts';

const closet = (angle: string, more = '', survey = '') => `board plain-12 { depth 12in; thickness 3/4in }
board short-12 { depth 12in; thickness 3/4in; ends take 1/8in for "easing" }
template t {
  board plain-12
  pole chrome
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  ${angle ? `corner back right { angle ${angle} }` : ''}
${more}
}
${survey}
unit u t
`;
const fill = (fitting: string) => `  zone main on back { width fill; ${fitting} }`;

describe('a board in a corner sharper than square', () => {
  it('is too long at its front edge by its depth times the tangent', () => {
    // tan(2 degrees) = 0.0349208; x 12 in = 0.41905 in, 27/64 in to the nearest.
    expects(`board plain-12 { depth 12in; thickness 3/4in }
template t {
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  corner back right { angle 88deg }
  zone main on back {
    width fill
    shelf high { at 84in; board plain-12 }
    //^^^^^^^^ warning corner-out-of-square: drawn at 88 degrees, sharper than square by 2 degrees. The right wall leans in over shelf "main.high": by ~27/64in 12in out, at the front edge. Cut square, it is ~27/64in too long there. Scribe the right end to the right wall: take ~27/64in off at the front edge
  }
}
unit u t
`);
  });

  it('fits with as much as that taken off its ends', () => {
    // 1/8 in over 12 in: atan(0.0104167) = 0.59681 degrees, so 89.40319 degrees just about.
    const eased = fill('shelf high { at 84in; board short-12 }');
    expect(rulesFound(closet('89.404deg', eased))).toEqual([]);
    expect(rulesFound(closet('89.403deg', eased))).toEqual(['corner-out-of-square']);
    const [found] = run(closet('88deg', eased)).findings;
    // 0.41905 - 0.125 = 0.29405 in, 19/64 in to the nearest.
    expect(found?.message).toContain(
      'of which 1/8in is taken off there already. Cut square, it is ~19/64in too long there.',
    );
  });

  it('is the one that ends in it, of both walls, and no other', () => {
    const both = `${fill('shelf high { at 84in }')}
  zone mid on right from left 12in { width 20in; shelf one { at 40in } }
  zone side on left from left 0in { width 20in; shelf low { at 40in } }`;
    expect(run(closet('88deg', both)).findings.map(({ about }) => about)).toEqual(['main.high']);
    // The right wall owns the corner: its shelf ends in it, and that of the back wall at the front of that shelf.
    const owned = `  corner left back { owner left }
  zone main on back { width fill; shelf high { at 40in } }
  zone mid on right from left 12in { width 20in; shelf one { at 40in } }`;
    const atLeft = closet('', owned).replace('owner left', 'owner left; angle 88deg');
    expect(run(atLeft).findings.map(({ about }) => about)).toEqual(['main.high']);
  });

  it('goes for a rod at its distance from the wall, and for a panel that stands in it', () => {
    // Rods take 3/8 in off at each end: tan(2) x 12 = 0.419 is more, tan(1) x 12 = 0.2095 is less.
    expect(rulesFound(closet('88deg', fill('rod low { at 60in; for shirt }')))).toEqual(['corner-out-of-square']);
    expect(rulesFound(closet('89deg', fill('rod low { at 60in; for shirt }')))).toEqual([]);
    const panel = run(closet('88deg', fill('panels p { height 80in; side right }'))).findings;
    expect(panel[0]?.advice).toContain('Scribe the panel to the right wall');
  });

  it('says that it was measured, and is told where what was measured is', () => {
    const text = closet('', fill('shelf high { at 84in }'), 'survey u { corner back right { angle 88deg } }');
    const [found] = run(text).findings;
    expect(found?.message).toContain('is measured at 88 degrees');
    expect(found?.causes).toEqual({ parameters: [], survey: true });
  });
});

describe('a board in a corner wider than square', () => {
  it('stands off at its front edge, as a note', () => {
    const { findings, looked } = run(closet('92deg', fill('shelf high { at 84in }')));
    expect(findings.map(({ rule, severity }) => [rule.id, severity])).toEqual([['corner-leaves-gap', 'note']]);
    expect(findings[0]?.message).toContain('stands ~27/64in off the right wall at its front edge');
    expect(looked[0]?.working?.map(({ what, value }) => `${what}: ${value}`)).toEqual([
      'angle of the corner: 92 degrees',
      'deviation from square: 2 degrees',
      'depth: 12in',
      'off by: ~27/64in',
    ]);
  });

  it('is let be where the gap is finer than what is shown', () => {
    // 1/64 in over 12 in: 0.0746 degrees.
    expect(rulesFound(closet('90.074deg', fill('shelf high { at 84in }')))).toEqual([]);
    expect(rulesFound(closet('90.075deg', fill('shelf high { at 84in }')))).toEqual(['corner-leaves-gap']);
  });
});

it('square corners are not spoken of', () => {
  const { findings, looked } = run(closet('90deg', fill('shelf high { at 84in }')));
  expect([findings, looked]).toEqual([[], []]);
});
