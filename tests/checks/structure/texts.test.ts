/** Sag through the text of a closet: what is written, what is told, and fixes that mend it. */
import { describe, expect, it } from 'vitest';
import { spanOf } from '../../../grammar/tree.ts';
import { structureCheck } from '../../../server/checks/structure/check.ts';
import type { Finding, Fix } from '../../../server/model/finding.ts';
import { showInches } from '../../../server/model/show.ts';
import { prelude, workspaceOf } from '../../model/support.ts';

const materials = `
board pine-12 { depth 12in; thickness 3/4in; stiffness 950 ksi }
rod tube { diameter 1-1/16in; tube 0.035in; stiffness 29000 ksi }
`;

function closet(inside: string, policies = 'policy strict { deflection 144; load shelf 40 lbf/ft2 }'): string {
  return `${materials}${policies}
template t {
  board pine-12
  pole tube
  wall back { length 96in; height 96in }
  ${inside}
}
unit u t { policy strict }
`;
}

function findingsOf(text: string): Finding[] {
  const workspace = workspaceOf({ '/p/prelude.closet': prelude, '/p/main.closet': text });
  const found = workspace.projectOf('/p/main.closet');
  const unit = [...(found?.project.units() ?? [])].find(({ name }) => name === 'u');
  if (!unit?.resolved) throw new Error('the unit cannot be worked out');
  return structureCheck.run({ layout: unit.resolved.layout, policy: unit.policy, show: showInches });
}

function fixed(text: string, { edits }: Fix): string {
  const spans = edits.map(({ place, text: put }) => ({ ...spanOf(place), put })).sort((a, b) => b.start - a.start);
  return spans.reduce((all, { start, end, put }) => all.slice(0, start) + put + all.slice(end), text);
}

describe('a shelf that sags between two panels', () => {
  const text = closet(
    'zone z on back { width 48in; shelf s { at 60in } panels sides { height 84in } }\n  gap rest on back after z { width fill }',
  );

  it('is told with the policy that asks and the load that it brings', () => {
    const [told, ...others] = findingsOf(text);
    expect(others).toEqual([]);
    expect(told?.rule.id).toBe('shelf-sags');
    // 46-1/2 in between the panels: 0.5748 x (46.5 / 48)^4 = 0.506 in, 46.5 / 144 = 0.323 in.
    expect(told?.message).toContain('sags 0.506in between its two ends, 46-1/2in apart under 40 lbf/ft2;');
    expect(told?.related.map(({ message }) => message)).toEqual([
      'The sag that is allowed is set here.',
      'It carries 40 lbf/ft2.',
    ]);
  });

  it('passes once the zone is as wide as the fix says, and fails an eighth of an inch further', () => {
    const fix = findingsOf(text)[0]?.fixes[0];
    // 40.026 in between the panels, 1-1/2 in for the panels: 41-1/2 in.
    expect(fix?.title).toBe('Write 41-1/2in instead of 48in for z');
    const mended = fix ? fixed(text, fix) : text;
    expect(findingsOf(mended)).toEqual([]);
    expect(findingsOf(mended.replace('41-1/2in', '41-5/8in')).map(({ rule }) => rule.id)).toEqual(['shelf-sags']);
  });
});

describe('a shelf with a front edge that is too low', () => {
  const text = closet(
    'zone z on back { width 48in; shelf s { at 60in; edge 1in of pine-12 } panels sides { height 84in } }\n  gap rest on back after z { width fill }',
  );

  it('passes with the edge that the fix writes, and fails with one a sixteenth lower', () => {
    const fix = findingsOf(text)[0]?.fixes.find(({ title }) => title.includes('1in for s'));
    const mended = fix ? fixed(text, fix) : text;
    const written = fix?.edits[0]?.text ?? '';
    expect(written).toMatch(/^1-\d+\/\d+in$/);
    expect(findingsOf(mended)).toEqual([]);
    const [above = 0, below = 1] = written.slice(2, -2).split('/').map(Number);
    const lower = `${16 + (16 * above) / below - 1}/16in`;
    expect(findingsOf(mended.replace(`edge ${written}`, `edge ${lower}`)).length).toBe(1);
  });
});

describe('a rod', () => {
  it('says which load it is computed with', () => {
    const policies = 'policy strict { deflection rod 144; load hanging 30 lbf/ft; creep 1.2 }';
    const [told] = findingsOf(
      closet(
        'zone z on back { width 49-1/2in; rod r { at 60in } panels sides { height 84in } }\n  gap rest on back after z { width fill }',
        policies,
      ),
    );
    // 0.399 in by hand, in the long run x 1.2 = 0.479 in; 48 / 144 = 0.333 in.
    expect(told?.message).toContain('Rod "z.r" sags 0.479in between its two ends, 48in apart under 30 lbf/ft;');
    expect(told?.related.length).toBe(3);
  });

  it('of a material without stiffness is asked for it', () => {
    const policies = 'policy strict { deflection rod 144; load hanging 30 lbf/ft }';
    const [told] = findingsOf(
      closet(
        'zone z on back { width 40in; rod r { at 60in; pole chrome } panels sides { height 84in } }\n  gap rest on back after z { width fill }',
        policies,
      ),
    );
    expect(told?.rule.id).toBe('sag-not-known');
    expect(told?.message).toContain('nothing says the stiffness of rod chrome.');
  });
});
