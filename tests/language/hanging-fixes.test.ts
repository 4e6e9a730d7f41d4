/** Quick fixes of rods: the nearest place where what hangs on them hangs clear. Numbers are worked out beside them. */
import { describe, expect, it } from 'vitest';
import { quickFixesAt } from '../../server/language/actions.ts';
import { projectOf } from '../model/support.ts';

const file = '/p/main.closet';

/** A closet 24 in deep; what stands in the zone, and what is hung. Hangers of 17 in need 8-1/2 in on each side. */
const closet = (zone: string, more = '', depth = '24in'): string => `garment coat { hang 58.3in; hanger 17in }
garment shirt { hang 38in; hanger 17in }
template t {
  wall back { length 60in; height 96in }
  wall left { length ${depth}; height 96in }
  wall right { length ${depth}; height 96in }
  board white-12
  pole chrome
  zone a on back { width fill
    ${zone}
  }
}
unit u t
${more}`;

interface Mended {
  readonly title: string;
  /** Rules about hanging that still speak when it is applied. */
  readonly left: readonly string[];
  readonly text: string;
}

function hanging(text: string): string[] {
  return projectOf(text)
    .findings()
    .filter((f) => ['hanging', 'chains', 'policy'].includes(f.rule.family))
    .map((f) => f.rule.id);
}

function fixes(text: string, rule: string): Mended[] {
  const project = projectOf(text);
  const source = project.sources.get(file);
  if (!source) throw new Error('the text was not read');
  expect(hanging(text)).toContain(rule);
  return quickFixesAt({ project, source, path: file }, { start: 0, end: text.length })
    .filter(({ finding }) => finding.rule.id === rule)
    .map(({ title, edits }) => {
      const mended = [...edits].reduceRight((t, e) => t.slice(0, e.start) + e.text + t.slice(e.end), text);
      return { title, left: hanging(mended), text: mended };
    });
}

/** The one fix offered: its title, and that nothing is left to say when it is applied. */
function only(text: string, rule: string): string {
  const offered = fixes(text, rule);
  expect(offered.map((f) => f.left)).toEqual([[]]);
  return offered[0]?.title ?? '';
}

describe('a rod that is too low for what hangs on it', () => {
  it('goes up to the nearest eighth of an inch that passes', () => {
    const text = closet('rod r { at 40in; for coat }');
    // 58.3 in of coat: 58-3/8 in is the first eighth above it.
    expect(only(text, 'garment-meets-floor')).toBe('Write 58-3/8in instead of 40in for r');
    expect(hanging(closet('rod r { at 58-1/4in; for coat }'))).toEqual(['garment-meets-floor']);
  });

  it('goes up in whole millimetres where it is written in them', () => {
    // 58.3 in is 1480.82 mm.
    expect(only(closet('rod r { at 1000mm; for coat }'), 'garment-meets-floor')).toBe(
      'Write 1481mm instead of 1000mm for r',
    );
  });

  it('goes up for the longest of its garments, over what is below it', () => {
    // The shelf's upper face is at 20-3/4 in; 20-3/4 + 58.3 = 79.05 in.
    const text = closet('shelf low { at 20in }\n    rod r { at 56in; for shirt, coat }');
    expect(only(text, 'garment-meets-below')).toBe('Write 79-1/8in instead of 56in for r');
  });

  it('is brought nearer to the shelf that it hangs from', () => {
    // 62 - 4 = 58 in is 0.3 in too low; 58-3/8 in is 3-5/8 in under it.
    const text = closet('shelf high { at 62in }\n    rod r { under high by 4in; for coat }');
    expect(only(text, 'garment-meets-floor')).toBe('Write 3-5/8in instead of 4in for r');
  });

  it('is left where no height would do: under a shelf, or by what a policy allows', () => {
    // 59-1/2 in less the 1-1/2 in that hangers need is 58 in: no room for 58.3 in.
    expect(fixes(closet('shelf high { at 59-1/2in }\n    rod r { at 50in; for coat }'), 'garment-meets-floor')).toEqual(
      [],
    );
    const limited = closet('rod r { at 40in; for coat }').replace(
      'unit u t',
      'policy reach { limit rod-height at most 48in }\nunit u t { policy reach }',
    );
    expect(fixes(limited, 'garment-meets-floor')).toEqual([]);
  });

  it('is left where the height is computed', () => {
    expect(fixes(closet('rod r { at 20in + 20in; for coat }'), 'garment-meets-floor')).toEqual([]);
  });
});

describe('a rod that is too near what is above it', () => {
  it('goes down to the nearest eighth that passes', () => {
    // 84 - 1-1/2 = 82-1/2 in passes the rule; 82-1/2 is still nearer than the 3 in that advice has.
    const offered = fixes(closet('shelf high { at 84in }\n    rod r { at 83in; for shirt }'), 'rod-near-shelf');
    expect(offered.map((f) => [f.title, f.left])).toEqual([
      ['Write 82-1/2in instead of 83in for r', ['rod-under-advice']],
    ]);
    // 84 - 3 = 81 in.
    expect(only(closet('shelf high { at 84in }\n    rod r { under high by 2in; for shirt }'), 'rod-under-advice')).toBe(
      'Write 3in instead of 2in for r',
    );
  });

  it('is left where the garment would reach the floor then', () => {
    expect(fixes(closet('shelf high { at 59in }\n    rod r { at 58-3/8in; for coat }'), 'rod-near-shelf')).toEqual([]);
  });
});

describe('a rod that is too near the wall or the front', () => {
  it('moves out to where hangers have room behind it', () => {
    expect(only(closet('rod r { at 60in; for shirt; from wall 7in }'), 'rod-near-wall')).toBe(
      'Write 8-1/2in instead of 7in for r',
    );
    expect(hanging(closet('rod r { at 60in; for shirt; from wall 8-1/2in }'))).toEqual([]);
    expect(hanging(closet('rod r { at 60in; for shirt; from wall 8-3/8in }'))).toEqual(['rod-near-wall']);
  });

  it('moves back to where nothing reaches past the front', () => {
    // 24 - 8-1/2 = 15-1/2 in.
    expect(only(closet('rod r { at 60in; for shirt; from wall 17in }'), 'rod-near-front')).toBe(
      'Write 15-1/2in instead of 17in for r',
    );
  });

  it('gets a distance of its own where none is written', () => {
    // 12 in by default; 19.3 - 8-1/2 = 10.8 in, and 10-3/4 in is the last eighth before it.
    const [fix, ...others] = fixes(closet('rod r { at 60in; for shirt }', '', '19.3in'), 'rod-near-front');
    expect([fix?.title, fix?.left, others]).toEqual(['Write from wall 10-3/4in', [], []]);
    expect(fix?.text).toContain('rod r { at 60in; for shirt; from wall 10-3/4in }');
  });

  it('is left where there is no room for a hanger at all', () => {
    expect(fixes(closet('rod r { at 60in; for shirt; from wall 9in }', '', '16in'), 'rod-near-front')).toEqual([]);
  });
});
