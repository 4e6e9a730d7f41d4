/** What some of the units of a template have is told once, with how many they are; what a unit has by itself, at the unit. */
import { describe, expect, it } from 'vitest';
import { withoutHowMany } from '../../server/model/merge.ts';
import type { Project } from '../../server/model/project.ts';
import { told, workspaceOf } from './support.ts';

const library = `project "Trade" { }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/16in }
template reach {
  parameter width: length from 40in to 98in
  board white-12
  pole chrome
  wall back { length width; height 96in }
  zone a on back { width 36in; shelf s { at 84in }; rod r { under s by 1in; for shirt } }
}
`;

const job = `project "Job" { }
use "../trade" as trade
stock trade.white-12 { length 8ft }
stock trade.chrome { length 8ft }
policy strict { limit rod-height at most 48in }
`;

/** `rule at the word of its statement: message; reach`, of warnings. */
function said(units: string): string[] {
  const workspace = workspaceOf({ '/w/trade/a.closet': library, '/w/job/a.closet': job + units }, ['/w']);
  const { project } = workspace.projectOf('/w/job/a.closet') as { project: Project };
  return project
    .findings()
    .filter(({ severity }) => severity !== 'note')
    .map((f) => `${f.rule.id} in ${told(f).file}: ${f.message.slice(0, 36)}; ${f.reach.join(' ')}`)
    .sort();
}

describe('a finding in the template of a library', () => {
  it('that all units have is told once, whatever one of them changes', () => {
    expect(
      said(`unit u trade.reach { width 41in }
unit v trade.reach { width 42in; override back { height 95in } }
unit w trade.reach { width 43in }
survey w { wall back { length 42-1/2in } }
`),
    ).toEqual(['rod-near-shelf in /w/trade/a.closet: The centre of rod "a.r" is 1in below; u v w']);
  });

  it('that some units have is told once, with how many they are of how many', () => {
    expect(
      said(`unit u trade.reach { width 41in }
unit v trade.reach { width 42in; policy strict }
unit w trade.reach { width 43in; policy strict }
unit x trade.reach { width 43in; policy strict; override back { height 95in } }
`),
    ).toEqual([
      'rod-height-limit in /w/trade/a.closet: In 3 of 4 units: Rod "a.r" is at 83i; v w x',
      'rod-near-shelf in /w/trade/a.closet: The centre of rod "a.r" is 1in below; u v w x',
    ]);
  });

  it('with other numbers in each of them is told with those of the first', () => {
    const texts = {
      '/w/trade/a.closet': library.replace('width 36in', 'width fill'),
      '/w/job/a.closet': `${job}unit u trade.reach { width 41in }
unit v trade.reach { width 80in }
unit w trade.reach { width 90in }
`,
    };
    const { project } = workspaceOf(texts, ['/w']).projectOf('/w/job/a.closet') as { project: Project };
    const spans = project.findings().filter(({ rule }) => rule.id === 'rod-span-long');
    expect(spans.map(({ message, reach }) => [message.split(': ')[0], reach])).toEqual([
      ['In 2 of 3 units, such as v', ['v', 'w']],
    ]);
  });

  it('that one unit has is told at that unit', () => {
    expect(
      said(`unit u trade.reach { width 41in }
unit v trade.reach { width 42in; policy strict }
`).filter((one) => one.startsWith('rod-height')),
    ).toEqual(['rod-height-limit in /w/job/a.closet: In v: Rod "a.r" is at 83in; policy "; v']);
  });

  it('that units have which each change something is told at each of them', () => {
    expect(
      said(`unit u trade.reach { width 41in; override back { height 95in } }
unit v trade.reach { width 42in; override back { height 94in } }
`),
    ).toEqual([
      'rod-near-shelf in /w/job/a.closet: In u: The centre of rod "a.r" is 1in; u',
      'rod-near-shelf in /w/job/a.closet: In v: The centre of rod "a.r" is 1in; v',
    ]);
  });

  it('is told of the units that are left when one goes', () => {
    const texts = {
      '/w/trade/a.closet': library,
      '/w/job/a.closet': `${job}unit u trade.reach { width 41in }
unit v trade.reach { width 42in; policy strict }
unit w trade.reach { width 43in; policy strict }
`,
    };
    const workspace = workspaceOf(texts, ['/w']);
    const { project } = workspace.projectOf('/w/job/a.closet') as { project: Project };
    const limits = (): string[] => {
      project.refreshNow();
      return project.findings().flatMap(({ rule, message }) => (rule.id === 'rod-height-limit' ? [message] : []));
    };
    expect(limits()).toEqual([expect.stringMatching(/^In 2 of 3 units: /)]);
    project.editFile('/w/job/a.closet', [
      { start: job.length, end: job.length, text: 'unit t trade.reach { width 41in }\n' },
    ]);
    expect(limits()).toEqual([expect.stringMatching(/^In 2 of 4 units: /)]);
    // A list of known findings does not go by how many units there are.
    const [now] = limits();
    expect(withoutHowMany(now ?? '')).toMatch(/^Rod "a.r" is at 83in/);
  });
});

describe('a finding of a template that others extend', () => {
  const library = `project "Trade" { }
board oak { depth 12in; thickness 3/4in }
template base {
  board oak
  wall back { length 60in; height 96in }
  fixture outlet on back { from left 20in; height 16in }
  zone a on back { width fill; shelf low { at 14in } }
}
template heir extends base { zone b on back after a { width 10in } }
template plain extends base { }
`;
  const job = 'project "Job" { }\nuse "../trade" as trade\n';
  function projectOf(units: string): Project {
    const files = { '/w/trade/a.closet': library, '/w/job/a.closet': job + units };
    return workspaceOf(files, ['/w']).projectOf('/w/job/a.closet')?.project as Project;
  }
  const outlets = (project: Project): [string, readonly string[]][] =>
    project
      .findings()
      .filter(({ rule }) => rule.id === 'fitting-before-fixture')
      .map(({ message, reach }) => [message.split(':')[0] ?? '', reach]);

  it('counts the units of all of them', () => {
    const units = `unit u trade.base
unit u2 trade.base
unit v trade.heir { override a.low { at 16in } }
unit w trade.plain { override a.low { at 40in } }
`;
    expect(outlets(projectOf(units))).toEqual([['In 3 of 4 units, such as u', ['u', 'u2', 'v']]]);
  });

  it('counts them anew when a unit of another one comes', () => {
    const project = projectOf('unit u trade.base\nunit v trade.heir { override a.low { at 16in } }\n');
    expect(outlets(project)).toEqual([['In 2 of 2 units, such as u', ['u', 'v']]]);
    const end = project.sources.get('/w/job/a.closet')?.length ?? 0;
    const text = 'unit w trade.plain { override a.low { at 40in } }\n';
    project.editFile('/w/job/a.closet', [{ start: end, end, text }]);
    project.refreshNow();
    expect(outlets(project)).toEqual([['In 2 of 3 units, such as u', ['u', 'v']]]);
  });
});

describe('a finding of a unit that is built the other way round', () => {
  const head = 'project "P" { }\nboard white-12 { depth 12in; thickness 3/4in }\n';
  const template = `template t {
  board white-12
  wall left { length 10in; height 96in }
  wall back { length 40in; height 96in }
  wall right { length 10in; height 96in }
  zone a on back { width fill; shelf s { at 40in; depth 11in } }
}
`;
  const reach = (text: string, id: string): (readonly string[])[] =>
    workspaceOf({ '/w/a.closet': text }, ['/w'])
      .projectOf('/w/a.closet')
      ?.project.findings()
      .flatMap((f) => (f.rule.id === id ? [f.reach] : [])) ?? [];

  it('is told once with its template, whichever of two equal walls it meets first', () => {
    for (const units of ['unit u t mirrored\n', 'unit u t mirrored\nunit v t\n'])
      expect(reach(head + template + units, 'fitting-past-front')).toEqual([units.match(/(?<=unit )\w/g)]);
  });

  it('is told once of two zones that share what is left', () => {
    const two = template.replace('zone a on back', 'zone b on back { width fill }\n  zone a on back after b');
    expect(reach(`${head}${two}unit u t mirrored\n`, 'width-undecided')).toHaveLength(1);
  });
});
