import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { spanOf } from '../../grammar/tree.ts';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import { decode } from '../../server/model/decode.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import { allFindings, prelude, projectOf, workspaceOf } from './support.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'storypole-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Rules and messages of a folder with these files. */
function found(name: string, files: Record<string, string | Uint8Array>): string[] {
  const at = join(folder, name);
  mkdirSync(at);
  for (const [file, content] of Object.entries(files)) writeFileSync(join(at, file), content);
  return foundIn(at);
}

function foundIn(at: string): string[] {
  const workspace = createWorkspace(nodeFiles, [at]);
  workspace.loadFolder(at);
  return workspace.projects.flatMap(({ project }) => {
    project.refreshNow();
    return [...project.findings(), ...planProject(project).findings].map((f) => `${f.rule.id}: ${f.message}`);
  });
}

describe('bytes', () => {
  it('that are no UTF-8 are told, with the byte and its line', () => {
    const latin = Uint8Array.from([...new TextEncoder().encode('project "P"\n// caf'), 0xe9, 0x20, 0x21]);
    expect(found('latin', { 'a.closet': latin })).toEqual([
      'file-not-text: The file is not UTF-8: the byte 0xE9 in line 2 is no letter in it. It was saved in another encoding.',
    ]);
    expect(found('utf16', { 'a.closet': Uint8Array.from([0xff, 0xfe, 0x70, 0]) })).toEqual([
      'file-not-text: The file is saved as UTF-16, and .closet files are UTF-8.',
    ]);
    expect(found('zero', { 'a.closet': Uint8Array.from([0x70, 10, 0]) })).toEqual([
      'file-not-text: The file is no text: it holds a zero byte in line 2.',
    ]);
  });

  it('of any kind are read or refused, never thrown at', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const decoded = decode(bytes);
        if (decoded.kind === 'not-text') return;
        const project = workspaceOf({ '/p/a.closet': decoded.text }).projects[0]?.project;
        if (project) allFindings(project);
      }),
      { numRuns: 300 },
    );
  });

  it('with a byte order mark are read as without', () => {
    expect(found('mark', { 'a.closet': '\ufeffproject "P" { show inches }\n' })).toEqual([]);
    expect(found('no-text', { 'a.closet': '' })).toEqual([]);
  });
});

describe('files', () => {
  it('of 50 MB are not read, and say so', () => {
    const text = 'unit a b\n'.repeat(Math.ceil((50 * 1024 * 1024) / 9));
    expect(found('large', { 'a.closet': text, 'b.closet': 'project "P"\n' })).toEqual([
      'file-too-large: The file holds 50.0 MB; files of more than 16 MB are not read.',
    ]);
  });

  it('that are folders, links to nothing, or links in a circle do not stop the others', () => {
    const at = join(folder, 'odd');
    mkdirSync(join(at, 'b.closet'), { recursive: true });
    writeFileSync(join(at, 'a.closet'), 'project "P" { show inches }\n');
    symlinkSync(join(at, 'nowhere'), join(at, 'c.closet'));
    symlinkSync(at, join(at, 'loop'));
    symlinkSync(join(at, 'self.closet'), join(at, 'self.closet'));
    expect(foundIn(at).sort()).toEqual([
      'file-unreadable: "c.closet" cannot be read: it is not there.',
      'file-unreadable: "self.closet" cannot be read: it is a link that leads back to itself.',
    ]);
  });
});

describe('texts', () => {
  it('nested deeper than anything needs are told once', () => {
    const deep = `template t ${'{ zone z '.repeat(5000)}${'}'.repeat(5000)}`;
    const ids = new Set(found('deep', { 'a.closet': `project "P"\n${deep}\n` }).map((f) => f.split(':')[0]));
    expect(ids).toContain('nested-too-deep');
    expect(
      allFindings(projectOf(`template t { wall back { length ${'('.repeat(100_000)}3in } }`)).map((f) => f.rule.id),
    ).toContain('nested-too-deep');
    expect(allFindings(projectOf(`template t { wall back { length ${'-'.repeat(50_000)}3in } }`)).length).toBeLessThan(
      5,
    );
  });

  it('of one endless line are read', () => {
    expect(allFindings(projectOf(`unit a b ${'x '.repeat(200_000)}`)).length).toBeGreaterThan(0);
    expect(
      allFindings(projectOf(`extra e { board white-12; length ${'9'.repeat(100_000)}in }`)).map((f) => f.rule.id),
    ).toContain('too-long');
  });

  it('that expand to more than any building holds are told, at once', () => {
    const row = (count: string): string => `template t { board white-12; wall back { length 24in; height 96in }
  zone a on back { width fill; shelf s { at 80in }; shelves r between floor and s { count ${count} } } }
unit u t { count 100000 }
unit v t { count 100000 }
`;
    const ids = allFindings(projectOf(row('10000000'))).map((f) => f.rule.id);
    expect(ids.filter((id) => id === 'too-many').length).toBe(2);
    expect(
      allFindings(projectOf('template t { }\nunit u t { count 99999999999999999999 }')).map((f) => f.rule.id),
    ).toContain('number-out-of-bounds');
  });

  it('cut off at every character give findings within the text, and nothing is thrown', () => {
    const root = join(import.meta.dirname, '../../examples');
    const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.closet'));
    expect(files.length).toBeGreaterThan(15);
    for (const file of files) {
      const decoded = decode(readFileSync(join(root, file)));
      if (decoded.kind !== 'text') continue;
      // Small files at every character, large ones at some two hundred.
      const step = Math.max(1, Math.floor(decoded.text.length / 200));
      for (let end = 0; end <= decoded.text.length; end += step) {
        const text = decoded.text.slice(0, end);
        const workspace = workspaceOf({ '/p/prelude.closet': prelude, '/p/a.closet': text });
        for (const { project } of workspace.projects) {
          for (const f of allFindings(project)) {
            const { start, end: to } = spanOf(f.place);
            expect(start).toBeGreaterThanOrEqual(0);
            expect(to).toBeLessThanOrEqual(Math.max(text.length, prelude.length));
          }
        }
      }
    }
  }, 120_000);
});
