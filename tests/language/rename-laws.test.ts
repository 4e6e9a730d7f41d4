/** What holds of every rename: it can be taken back to the same bytes, and nothing but names is another afterwards. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { definitionAt } from '../../server/language/definition.ts';
import { referencesAt } from '../../server/language/references.ts';
import { renameAt, renameableAt } from '../../server/language/rename.ts';
import type { Snapshot, TextEdit } from '../../server/language/snapshot.ts';
import type { Project } from '../../server/model/project.ts';
import { closetFiles, examples } from '../examples/load.ts';
import { told, workspaceOf } from '../model/support.ts';

const folder = join(examples, 'quarry-lane');
const texts = Object.fromEntries(
  closetFiles(folder).map((file) => [`/p/${file}`, readFileSync(join(folder, file), 'utf8')]),
);

/** One that extends another, measured and overridden units, sets, parameters that hold names, a library's worth of names. */
texts['/p/more.closet'] = `template tall extends reach-in {
  parameter wood: board = white-16
  zone shirts { shelf high { at 86in; matched fronts } }
  zone coats { shelf top { board wood; matched fronts } }
}
template niche {
  wall side { length 40in; height 96in }
  opening side { width 30in }
  zone main on side { width fill at most side.length; zone in { width 12in; shelf in { at 30in } }; gap out after in { width fill } }
}
unit tall-1 tall mirrored { width 94in; wood white-12; override shirts.high { at 85in; matched fronts }; override outlet { height 17in } }
unit niche-1 niche
survey niche-1 { wall side { length 39-7/8in }; opening side { width 29in } }
accept shelf-end-in-the-air at niche-1.main.in because "so it is"
policy stricter extends everyday { limit rod-height at most 83in }
extra spare { board white-12; length 20in; matched fronts }
`;

function snapshotIn(project: Project, path: string): Snapshot {
  const source = project.sources.get(path);
  if (!source) throw new Error(`${path} was not read`);
  return { project, source, path };
}

function apply(project: Project, edits: readonly TextEdit[]): void {
  for (const { file, ...edit } of edits.toSorted((a, b) => b.start - a.start)) project.editFile(file, [edit]);
  project.refreshNow();
}

/** All that comes out but the names: findings by rule and line, and the length of every part of every unit. */
function outcome(project: Project): unknown {
  const findings = project.findings().map((f) => {
    const { file, line, severity, rule } = told(f);
    return `${file}:${line} ${severity} ${rule} ${f.related.length} ${f.reach.length}`;
  });
  const units = [...project.units()].map((u) =>
    u.resolved?.layout.parts.map(({ length, steps }) => [length, steps.length]),
  );
  return [findings.sort(), units];
}

describe('a rename', { timeout: 120_000 }, () => {
  const project = workspaceOf(texts).projectOf('/p/more.closet')?.project as Project;
  const before = outcome(project);
  /** Every name that can be changed, once. */
  const names = Object.keys(texts).flatMap((path) => {
    const snapshot = snapshotIn(project, path);
    return [...snapshot.source.text.matchAll(/[a-z][\w-]*/gi)].flatMap(({ index }) => {
      const able = renameableAt(snapshot, index);
      return able.kind === 'renameable' && able.start === index ? [{ path, at: index, name: able.name }] : [];
    });
  });
  const known = [...new Set(names.map(({ name }) => name))];
  const name = fc.oneof(
    fc.constantFrom(...known),
    fc.constantFrom(
      'fresh',
      'x',
      'count',
      'floor',
      'fill',
      'in',
      'm',
      'shirt',
      'mirrored',
      'none',
      'width',
      'unit',
      'Ü-1',
    ),
  );

  it('knows every sort of name', () => {
    expect(names.length).toBeGreaterThan(300);
    expect(known).toEqual(
      expect.arrayContaining(['white-12', 'reach-in', 'width', 'shirts', 'fronts', 'side', 'tall-1']),
    );
  });

  it('is taken back to the same bytes by its inverse, and nothing but names is another in between', () => {
    let done = 0;
    fc.assert(
      fc.property(fc.constantFrom(...names), name, (place, to) => {
        const result = renameAt(snapshotIn(project, place.path), place.at, to);
        if (result.kind === 'refused') {
          expect(result.why).toMatch(/^[A-Z"].*\.$/);
          return;
        }
        if (result.edits.length > 0) done++;
        apply(project, result.edits);
        try {
          staysTheSame(place, to, result.edits);
        } finally {
          // Where something is wrong, the next one starts from the same texts all the same.
          for (const [path, text] of Object.entries(texts)) {
            const now = project.sources.get(path)?.text;
            if (now !== undefined && now !== text) apply(project, [{ file: path, start: 0, end: now.length, text }]);
          }
        }
      }),
      { numRuns: Number(process.env.RENAMES ?? 150) },
    );
    expect(done).toBeGreaterThan(40);

    function staysTheSame(place: (typeof names)[number], to: string, edits: readonly TextEdit[]): void {
      expect(outcome(project)).toEqual(before);
      const moved = edits.filter((e) => e.file === place.path && e.start < place.at);
      const at = moved.reduce((sum, e) => sum + e.text.length - (e.end - e.start), place.at);
      const back = renameAt(snapshotIn(project, place.path), at, place.name);
      if (back.kind === 'refused') throw new Error(`${place.name} to ${to} and not back: ${back.why}`);
      apply(project, back.edits);
      for (const [path, text] of Object.entries(texts)) expect(project.sources.get(path)?.text).toBe(text);
    }
  });

  it('changes what leads to one declaration, and nothing else', () => {
    // The opening that is named after its wall stands for both, and is asked for one of them.
    for (const { path, at } of names.filter((one, i) => i % 7 === 0 && one.name !== 'side')) {
      const snapshot = snapshotIn(project, path);
      const found = referencesAt(snapshot, at);
      const result = renameAt(snapshot, at, 'quite-fresh');
      if (result.kind === 'refused') throw new Error(result.why);
      const edits = new Set(result.edits.map((e) => `${e.file}:${e.start}`));
      for (const one of found) {
        expect(edits).toContain(`${one.source.id}:${one.start}`);
        const back = referencesAt(snapshotIn(project, one.source.id), one.start);
        expect(back.map((r) => `${r.source.id}:${r.start}`)).toEqual(found.map((r) => `${r.source.id}:${r.start}`));
        expect(definitionAt(snapshotIn(project, one.source.id), one.start)).toBeDefined();
      }
    }
  });
});
