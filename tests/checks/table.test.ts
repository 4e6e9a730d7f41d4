/** The table of rules as a whole: what every rule has to say, and what policies do to it. */
import { describe, expect, it } from 'vitest';
import { defaultLimits, type LimitName, limitNames, limitOf } from '../../server/checks/defaults.ts';
import { explain } from '../../server/checks/explain.ts';
import { allChecks, ruleNamed, rules, runChecks } from '../../server/checks/table.ts';
import type { Rule } from '../../server/model/rule.ts';
import { inches } from '../../server/model/ticks.ts';
import { fixture, garment, ids, input, layout, only, panel, policy, rod, shelf } from './layouts.ts';

const told = (rule: Rule) => [rule.title, rule.explanation, rule.comparison, rule.caution].join(' ');

describe('every rule', () => {
  it('has an id of its own, in plain words', () => {
    expect(new Set(rules.map(({ id }) => id)).size).toBe(rules.length);
    for (const { id } of rules) expect(id).toMatch(/^[a-z]+(-[a-z]+)+$/);
  });

  it('is found by its id', () => {
    for (const rule of rules) expect(ruleNamed(rule.id)).toBe(rule);
    expect(ruleNamed('no-such-rule')).toBeUndefined();
  });

  it('explains itself in whole sentences', () => {
    for (const { id, title, explanation } of rules) {
      expect(title, id).toMatch(/^[A-Z].*[^.]$/);
      expect(explanation, id).toMatch(/^[A-Z].*[.`]$/s);
      expect(explanation.length, id).toBeGreaterThan(40);
    }
  });

  it('states its source, and a published one in full', () => {
    for (const { id, source } of rules) {
      expect(['published', 'common-practice', 'language'], id).toContain(source.kind);
      if (source.kind !== 'published') continue;
      for (const part of [source.document, source.section, source.edition]) expect(part.trim(), id).not.toBe('');
    }
  });

  it('carries a caution where work can hurt someone', () => {
    // Wiring, lights, electrical panels, sprinklers, hatches, ways out, accessibility, old paint, loads, tipping.
    const danger =
      /outlet|switch|electric|wiring|\blight\b|lamp|sprinkler|hatch|\bvent\b|people walk|paint|\bload\b|\btip(s|ping)?\b|within reach/i;
    const dangerous = rules.filter((rule) => danger.test(told(rule)));
    expect(dangerous.map(({ id }) => id)).toEqual(
      expect.arrayContaining([
        'fitting-before-fixture',
        'fixture-without-clear',
        'fitting-before-opening',
        'rod-height-limit',
      ]),
    );
    for (const rule of dangerous) expect(rule.caution, rule.id).toMatch(/local|licensed|maker/);
    for (const rule of rules.filter(({ family }) => family === 'fixtures')) expect(rule.caution, rule.id).toBeDefined();
  });

  it('never says that anything is safe or compliant', () => {
    for (const rule of rules) expect(told(rule), rule.id).not.toMatch(/\bsafe(ly|ty)?\b|\bcompl(y|ies|iant|iance)\b/i);
  });

  it('says what it compares where it reads a limit, and reads only limits there are', () => {
    const read = new Set(rules.flatMap(({ limits }) => limits ?? []));
    for (const rule of rules) if (rule.limits) expect(rule.comparison, rule.id).toBeDefined();
    expect([...read].filter((name) => !limitNames.has(name))).toEqual([]);
    expect([...limitNames].filter((name) => !read.has(name))).toEqual([]);
  });
});

describe('limits', () => {
  it('hold by default with a source, and otherwise as the policy says', () => {
    for (const { name, least, most, doc, source } of defaultLimits) {
      expect(doc, name).toMatch(/^[A-Z].*\.$/);
      if (least !== undefined || most !== undefined)
        expect(['published', 'common-practice'], name).toContain(source.kind);
      expect(limitOf(policy(), name as LimitName)).toEqual({ least, most, place: undefined, policy: undefined });
    }
    const set = limitOf(policy({ 'clear-above-rod': { least: 2 } }), 'clear-above-rod');
    expect(set).toMatchObject({ least: inches(2), most: undefined, policy: 'everyday' });
    // A side that the policy does not set stays.
    expect(limitOf(policy({ 'clear-above-rod': { most: 9 } }), 'clear-above-rod')).toMatchObject({
      least: inches(1.5),
      most: inches(9),
    });
  });
});

describe('the checks of a unit', () => {
  // A rod 8 in from the wall for a 17 in hanger (8 < 8-1/2), a shelf that covers a switch, and a panel through the lower shelf
  // and the rod; it just touches the upper shelf.
  const closet = layout(
    [
      shelf('shirts.high', 84),
      shelf('shirts.low', 42),
      rod('shirts.upper', 81, [garment('shirt', { hang: 38, hanger: 17 })], { fromWall: 8 }),
      panel('tower.left', 40),
    ],
    { fixtures: [fixture('switch', 'back', [10, 13], [40, 45])] },
  );

  it('are all run', () => {
    expect(ids(runChecks(input(closet))).sort()).toEqual(
      ['fitting-before-fixture', 'parts-overlap', 'parts-overlap', 'rod-near-wall'].sort(),
    );
    expect(allChecks.flatMap((check) => check.run(input(closet)))).toEqual(runChecks(input(closet)));
  });

  it('find only what their own rules name', () => {
    for (const check of allChecks) {
      for (const { rule } of check.run(input(closet))) expect(check.rules).toContain(rule);
    }
  });

  it('are as severe as the policies in force treat them', () => {
    const moved = runChecks(input(closet, policy({}, { 'rod-near-wall': 'note', 'fitting-before-fixture': 'error' })));
    expect(only(moved, 'rod-near-wall').severity).toBe('note');
    expect(only(moved, 'fitting-before-fixture').severity).toBe('error');
    expect(moved.filter(({ rule }) => rule.id === 'parts-overlap').map(({ severity }) => severity)).toEqual([
      'error',
      'error',
    ]);
    const off = runChecks(input(closet, policy({}, { 'rod-near-wall': 'off' })));
    expect(ids(off)).not.toContain('rod-near-wall');
    expect(off).toHaveLength(3);
  });
});

describe('an explanation', () => {
  it('says all that the rule says', () => {
    const rule = ruleNamed('rod-near-shelf') as Rule;
    const [said] = explain(rule).split('\n\nFor example:');
    expect(said).toBe(
      [
        'A rod is too near what is above it to lift a hanger off\nrod-near-shelf: warning, hanging',
        rule.explanation,
        `Compared: ${rule.comparison}`,
        'Limits that a policy can set:\n  clear-above-rod: From the centre of a rod to the underside of what is above it: room to lift a hanger off. At least 1-1/2in (38.1mm) by default (common practice, no source).',
        'Common practice, no source.',
      ].join('\n\n'),
    );
  });

  it('gives the published source, the caution, and limits that are not there by default', () => {
    expect(explain(ruleNamed('rod-under-advice') as Rule)).toMatch(/^Source: Time-Saver Standards/m);
    expect(explain(ruleNamed('fitting-before-fixture') as Rule)).toMatch(/^Caution: .*licensed electrician/m);
    expect(explain(ruleNamed('rod-height-limit') as Rule)).toMatch(/^ {2}rod-height: .* No limit by default\.$/m);
  });

  it('can be had of every rule', () => {
    for (const rule of rules) {
      const text = explain(rule);
      for (const part of [rule.title, rule.id, rule.severity, rule.explanation]) expect(text).toContain(part);
      expect(text.includes('Limits that a policy can set:'), rule.id).toBe(rule.limits !== undefined);
      expect(text).not.toMatch(/undefined|\n\n\n|\s$/);
    }
  });
});
