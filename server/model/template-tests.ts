/**
 * Tests that a template carries: what it is given, and what has to come of that. Each is computed as a unit would be,
 * with the policies of the project, and is no unit: nothing of it is cut or bought.
 */

import { headPlace, type Path, type Place, placeOf } from '../../grammar/tree.ts';
import { lengthIn, plainContext } from './context.ts';
import { written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import type { FittingLayout, Layout } from './layout.ts';
import { limits } from './limits.ts';
import type { Names } from './names.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { pushAll } from './push-all.ts';
import { childrenOf, dotted, expressionIn, pathIn, type Reading, says, textIn } from './reading.ts';
import type { RuleFamily } from './rule.ts';
import * as rules from './rules.ts';
import type { ProjectSettings } from './settings.ts';
import { showLength } from './show.ts';
import { type Ticks, ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';
import { Trace } from './trace.ts';
import { argumentsGiven, type Given, type Resolved, type TemplateInfo, templateContext } from './unit.ts';

export interface TestResult {
  readonly name: string;
  readonly place: Place;
  readonly failures: readonly Finding[];
}

export interface TestResults {
  readonly results: readonly TestResult[];
  /** Those of the failures, and of what is wrong with the tests themselves. */
  readonly findings: readonly Finding[];
}

export interface TestTools {
  readonly ruleIds: ReadonlySet<string>;
  readonly compute: (
    values: Given['values'],
    mirrored: boolean,
  ) => { readonly resolved: Resolved; readonly checked: readonly Finding[] };
}

/** Those that stand in the template itself; what it extends has its own. */
export function runTests(
  info: TemplateInfo,
  names: Names,
  trace: Trace,
  settings: ProjectSettings,
  tools: TestTools,
): TestResults {
  const findings: Finding[] = [];
  const unread = [...info.findings, ...info.blueprint.heads.flatMap((head) => head.findings)];
  const tests = childrenOf(info.declared.reading, 'test');
  const { most } = limits.mostTests;
  const beyond = tests[most];
  if (beyond)
    findings.push(
      tooMany('mostTests', headPlace(beyond.statement), {
        who: `Template "${info.declared.name}" has`,
        count: tests.length,
        what: 'tests',
        advice: 'Those from this one on are not run. Leave out those that say the same.',
      }),
    );
  const results = tests.slice(0, most).map((test): TestResult => {
    const called = `Test "${textIn(test, 'name') ?? ''}"`;
    const wrong: Finding[] = [];
    const given = argumentsGiven(
      { reading: test, statement: test.statement, called },
      info,
      names,
      trace,
      settings.show,
    );
    pushAll(wrong, given.findings);
    const { resolved, checked } = tools.compute(given.values, says(test, 'mirrored'));
    trace.take(resolved.trace);
    const run: Run = {
      test,
      called,
      info,
      given,
      layout: resolved.layout,
      found: [...resolved.findings, ...checked],
      names,
      settings,
      tools,
    };
    // What cannot be read, here or in the template, lets nothing be said of what comes of it.
    const isUnread = [...wrong, ...unread, ...resolved.findings.filter(isOfReading)].some(isError);
    // Where a sum does not come out some of it stands nowhere, and the test fails on that.
    const isPlaced = !resolved.findings.some((f) => isError(f) && f.rule.family === 'chains');
    const failures = isUnread ? [] : [...(isPlaced ? dimensionsOf(run, wrong) : []), ...findingsOf(run, wrong)];
    pushAll(findings, wrong);
    pushAll(findings, failures);
    return { name: textIn(test, 'name') ?? '', place: headPlace(test.statement), failures: [...wrong, ...failures] };
  });
  return { results, findings };
}

const families: ReadonlySet<RuleFamily> = new Set(['text', 'words', 'names', 'quantities']);

function isOfReading({ rule }: Finding): boolean {
  return families.has(rule.family);
}

function isError({ severity }: Finding): boolean {
  return severity === 'error';
}

interface Run {
  readonly test: Reading;
  /** `Test "narrowest"`. */
  readonly called: string;
  readonly info: TemplateInfo;
  readonly given: Given;
  readonly layout: Layout;
  readonly found: readonly Finding[];
  readonly names: Names;
  readonly settings: ProjectSettings;
  readonly tools: TestTools;
}

// Dimensions

const measures = ['at', 'length', 'width', 'depth'] as const;
type Measure = (typeof measures)[number];

function dimensionsOf(run: Run, wrong: Finding[]): Finding[] {
  const { test, called, settings, layout } = run;
  const context = templateContext(
    run.info.blueprint,
    run.given.values,
    plainContext(run.names, new Trace(), (f) => wrong.push(f)),
  );
  return childrenOf(test, 'expect').flatMap((reading): Finding[] => {
    const path = pathIn(reading, 'thing');
    const measure = measures.find((one) => says(reading, one));
    const expected = lengthIn(reading, 'value', context);
    if (!path || !measure || expected === undefined) return [];
    const name = dotted(path);
    const is = measured(layout, name, measure);
    if (is === 'no such thing') {
      wrong.push(notThere(run, reading, path));
      return [];
    }
    if (is === undefined) {
      wrong.push(
        finding(
          rules.testFailed,
          headPlace(reading.statement),
          `${called} expects a ${measure} of "${name}", which has none.`,
          {
            advice: `Expect ${waysOf(layout, name).join(', ') || 'something else'} of it.`,
          },
        ),
      );
      return [];
    }
    if (is === expected) return [];
    const show = (length: Ticks): string => showLength(length, settings.show);
    const what = measure === 'at' ? 'place' : measure;
    return [
      finding(
        rules.testFailed,
        headPlace(reading.statement),
        `${called} expects ${measure === 'at' ? `"${name}" at ${show(expected)}` : `a ${measure} of ${show(expected)} for "${name}"`}, and it ${measure === 'at' ? 'stands at' : 'is'} ${show(is)}.`,
        {
          advice: 'Mend the template, or write in the test what is right.',
          comparison: {
            what: `${what} of ${name}`,
            measured: { ticks: is },
            relation: 'equal to',
            limit: { ticks: expected },
          },
          fixes: rewritten(reading, show(is)),
        },
      ),
    ];
  });
}

/** What the test would have to say; by hand, as it may be the template that is wrong. */
function rewritten(reading: Reading, length: string): Fix[] {
  const expression = expressionIn(reading, 'value');
  if (!expression || length.startsWith('~')) return [];
  return [{ ...written(placeOf(reading.statement, expression), length), byHand: true }];
}

function measured(layout: Layout, name: string, measure: Measure): Ticks | undefined | 'no such thing' {
  const zone = layout.zones.find(({ path }) => path === name);
  const fitting = fittingsOf(layout).find(({ path }) => path === name);
  if (!zone && !fitting) return 'no such thing';
  switch (measure) {
    case 'at':
      return fitting ? fitting.at.value : zone?.from.value;
    case 'length':
      return layout.parts.find(({ path }) => path === name)?.length;
    case 'width':
      return zone ? zone.width.value : fitting && ticks(fitting.box.x[1] - fitting.box.x[0]);
    case 'depth':
      return fitting && fitting.kind !== 'rod' ? ticks(fitting.box.y[1] - fitting.box.y[0]) : undefined;
  }
}

function waysOf(layout: Layout, name: string): string[] {
  return measures.filter((one) => typeof measured(layout, name, one) === 'number');
}

function fittingsOf({ zones }: Layout): FittingLayout[] {
  return zones.flatMap(({ fittings }) => fittings);
}

function notThere({ layout, info }: Run, reading: Reading, path: Path): Finding {
  const known = [...layout.zones.map((zone) => zone.path), ...fittingsOf(layout).map((fitting) => fitting.path)];
  const place = placeOf(reading.statement, path);
  const near = nearestOnes(dotted(path), known);
  return finding(
    rules.nameNotKnown,
    place,
    `There is no "${dotted(path)}" in template "${info.declared.name}" as it is tested.`,
    {
      advice: didYouMean(near) ?? 'Name a zone, or a fitting as zone.fitting.',
      fixes: nearFixes(place, near),
    },
  );
}

// What the rules find

function findingsOf(run: Run, wrong: Finding[]): Finding[] {
  const { test, called, found, tools } = run;
  const named = childrenOf(test, 'finds');
  const failures: Finding[] = [];
  const expected = new Set<Finding>();
  for (const reading of named) {
    const path = pathIn(reading, 'rule');
    if (!path) continue;
    const rule = dotted(path);
    if (!tools.ruleIds.has(rule)) {
      const near = nearestOnes(rule, [...tools.ruleIds]);
      const place = placeOf(reading.statement, path);
      wrong.push(
        finding(rules.nameNotKnown, place, `There is no rule "${rule}".`, {
          advice: didYouMean(near) ?? 'storypole explain lists them all.',
          fixes: nearFixes(place, near),
        }),
      );
      continue;
    }
    const at = pathIn(reading, 'place');
    const about = at && dotted(at);
    const spoken = found.filter((f) => f.rule.id === rule && (about === undefined || f.about === about));
    for (const f of spoken) expected.add(f);
    if (spoken.length > 0) continue;
    const elsewhere = found.filter((f) => f.rule.id === rule).flatMap((f) => f.about ?? []);
    failures.push(
      finding(
        rules.testFailed,
        headPlace(reading.statement),
        `${called} expects ${rule}${about === undefined ? '' : ` at "${about}"`}, and the rule has nothing to say.`,
        {
          advice:
            elsewhere.length > 0
              ? `It speaks of ${elsewhere.map((one) => `"${one}"`).join(', ')}.`
              : 'Mend the template, or take this out of the test.',
        },
      ),
    );
  }
  const nothing = named.find((reading) => says(reading, 'nothing'));
  const unexpected = found.filter((f) => !expected.has(f) && (nothing !== undefined || f.severity === 'error'));
  if (unexpected.length > 0) {
    const list = unexpected
      .slice(0, 3)
      .map(({ severity, rule, about }) => `${severity} ${rule.id}${about === undefined ? '' : ` at "${about}"`}`);
    const more = unexpected.length > list.length ? ` and ${unexpected.length - list.length} more` : '';
    failures.push(
      finding(
        rules.testFailed,
        headPlace((nothing ?? test).statement),
        `${called} finds what it does not name: ${list.join(', ')}${more}.`,
        {
          advice: 'Mend the template, or name with "finds" what is meant to be found.',
          related: unexpected.slice(0, 8).map(({ place, message }) => ({ place, message })),
        },
      ),
    );
  }
  return failures;
}
