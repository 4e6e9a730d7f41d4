/** `storypole check --fix` in folders of its own. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const closet = (shelf: string, width = ''): string => `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft }
template t {
  parameter width: length = 60in from 50in to 70in
  board white-12
  wall back { length width; height 96in }
  // The one shelf.
  zone a on back { width fill; shelf s { ${shelf} } }
}
unit u t { ${width} }
`;
const mistaken = closet('at 40in; board whit-12', 'width 62inx');
const mendedText = closet('at 40in; board white-12', 'width 62in');
const read = (folder: string): string => readFileSync(join(folder, 'a.closet'), 'utf8');

describe('check --fix', () => {
  it('makes the obvious fixes, tells each of them, and what is left', () => {
    const folder = folderWith({ 'a.closet': mistaken });
    const run = storypole(['check', '--fix'], folder);
    expect(run).toEqual({
      status: 0,
      err: '',
      out: 'a.closet:9 name-not-known: Write "white-12"\na.closet:11 unit-of-measure-not-known: Write "in"\n\nMade 2 changes; left are no findings.\n',
    });
    expect(read(folder)).toBe(mendedText);
    expect(storypole(['check', '--fix'], folder).out).toBe('Made no changes; left are no findings.\n');
  });

  it('shows what it would change, and writes nothing, where it is only tried', () => {
    const folder = folderWith({ 'a.closet': mistaken });
    const run = storypole(['check', '--fix', '--dry-run'], folder);
    expect(run.status).toBe(1);
    expect(run.out).toContain('--- a.closet\n+++ a.closet\n@@ -6,6 +6,6 @@\n   board white-12\n');
    expect(run.out).toContain('-unit u t { width 62inx }\n+unit u t { width 62in }\n');
    expect(run.out).toMatch(/Would make 2 changes; there are 2 errors\.\n$/);
    expect(read(folder)).toBe(mistaken);
  });

  it('keeps to one rule where one is named', () => {
    const folder = folderWith({ 'a.closet': mistaken });
    const run = storypole(['check', '--fix', '--rule', 'unit-of-measure-not-known'], folder);
    expect([run.status, run.out]).toEqual([
      1,
      'a.closet:11 unit-of-measure-not-known: Write "in"\n\nMade 1 change; left is 1 error.\n',
    ]);
    expect(read(folder)).toContain('whit-12');
  });

  it('makes nothing of what somebody has to choose', () => {
    // 40in, 40mm, 40cm: three ways to mend it.
    const folder = folderWith({ 'a.closet': closet('at 40') });
    expect(storypole(['check', '--fix'], folder).out).toBe('Made no changes; left is 1 error.\n');
    expect(read(folder)).toBe(closet('at 40'));
  });

  it('makes no other width of one that somebody has measured, and takes away no sign', () => {
    for (const text of [closet('at 40in', 'width 72in'), closet('at 40in §')]) {
      const folder = folderWith({ 'a.closet': text });
      expect(storypole(['check', '--fix'], folder).out).toBe('Made no changes; left is 1 error.\n');
      expect(read(folder)).toBe(text);
    }
  });

  it('changes nothing that is built, but where its rule is named', () => {
    const text = closet('at 40in').replace('height 96in', 'height 80in').replace('at 40in', 'at 82in');
    const folder = folderWith({ 'a.closet': text });
    expect(storypole(['check', '--fix'], folder).out).toBe('Made no changes; left is 1 error.\n');
    expect(read(folder)).toBe(text);
    expect(storypole(['check', '--fix', '--rule', 'heights-do-not-close'], folder).status).toBe(0);
    expect(read(folder)).toBe(text.replace('82in', '79-1/4in'));
  });

  it('leaves alone what follows from something that cannot be read', () => {
    // Read as one drawer that is 0in high, the chest would have room, and with a height that is not one none.
    const text = closet('at 85in').replace(
      'shelf s',
      'drawers d { at 3in, count 9, height 12in; board white-12 }; shelf s',
    );
    const folder = folderWith({ 'a.closet': text });
    storypole(['check', '--fix', '--rule', 'heights-do-not-close'], folder);
    expect(read(folder)).toContain('at 85in');
  });

  it('writes what another program has written in signs of its own', () => {
    const folder = folderWith({ 'a.closet': closet('at 40½in', 'width 60,5in') });
    expect(storypole(['check', '--fix'], folder).out).toMatch(/Made 2 changes; left are no findings\.\n$/);
    expect(read(folder)).toBe(closet('at 40-1/2in', 'width 60.5in'));
  });

  it('leaves notes alone, unless their rule is named', () => {
    const loose = closet('at from 40in to 44in');
    const folder = folderWith({ 'a.closet': loose });
    expect(storypole(['check', '--fix'], folder).out).toBe('Made no changes; left is 1 note.\n');
    storypole(['check', '--fix', '--rule', 'height-loose'], folder);
    expect(read(folder)).toBe(closet('at 40in'));
  });

  it('keeps the mark before UTF-8, and refuses what does not go together', () => {
    const folder = folderWith({ 'a.closet': `\uFEFF${mistaken}` });
    expect(storypole(['check', '--fix'], folder).status).toBe(0);
    expect(read(folder)).toBe(`\uFEFF${mendedText}`);
    for (const [words, why] of [
      [['--rule', 'name-not-known'], '--rule and --dry-run go with --fix.'],
      [['--fix', '--rule', 'name-not-knwon'], 'There is no rule "name-not-knwon"; did you mean "name-not-known"?'],
      [['--fix', '--format', 'json'], '--fix tells what it changed as text; leave --format out.'],
    ] as const)
      expect(storypole(['check', ...words], folder)).toEqual({ status: 2, out: '', err: `storypole: ${why}\n` });
  });
});
