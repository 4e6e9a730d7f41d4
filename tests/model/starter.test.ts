import { expect, it } from 'vitest';
import { check, workspaceOf } from './support.ts';

it('the policies of the starter set can be named without being declared, and extended', () => {
  const [loaded] = workspaceOf({
    '/p/main.closet': `project "Quarry Lane" { policy everyday, accessible-2010 }
policy everyday extends woodwork-2009 { deflection shelf 240 }
`,
  }).projects;
  const policy = loaded?.project.projectPolicy();
  const { reach, deflection, loads } = policy?.demands ?? {};
  // 2010 ADA Standards 308.2.1 and 308.3.1: 48 in; an inch is 1,016,000 ticks.
  expect([reach?.forward?.value, reach?.side?.value]).toEqual([48 * 1_016_000, 48 * 1_016_000]);
  expect(deflection?.shelf?.value).toBe(240);
  // Architectural Woodwork Standards 10-1.2.21: 200 lbf at the most; 1 lbf is 4.4482216 N (NIST SP 811).
  expect(loads?.total?.amount).toBeCloseTo(200 * 4.4482216, 3);
});

it('a policy of the project goes before one of the starter set', () => {
  check(`policy accessible-2010 { reach side 46in }
template t { wall back { length 36in; height 96in } }
unit u t { policy accessible-2010 }
`);
});
