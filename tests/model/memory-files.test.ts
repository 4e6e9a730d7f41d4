/** Files in memory: whatever is put and taken away, they tell what a disk with the same files would. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Files } from '../../server/model/files.ts';
import { createMemoryFiles } from '../../server/model/memory-files.ts';
import { nodeFiles } from '../../server/model/node-files.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
/** No name is a file's in one place and a folder's in another, which a disk would refuse. */
const folderPath = fc.array(fc.constantFrom('a', 'b', '.git'), { minLength: 1, maxLength: 3 }).map((p) => p.join('/'));
const filePath = fc
  .tuple(fc.option(folderPath, { nil: '' }), fc.constantFrom('x.closet', 'y.closet'))
  .map(([folder, name]) => (folder === '' ? name : `${folder}/${name}`));

const step = fc.oneof(
  fc.record({ kind: fc.constant('put' as const), path: filePath, text: fc.string() }),
  fc.record({ kind: fc.constant('folder' as const), path: folderPath, text: fc.constant('') }),
  fc.record({ kind: fc.constant('remove' as const), path: fc.oneof(filePath, folderPath), text: fc.constant('') }),
);

/** All that can be told of the paths that a step may have touched, `root` left out. */
function told(files: Files, root: string, paths: Iterable<string>): unknown {
  return [...paths].map((path) => {
    const at = `${root}/${path}`;
    const read = files.read(at, 100_000);
    return [path, files.kindOf(at), files.list(at), read.kind === 'read' ? [...read.bytes] : read];
  });
}

describe('files in memory', () => {
  it('tell what a disk with the same files tells', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        const root = mkdtempSync(join(tmpdir(), 'storypole-memory-'));
        try {
          const memory = createMemoryFiles();
          memory.putFolder('/root');
          for (const { kind, path, text } of steps) {
            const at = join(root, path);
            if (kind === 'put') {
              mkdirSync(dirname(at), { recursive: true });
              writeFileSync(at, text);
              memory.put(`/root/${path}`, { kind: 'read', bytes: bytes(text) });
            } else if (kind === 'folder') {
              mkdirSync(at, { recursive: true });
              memory.putFolder(`/root/${path}`);
            } else {
              rmSync(at, { recursive: true, force: true });
              memory.remove(`/root/${path}`);
            }
          }
          const paths = new Set(['', ...steps.map(({ path }) => path), 'a', 'b', 'a/a', 'nowhere/x.closet']);
          paths.delete('');
          expect(told(memory, '/root', paths)).toEqual(told(nodeFiles, root, paths));
          expect(memory.list('/root')).toEqual(nodeFiles.list(root));
        } finally {
          rmSync(root, { recursive: true });
        }
      }),
      { numRuns: 60 },
    );
  });

  it('say how large a file is that is not wanted, and keep what could not be read', () => {
    const memory = createMemoryFiles();
    memory.put('/a/large.closet', { kind: 'read', bytes: bytes('12345') });
    memory.put('/a/locked.closet', { kind: 'failed', why: 'there is no permission to read it' });
    expect(memory.read('/a/large.closet', 4)).toEqual({ kind: 'too-large', size: 5 });
    expect(memory.read('/a/large.closet', 5).kind).toBe('read');
    expect(memory.read('/a/locked.closet', 5)).toEqual({ kind: 'failed', why: 'there is no permission to read it' });
    expect(memory.kindOf('/a/locked.closet')).toBe('file');
    expect(memory.real('/a/x/../large.closet')).toBe('/a/x/../large.closet');
  });
});
