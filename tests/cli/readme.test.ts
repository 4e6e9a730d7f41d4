/** What the README shows is held to the tool. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith, root, storypole } from './command.ts';

const readme = readFileSync(join(root, 'README.md'), 'utf8');
const closets = [...readme.matchAll(/^```closet\n(.*?)^```$/gms)].map(([, text = '']) => text);

it('its closet checks clean together with what it says it needs, and is cut and planned', () => {
  const [closet = '', needed = ''] = closets;
  expect(closet).toContain('template reach-in');
  expect(needed).toContain('project "Quarry Lane"');
  const folder = folderWith({ 'a.closet': `${closet}\n${needed}` });
  expect(storypole(['check'], folder)).toEqual({ status: 0, out: 'No findings in 1 file, 2 units.\n', err: '' });
  const cuts = storypole(['cuts'], folder);
  expect([cuts.status, cuts.err]).toEqual([0, '']);
  // 93-3/4in less zones of 48in; 94in less 48in, where the room is mirrored. Worked out by hand.
  expect(cuts.out).toMatch(/ 45-3\/4in .* white-12 +coats\.top\n/);
  expect(cuts.out).toMatch(/ 46in .* white-12 +coats\.top\n/);
  expect(storypole(['plan'], folder).out).not.toContain('Not cut');
});

it('its closet is not clean without', () => {
  expect(storypole(['check'], folderWith({ 'a.closet': closets[0] ?? '' })).status).toBe(1);
});

it('its commands are those there are', () => {
  const named = [...readme.matchAll(/^storypole ([a-z-]+)/gm)].map(([, name]) => name);
  const help = storypole(['--help']).out;
  const there = [...help.matchAll(/^ {2}([a-z-]+) \[/gm)].map(([, name]) => name).filter((name) => name !== 'help');
  expect(named.toSorted()).toEqual(there.toSorted());
});

it('its links within the repository lead somewhere', () => {
  const links = [...readme.matchAll(/\]\((?!https?:|#)([^)#]+)\)/g)].map(([, path = '']) => path);
  expect(links.length).toBeGreaterThan(3);
  expect(links.filter((path) => !existsSync(join(root, path)))).toEqual([]);
});
