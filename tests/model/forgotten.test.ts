/** What was computed of texts that are no longer there is let go of: a day of typing takes no more memory than an hour. */
import { describe, expect, it } from 'vitest';
import { hintsIn } from '../../server/language/inlay-hints.ts';
import { indexOf } from '../../server/language/project-index.ts';
import { referencesAt } from '../../server/language/references.ts';
import { forgetTokens, tokenPiecesOf, tokensIn } from '../../server/language/semantic-tokens.ts';
import { usersOf } from '../../server/language/users.ts';
import type { Project } from '../../server/model/project.ts';
import { file, snapshotOf } from '../language/marked.ts';
import { collectGarbage, heapInUse } from '../memory.ts';

const units = Array.from({ length: 40 }, (_, i) => `unit u${i} t { width ${60 + i}in }\n`).join('');
const text = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; policy usual }
policy usual { limit rod-height at most 84in }
board oak { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock oak { length 8ft }
stock chrome { length 8ft }
garment coat { hang 40in; hanger 17in }
template t {
  parameter width: length from 50in to 200in
  wall back { length width; height 96in }
  zone a on back {
    width fill
    shelf s { at 40in; board oak }
    rod r { under s by 3in; pole chrome; for coat }
  }
}
${units}survey u0 { wall back { length 1500mm at 6in; length 1495mm at 60in } }
extra tops { board oak; length 41in; count 2 }
accept rod-span-long at t.a.r because "agreed upon"
`;

it('the layouts of every version of a template that was typed are not kept', () => {
  const { project, source } = snapshotOf(text);
  const at = text.indexOf('40in; board');
  for (let height = 10; height < 50; height++) {
    project.editFile(file, [{ start: at, end: at + 2, text: String(height) }]);
    for (const _ of project.refresh());
  }
  // 40 versions of more than 40 layouts each were computed.
  expect(project.stats.layoutsResolved).toBeGreaterThan(40 * 40);
  const cold = snapshotOf(source.text).project;
  expect(project.layoutsKept).toBeLessThanOrEqual(cold.layoutsKept + 32);
  expect(source.text).toContain('at 49in');
});

describe('of a declaration that is typed in, few versions are kept:', () => {
  const places: readonly (readonly [kind: string, before: string])[] = [
    ['project', 'kerf 1/8'],
    ['policy', 'at most 84'],
    ['board', 'depth 12'],
    ['rod', 'diameter 1-1/4'],
    ['stock', 'length 8'],
    ['garment', 'coat { hang 40'],
    ['template', 'shelf s { at 40'],
    ['unit', 'width 60'],
    ['survey', 'length 1495'],
    ['extra', 'length 41'],
    ['accept', 'agreed upon'],
  ];
  it.each(places)('%s', async (kind, before) => {
    const { project, source } = snapshotOf(text);
    const at = text.indexOf(before) + before.length;
    const versions: WeakRef<object>[] = [];
    const typed = 40;
    for (let i = 0; i < typed; i++) {
      // A digit is typed and taken back again.
      const [start, end, digit] = i % 2 === 0 ? [at, at, '1'] : [at, at + 1, ''];
      project.editFile(file, [{ start, end, text: digit }]);
      for (const _ of project.refresh());
      project.findings();
      const [edited] = [...source.statements()].filter(({ word }) => word.text === kind);
      if (edited) versions.push(new WeakRef(edited));
    }
    expect(source.text).toBe(text);
    await collectGarbage();
    const kept = new Set(versions.map((version) => version.deref()).filter((one) => one !== undefined));
    expect(kept.size).toBeLessThan(20);
  });
});

describe('what was made of a project for who looks at it goes with the next edit:', () => {
  const made: readonly (readonly [what: string, make: (project: Project) => object | undefined])[] = [
    ['the units of each template', (project) => [...usersOf(project).values()].at(0)?.at(0)],
    ['what is said of units and templates', (project) => indexOf(project, []).units.at(0)],
  ];
  it.each(made)('%s', async (_, make) => {
    const { project } = snapshotOf(text);
    for (const _ of project.refresh());
    // In a function of its own: what is on the stack of the test lives as long as the test.
    const unit = ((): WeakRef<object> => {
      const one = make(project);
      if (!one) throw new Error('there is none');
      return new WeakRef(one);
    })();
    const at = text.indexOf('40in; board');
    for (const height of ['41', '42']) {
      project.editFile(file, [{ start: at, end: at + 2, text: height }]);
      for (const _ of project.refresh());
      project.findings();
    }
    await collectGarbage();
    expect(unit.deref() === undefined).toBe(true);
  });
});

it('what was checked under a policy goes with that policy, while what it was checked of stays', async () => {
  const { project } = snapshotOf(text);
  for (const _ of project.refresh());
  const [first] = project.units();
  const layout = first?.resolved;
  const at = text.indexOf('84in }');
  const typed = 30;
  const policies: WeakRef<object>[] = [];
  for (let i = 1; i <= typed; i++) {
    const before = '84'.length;
    project.editFile(file, [{ start: at, end: at + before, text: String(50 + i) }]);
    for (const _ of project.refresh());
    const [unit] = project.units();
    expect(unit?.resolved).toBe(layout);
    if (unit) policies.push(new WeakRef(unit.policy));
  }
  expect(new Set(policies.map((one) => one.deref())).size).toBe(typed);
  await collectGarbage();
  expect(policies.filter((one) => one.deref() !== undefined).length).toBeLessThan(5);
});

it('of an argument nothing is kept by who looks for words and names', () => {
  const many = Array.from({ length: 4000 }, (_, i) => `unit v${i} t { width 60in }\n`).join('');
  const snapshot = snapshotOf(text + many);
  const { project, source } = snapshot;
  for (const _ of project.refresh());
  const look = (): void => {
    tokenPiecesOf(snapshot);
    forgetTokens(source);
    const all = { start: 0, end: source.length };
    hintsIn(snapshot, all, new Set(['width', 'height', 'cut', 'value', 'default']));
    expect(referencesAt(snapshot, text.indexOf('width: length'), [project]).length).toBeGreaterThan(4000);
  };
  // What is kept of names and of the text itself comes with the first unit that is looked at as with the last.
  const before = heapInUse();
  look();
  // A finding that it is no word of a unit took more than a kilobyte of each.
  expect((heapInUse() - before) / 4000).toBeLessThan(250);
});

it('units that are alike share one list of what is found in them, their own widths among it', () => {
  const long = text.replace('length width; height', 'length 40in; height').replace('width fill', 'width 50in');
  const { project } = snapshotOf(`${long}unit twin t { width 60in }\nunit other t { width 60in; floor 2 }\n`);
  for (const _ of project.refresh());
  const [twin, other] = [...project.units()].filter(({ name }) => ['twin', 'other'].includes(name));
  expect(twin?.checked.map(({ rule }) => rule.id)).toContain('widths-do-not-close');
  expect(twin?.checked).toBe(other?.checked);
});

it('the colours of a file go when it was closed, and come again when it is opened', async () => {
  const snapshot = snapshotOf(text);
  for (const _ of snapshot.project.refresh());
  const before = JSON.stringify(tokensIn(snapshot, { start: 0, end: text.length }));
  const kept = tokenPiecesOf(snapshot).map(({ tokens }) => new WeakRef(tokens));
  await collectGarbage();
  expect(kept.every((tokens) => tokens.deref() !== undefined)).toBe(true);
  forgetTokens(snapshot.source);
  await collectGarbage();
  expect(kept.filter((tokens) => tokens.deref() !== undefined)).toHaveLength(0);
  expect(JSON.stringify(tokensIn(snapshot, { start: 0, end: text.length }))).toBe(before);
});
