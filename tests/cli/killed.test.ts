/** A command that is killed leaves each source as it was or as it is to be, and the next one works and clears up. */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';
import { contentsOf, folderOf, isTemporary, type Killed, killed, killedAt, leftAlone } from './killed.ts';

it('format, at each of its steps', () => {
  const { files, words } = killed.format as Killed;
  const two = Object.fromEntries(Object.entries(files).filter(([name]) => name !== 'b.closet'));
  const one: Killed = { words, files: two };
  const { after, calls } = leftAlone(one);
  // The files made whole, then each in its place, then the folders, then what is not needed any more.
  expect(calls.filter((call) => call === 'renameSync')).toHaveLength(2);
  expect(calls.filter((call) => call === 'sync')).toHaveLength(2);
  expect(calls.lastIndexOf('sync')).toBeLessThan(calls.indexOf('renameSync'));
  expect(calls.lastIndexOf('renameSync')).toBeLessThan(calls.indexOf('fsyncSync'));
  expect(calls.lastIndexOf('fsyncSync')).toBeLessThan(calls.indexOf('unlinkSync'));
  expect(calls.map((call, i) => ({ call, wrong: killedAt(one, i + 1, after) }))).toEqual(
    calls.map((call) => ({ call, wrong: [] })),
  );
}, 120_000);

it.each(['rename', 'fix', 'export', 'packet'])(
  '%s, at a few of them',
  (name) => {
    const one = killed[name] as Killed;
    const { after, calls } = leftAlone(one);
    // In the midst of writing, and between two that take their places.
    const half = calls.lastIndexOf('writeFile half') + 1;
    const placing = calls.findLastIndex((call) => call === 'renameSync' || call === 'linkSync') + 1;
    for (const at of [half, placing]) expect({ at, wrong: killedAt(one, at, after) }).toEqual({ at, wrong: [] });
  },
  120_000,
);

it('what it leaves is no source', () => {
  const folder = folderOf(killed.format as Killed);
  const left = '.storypole-0123456789ab-1-01234567-89ab-cdef-0123-456789abcdef.tmp';
  writeFileSync(join(folder, left), 'unit 1 2 3');
  const asked = JSON.parse(storypole(['check', '--format', 'json'], folder).out);
  expect(asked.projects[0].files).toHaveLength(3);
  expect(Object.keys(contentsOf(folder)).filter(isTemporary)).toEqual([left]);
  rmSync(folder, { recursive: true });
  expect(storypole(['check'], folderWith({ [left]: 'project "P"' })).status).toBe(2);
});
