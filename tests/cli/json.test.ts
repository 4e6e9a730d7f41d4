/** What `--format json` writes: held to its schema, unknown fields refused, and to what the figures mean. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { validator } from './closed-schema.ts';
import { folderWith, root, storypole } from './command.ts';
import { clean, wrong } from './texts.ts';

interface Length {
  readonly ticks: number;
  readonly mm: number;
  readonly text: string;
}
interface Place {
  readonly file: string;
  readonly start: { readonly line: number; readonly column: number; readonly offset: number };
  readonly end: { readonly line: number; readonly column: number; readonly offset: number };
}
interface Finding {
  readonly rule: string;
  readonly message: string;
  readonly range: Place;
  readonly related: readonly { readonly range: Place }[];
  readonly fixes: readonly { readonly edits: readonly { readonly range: Place; readonly text: string }[] }[];
}
interface Piece {
  readonly material: string;
  readonly length: Length;
  readonly depth: Length | null;
  readonly quantity: number;
}
interface Unit {
  readonly name: string;
  readonly count: number;
  readonly parts: readonly (Piece & {
    readonly path: string;
    readonly steps: readonly { readonly amount: Length }[];
  })[];
}
interface Project {
  readonly findings: readonly Finding[];
  readonly counts: { readonly errors: number; readonly warnings: number; readonly notes: number };
  readonly units: readonly Unit[];
  readonly extras: readonly Piece[];
  readonly totals: readonly (Piece & Record<string, unknown>)[];
  readonly verified: boolean;
  readonly saw: { readonly trim: Length };
  readonly pieces: readonly (Piece & { readonly for: readonly { readonly quantity: number }[] })[];
  readonly patterns: readonly (Record<'length' | 'used' | 'kerfLoss' | 'offcut', Length> & {
    readonly times: number;
    readonly cuts: readonly { readonly piece: string; readonly quantity: number }[];
  })[];
}

type Schema = Record<string, unknown>;

const schema: Schema = JSON.parse(storypole(['schema']).out);
const validate = validator(schema);

/** Runs a command and holds what it writes to the schema. */
function ask(words: readonly string[], folder = root): Project[] {
  const { out } = storypole([...words, '--format', 'json'], folder);
  const written = JSON.parse(out);
  expect(validate(written) ? [] : validate.errors).toEqual([]);
  return written.projects;
}

const quarryLane = 'examples/quarry-lane';
const mistakes = readdirSync(join(root, 'examples/mistakes'));

describe('the schema', () => {
  it('refuses what the command does not write', () => {
    const { out } = storypole(['check', '--format', 'json'], folderWith({ 'a.closet': wrong }));
    const spoilt = (change: (document: Schema, project: Schema, finding: Schema) => unknown): boolean => {
      const document = JSON.parse(out);
      change(document, document.projects[0], document.projects[0].findings[0]);
      return !validate(document);
    };
    expect(spoilt(() => undefined)).toBe(false);
    expect(spoilt((document) => Object.assign(document, { version: 2 }))).toBe(true);
    expect(spoilt((document) => Object.assign(document, { command: 'cuts' }))).toBe(true);
    expect(spoilt((_, project) => Object.assign(project, { more: 1 }))).toBe(true);
    expect(spoilt((_, project) => delete project.counts)).toBe(true);
    expect(spoilt((_, __, finding) => Object.assign(finding, { severity: 'bad' }))).toBe(true);
    expect(spoilt((_, __, finding) => Object.assign(finding.range as Schema, { line: 1 }))).toBe(true);
  });

  it.each([
    ['definition', `a.closet:9:21`],
    ['references', 'a.closet:7:8'],
    ['hover', 'a.closet:7:8'],
    ['type-definition', 'a.closet:9:6'],
    ['users', 'a.closet:4:10', '--through'],
    ['bases', 'a.closet:9:6'],
    ['complete', 'a.closet:7:35'],
    ['complete', 'a.closet:7:50'],
    ['signature', 'a.closet:7:50'],
    ['hints', 'a.closet', '--why'],
    ['lenses', 'a.closet'],
    ['outline'],
    ['rename', 'a.closet:7:8', 'niche', '--dry-run'],
    ['refactor', 'a.closet:7:50', '--dry-run', 'to-parameter'],
    ['symbols', '--named', 'o'],
    ['format'],
    ['compare', '.', '.'],
  ])('holds what %s writes', (...words) => {
    const { out, status } = storypole([...words, '--format', 'json'], folderWith({ 'a.closet': clean }));
    const document = JSON.parse(out);
    expect(status).toBe(0);
    expect(document.command).toBe(words[0]);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
  });

  it('holds what links writes of a library', () => {
    const folder = folderWith({
      '.git/HEAD': '',
      'job/a.closet': 'project "Quarry Lane" { show inches }\nuse "../shared" as trade\n',
      'shared/b.closet': 'board oak { depth 12in; thickness 3/4in }\n',
    });
    const document = JSON.parse(storypole(['links', 'job', '--format', 'json'], folder).out);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
    expect(document.links).toMatchObject([
      { alias: 'trade', path: '../shared', opens: 'shared/b.closet', files: ['shared/b.closet'] },
    ]);
  });

  it('holds what the list of exceptions writes', () => {
    const { out, status } = storypole(['exceptions', 'examples/quarry-lane', '--format', 'json'], root);
    const document = JSON.parse(out);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
    expect([status, document.projects[0].exceptions.length]).toEqual([0, 13]);
    const narrow = JSON.parse(
      storypole(['exceptions', 'examples/mistakes/survey-too-narrow', '--format', 'json'], root).out,
    );
    expect(validate(narrow) ? [] : validate.errors).toEqual([]);
    expect(narrow.projects[0].counts).toEqual({ decision: 1, cutLengths: 0, fits: 0 });
  });

  it('holds what an import writes, of a table that is taken and of one that is not', () => {
    const folder = folderWith({
      'a.closet': clean,
      'good.csv': 'unit,length,height\nA-101-linen,35-7/8in,6in\n',
      'bad.csv': 'unit,length\nA-101-lines,16-Jan\nA-101-linen,12\n',
    });
    const refused = JSON.parse(storypole(['import', 'bad.csv', '--format', 'json'], folder).out);
    expect(validate(refused) ? [] : validate.errors).toEqual([]);
    expect(refused).toMatchObject({ taken: false, written: false, problemCount: 2, asks: ['unit-of-measure'] });
    const dry = storypole(['import', 'good.csv', '--dry-run', '--format', 'json'], folder);
    const document = JSON.parse(dry.out);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
    expect(document).toMatchObject({ taken: true, written: false, surveys: [{ unit: 'A-101-linen', change: 'new' }] });
    expect(document.edits[0].text).toContain('length 35-7/8in at 6in');
  });

  it('holds what a check of the style found, and what was left as it stands', () => {
    const folder = folderWith({ 'a.closet': 'unit   a t\n', 'b.closet': 'template b {\n   wall   back {\n' });
    const { out, status } = storypole(['format', '--check', '--format', 'json'], folder);
    const document = JSON.parse(out);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
    expect([status, document.files, document.written, document.changed]).toEqual([1, 2, false, ['a.closet']]);
    expect(document.kept).toEqual([{ file: 'b.closet', line: 1 }]);
    const dash = storypole(['format', '-', '--format', 'json'], folder);
    expect([dash.status, dash.out]).toEqual([2, '']);
  });

  it('holds the list of what can be refactored, with the reason where it cannot', () => {
    const { out } = storypole(
      ['refactor', 'a.closet:9:21', '--format', 'json'],
      folderWith({ 'a.closet': `${clean}survey A-101-linen { taken "12 March" }\n` }),
    );
    const document = JSON.parse(out);
    expect(document.command).toBe('refactorings');
    expect(document.refactorings.map((one: { notHere: string | null }) => one.notHere)).toContain(
      'Its survey is stated as on site, and would stay as it is.',
    );
    expect(validate(document) ? [] : validate.errors).toEqual([]);
  });

  it.each(['check', 'cuts', 'plan', 'takeoff'])('holds what %s writes of every mistake that people make', (command) => {
    // One of them is three projects that use each other's folders as libraries.
    expect(ask([command, 'examples/mistakes']).length).toBeGreaterThanOrEqual(mistakes.length);
  });

  it.each(['cuts', 'plan'])('holds what %s writes of matched sets and of what offcuts are worth', (command) => {
    const folder = folderWith({
      'a.closet': `project "Quarry Lane" { currency EUR }
board oak { depth 12in; thickness 3/4in }
stock oak { length 10ft price 24.00 EUR; offcut 50in; keep-offcuts worth 1.20 EUR per 1ft }
extra fronts { board oak; length 20in; count 3; matched row }
extra shelves { board oak; length 31in; count 7 }
`,
    });
    const [project] = ask([command], folder) as unknown as [Record<string, unknown[]>];
    if (command === 'plan') expect([project.sets?.length, project.worth?.length]).toEqual([1, 1]);
    else expect(project.extras).toMatchObject([{ matched: 'row' }, { matched: null }]);
  });

  it('holds what explain writes of every rule', () => {
    const { out, status } = storypole(['explain', '--format', 'json']);
    const written = JSON.parse(out);
    expect([status, validate(written) ? [] : validate.errors]).toEqual([0, []]);
    expect(written.rules.length).toBeGreaterThan(40);
  });
});

describe('findings', () => {
  it('stand where they say, in lines, columns and offsets alike', () => {
    const findings = ask(['check', 'examples/mistakes/misspelt-name'])[0]?.findings ?? [];
    const text = readFileSync(join(root, 'examples/mistakes/misspelt-name/closet.closet'), 'utf8');
    const places = findings.flatMap((finding) => [finding.range, ...finding.related.map(({ range }) => range)]);
    expect(places.length).toBeGreaterThan(5);
    for (const { start, end } of places) {
      for (const { line, column, offset } of [start, end]) {
        const before = text.slice(0, offset).split('\n');
        expect([line, column]).toEqual([before.length, (before.at(-1)?.length ?? 0) + 1]);
      }
      expect(end.offset).toBeGreaterThanOrEqual(start.offset);
    }
    const misspelt = findings.find(({ message }) => message.includes('wite-12'))?.range;
    expect(text.slice(misspelt?.start.offset, misspelt?.end.offset)).toBe('wite-12');
  });

  it('are gone when their fixes are made', () => {
    const text = readFileSync(join(root, 'examples/mistakes/misspelt-name/closet.closet'), 'utf8');
    const folder = folderWith({ 'closet.closet': text });
    const before = ask(['check'], folder)[0]?.findings ?? [];
    const edits = before.flatMap(({ fixes }) => fixes[0]?.edits ?? []);
    expect(edits.length).toBeGreaterThan(5);
    const mended = edits
      .toSorted((a, b) => b.range.start.offset - a.range.start.offset)
      .reduce((t, { range, text: put }) => t.slice(0, range.start.offset) + put + t.slice(range.end.offset), text);
    writeFileSync(join(folder, 'closet.closet'), mended);
    const after = ask(['check'], folder)[0]?.findings ?? [];
    const offered = new Set(before.filter(({ fixes }) => fixes.length > 0).map(({ message }) => message));
    expect(after.filter(({ message }) => offered.has(message))).toEqual([]);
    expect(after.length).toBeLessThan(before.length);
  });

  it('that are not listed are counted', () => {
    const [all] = ask(['check', quarryLane]);
    const [errors] = ask(['check', quarryLane, '--severity', 'error']);
    expect(all?.findings.length).toBe(all?.counts.notes);
    expect([errors?.findings, errors?.counts]).toEqual([[], all?.counts]);
  });
});

describe('cuts', () => {
  const [project] = ask(['cuts', quarryLane]);
  if (!project) throw new Error('nothing is cut');

  it('has steps that add up to each length', () => {
    const parts = project.units.flatMap(({ parts }) => parts);
    expect(parts.length).toBeGreaterThan(700);
    for (const { length, steps } of parts)
      expect(steps.reduce((sum, { amount }) => sum + amount.ticks, 0)).toBe(length.ticks);
  });

  it('has totals that are the parts of all units and the loose parts', () => {
    const key = ({ material, length, depth }: Piece): string => `${material} ${length.ticks} ${depth?.ticks}`;
    const tally = (pieces: readonly Piece[]): Record<string, number> => {
      const sums: Record<string, number> = {};
      for (const piece of pieces) sums[key(piece)] = (sums[key(piece)] ?? 0) + piece.quantity;
      return sums;
    };
    expect(tally(project.totals)).toEqual(tally([...project.units.flatMap(({ parts }) => parts), ...project.extras]));
    // The plan is asked for the same pieces.
    const [plan] = ask(['plan', quarryLane]);
    const count = (pieces: readonly Piece[]): number => pieces.reduce((sum, { quantity }) => sum + quantity, 0);
    expect(count(plan?.pieces ?? [])).toBe(count(project.totals));
  });

  it('gives a length in ticks, millimetres and words alike', () => {
    // 1 in is 25.4 mm and 1,016,000 ticks: 36 in are 914.4 mm.
    const [small] = ask(['cuts'], folderWith({ 'a.closet': clean }));
    expect(small?.totals.map(({ length }) => length)).toEqual([{ ticks: 36_576_000, mm: 914.4, text: '36in' }]);
  });

  it('multiplies by the count of a unit', () => {
    const many = clean.replace('phase 1 }', 'phase 1; count 12 }');
    const [project] = ask(['cuts'], folderWith({ 'a.closet': many }));
    expect(project?.units.map(({ count, parts }) => [count, parts.map(({ quantity }) => quantity)])).toEqual([
      [12, [12]],
    ]);
  });
});

describe('plan', () => {
  const [project] = ask(['plan', quarryLane]);
  if (!project) throw new Error('nothing is planned');

  it('has been verified, and every board adds up', () => {
    expect(project.verified).toBe(true);
    expect(project.patterns.length).toBeGreaterThan(20);
    for (const { length, used, kerfLoss, offcut } of project.patterns)
      expect(2 * project.saw.trim.ticks + used.ticks + kerfLoss.ticks + offcut.ticks).toBe(length.ticks);
  });

  it('cuts every piece as often as it is asked for, and says for what', () => {
    const cut = new Map<string, number>();
    for (const { times, cuts } of project.patterns)
      for (const { piece, quantity } of cuts) cut.set(piece, (cut.get(piece) ?? 0) + times * quantity);
    const pieces = project.pieces as readonly (Project['pieces'][number] & { readonly id: string })[];
    for (const piece of pieces) {
      expect(cut.get(piece.id)).toBe(piece.quantity);
      expect(piece.for.reduce((sum, { quantity }) => sum + quantity, 0)).toBe(piece.quantity);
    }
  });

  it('is the same for a file of the project', () => {
    expect(ask(['plan', `${quarryLane}/floors/floor-1.closet`])).toEqual([project]);
  });
});
