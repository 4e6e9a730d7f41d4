/** What a project builds with a library is what it would build if all of that were written into it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import '../seed.ts';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import { fixingsFor } from '../../server/checks/structure/needed.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import type { Finding } from '../../server/model/finding.ts';
import { stepText } from '../../server/model/parts.ts';
import type { Project, Unit } from '../../server/model/project.ts';
import { cutListText } from '../../server/sheets/cut-list.ts';
import { drawableOf, drawingsOf } from '../../server/sheets/drawing/drawings.ts';
import { packsOf, takeoffOf } from '../../server/sheets/takeoff.ts';
import { inlined, plain, using } from './library-texts.ts';
import { memoryFiles } from './support.ts';

function projectOf(texts: Record<string, string>): Project {
  const workspace = createWorkspace(memoryFiles(texts), ['/r']);
  workspace.loadFile('/r/house/project.closet');
  const project = workspace.projectOf('/r/house/project.closet')?.project;
  if (!project) throw new Error('there is no project');
  project.refreshNow();
  return project;
}

const foundText = ({ rule, severity, message, comparison, advice }: Finding): string =>
  `${severity} ${rule.id}: ${message} ${advice ?? ''} ${JSON.stringify(comparison)}`;

/** Cuts with how they came about, what holds what, findings and the words of the drawings. */
function saidOf(project: Project, unit: Unit): unknown {
  const layout = unit.resolved?.layout;
  const drawable = drawableOf(project, unit, 'inches');
  return {
    name: unit.name,
    parts: layout?.parts.map(({ path, material, length, depth, thickness, steps }) => ({
      path,
      material,
      sizes: [length, depth, thickness],
      steps: steps.map((step) => stepText(step, project.settings.show)),
    })),
    fixings:
      layout &&
      fixingsFor({ layout, policy: unit.policy }).all.map(({ hardware, part, hold }) => [
        hardware.name,
        part,
        hold.kind,
        hold.kind === 'anchor' ? hold.anchor?.name : '',
      ]),
    findings: [...unit.findings, ...unit.checked].map(foundText),
    drawn:
      drawable &&
      drawingsOf(drawable).map(({ kind, of, scene }) => [
        kind,
        of,
        scene.figures.flatMap(({ shapes }) => shapes.flatMap((one) => ('text' in one ? [one.text] : []))),
      ]),
  };
}

function saidOfAll(project: Project): unknown {
  const { request } = demandOf(project);
  const plan = firstPlan(request);
  const units = [...project.units()];
  const takeoff = takeoffOf(units);
  return {
    units: units.map((unit) => saidOf(project, unit)),
    hardware: takeoff.hardware.map((line) => [line.hardware.name, line.count, packsOf(line)]),
    screws: takeoff.screws.map(({ size, count }) => [size, count]),
    missing: takeoff.missing,
    stock: request.stock,
    worth: request.worth,
    totals: plan.totals,
    ofPlan: planProject(project).findings.map(foundText),
  };
}

/** Written out, without the names of libraries; what is sorted by name is in another order with them. */
function comparable(said: unknown): unknown {
  const sorted = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(sorted).sort((a, b) => (key(a) < key(b) ? -1 : 1));
    if (typeof value === 'object' && value !== null)
      return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, sorted(one)]));
    return typeof value === 'string' ? plain(value) : value;
  };
  const key = (value: unknown): string => JSON.stringify(value) ?? '';
  return sorted(said);
}

const board = fc.constantFrom('trade.white', 'trade.deep', 'own');
const garment = fc.constantFrom('trade.gown', 'trade.base.house-coat', 'robe', 'shirt');
const hardware = fc.constantFrom('trade.base.rear, trade.base.arm', 'trade.clip', 'trade.base.deep-arm, own-hook');
const policy = fc.constantFrom('trade.accessible', 'local', 'trade.base.plain', 'trade.high, local');
const template = fc.constantFrom('trade.single', 'trade.tower', 'mine', 'over', 'alone');
const some = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(one, { nil: undefined });

const unit = fc
  .record({
    template,
    mirrored: fc.boolean(),
    width: some(fc.integer({ min: 20, max: 125 })),
    made: some(board),
    hung: some(garment),
    bar: some(fc.constant('trade.chrome')),
    policy: some(policy),
    count: some(fc.integer({ min: 1, max: 4 })),
    at: some(fc.integer({ min: 6, max: 30 })),
    cut: some(board),
    carried: some(hardware),
    measured: some(fc.integer({ min: 40, max: 70 })),
  })
  .map((one) => (name: string): string => {
    const isAlone = one.template === 'alone';
    const given = [
      ...(one.width === undefined || isAlone ? [] : [`width ${one.width}in`]),
      ...(one.made ? [`made ${one.made}`] : []),
      ...(one.hung ? [`hung ${one.hung}`] : []),
      ...(one.bar && !isAlone ? [`bar ${one.bar}`] : []),
      ...(one.policy ? [`policy ${one.policy}`] : []),
      ...(one.count && !one.measured ? [`count ${one.count}`] : []),
    ];
    const changed = [
      ...(one.at ? [`at ${one.at}in`] : []),
      ...(one.cut ? [`board ${one.cut}`] : []),
      ...(one.carried ? [`carried by ${one.carried}`] : []),
    ];
    const override = changed.length > 0 ? [`override a.low { ${changed.join('; ')} }`] : [];
    const survey = one.measured ? `survey ${name} { wall back { length ${one.measured}-1/4in at 42in } }\n` : '';
    return `unit ${name} ${one.template}${one.mirrored ? ' mirrored' : ''} { ${[...given, ...override].join('; ')} }\n${survey}`;
  });

const units = fc
  .array(unit, { minLength: 1, maxLength: 5 })
  .map((all) => all.map((write, i) => write(`u${i + 1}`)).join(''));

describe('a project that uses a library that uses a library', () => {
  it('has no errors by itself', () => {
    const project = projectOf(using('unit u1 trade.single { width 62in; made trade.deep }\n'));
    expect(project.findings().flatMap((f) => (f.severity === 'error' ? [f.message] : []))).toEqual([]);
  });

  it.each([
    ['a board of its own in a template of a library', 'unit u trade.single { width 70in; made own }\n'],
    ['a garment of its own, beside one of a library', 'unit u over mirrored { hung robe }\n'],
    [
      'all of it measured',
      'unit u trade.tower mirrored { width 90in }\nsurvey u { wall back { length 89in at 20in } }\n',
    ],
    [
      'what it overrides with what a library has',
      'unit u alone { override a.low { board trade.deep; carried by trade.base.rear, trade.base.deep-arm } }\n',
    ],
  ])('builds %s as if all were its own', (_, text) => {
    expect(comparable(saidOfAll(projectOf(using(text))))).toEqual(comparable(saidOfAll(projectOf(inlined(text)))));
  });

  it('builds whatever it says as if all were its own', () => {
    fc.assert(
      fc.property(units, (text) => {
        expect(comparable(saidOfAll(projectOf(using(text))))).toEqual(comparable(saidOfAll(projectOf(inlined(text)))));
      }),
      { numRuns: 60 },
    );
  });

  it('lists cuts in the same words', () => {
    const text = 'unit u1 trade.single\nunit u2 mine { made trade.deep }\nunit u3 trade.single\n';
    const cuts = (project: Project): string =>
      cutListText([...project.units()], project.settings, { group: 'alike' }).replaceAll(/ +/g, ' ');
    const list = cuts(projectOf(using(text)));
    expect(plain(list).split('\n').sort()).toEqual(
      cuts(projectOf(inlined(text)))
        .split('\n')
        .sort(),
    );
    expect(list).toContain('trade.deep');
  });
});
