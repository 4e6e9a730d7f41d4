/** What package.json promises to npm and to VS Code, held against the files it names. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { transform } from 'esbuild';
import { afterAll, describe, expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { snippetLabels } from '../../server/language/snippets.ts';

const root = path.resolve(import.meta.dirname, '../..');
const read = (file: string) => readFileSync(path.join(root, file));
const launcher = read('server/cli/launcher.cjs').toString();
const folder = mkdtempSync(path.join(tmpdir(), 'storypole-launcher-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Runs the launcher beside a stand-in command, under a Node that says it is of another version. */
function launchUnder(version: string) {
  writeFileSync(path.join(folder, 'storypole.cjs'), launcher);
  writeFileSync(path.join(folder, 'cli.cjs'), "process.stdout.write('the command ran');\n");
  const disguise = `Object.defineProperty(process, 'versions', { value: { node: '${version}' } });\n`;
  writeFileSync(path.join(folder, 'disguise.cjs'), disguise);
  const args = ['--require', path.join(folder, 'disguise.cjs'), path.join(folder, 'storypole.cjs')];
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  return { status, stdout, stderr };
}

describe('the launcher', () => {
  const floor = /^>=(\d+)$/.exec(manifest.engines.node)?.[1];

  it('knows the oldest Node that package.json names', () => {
    expect(launcher).toContain(`var OLDEST = ${floor};`);
  });

  it('turns an older Node away in one sentence', () => {
    expect(launchUnder('18.20.4')).toEqual({
      status: 2,
      stdout: '',
      stderr: `storypole needs Node ${floor} or newer; this is Node 18.20.4.\n`,
    });
  });

  it.each([`${floor}.0.0`, '100.1.0'])('starts the command under Node %s', (version) => {
    expect(launchUnder(version)).toEqual({ status: 0, stdout: 'the command ran', stderr: '' });
  });

  it('is JavaScript that Node 0.10 could read', async () => {
    // esbuild refuses what it cannot turn into ECMAScript 5, and leaves what already is as it stands.
    const old = await transform(launcher, { target: 'es5' });
    const asWritten = await transform(launcher, { target: 'esnext' });
    expect(old.code).toBe(asWritten.code);
  });
});

describe('the extension manifest', () => {
  it('names an icon that is a PNG of 128 by 128', () => {
    // source: PNG specification (W3C, third edition, 2025), sections 5.2 and 11.2.1: signature, then IHDR with width and height.
    const icon = read(manifest.icon);
    expect(icon.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
    expect([icon.readUInt32BE(16), icon.readUInt32BE(20)]).toEqual([128, 128]);
  });

  it('names only files that are there', () => {
    const [language] = manifest.contributes.languages;
    const files = [language?.configuration, language?.icon.light, language?.icon.dark];
    files.push(...manifest.contributes.grammars.map((grammar) => grammar.path));
    files.push(...manifest.contributes.viewsContainers.activitybar.map(({ icon }) => icon));
    for (const { icon, steps } of manifest.contributes.walkthroughs)
      files.push(icon, ...steps.map(({ media }) => media.svg));
    for (const file of files) {
      expect(read(file ?? '').length, file).toBeGreaterThan(0);
      const shipped = manifest.files.some((glob) => path.matchesGlob(path.normalize(file ?? ''), glob));
      expect(shipped, `${file} is shipped`).toBe(true);
    }
  });

  it('offers every command by a name, never outside of its place, and describes every step and setting', () => {
    const { commands, menus, keybindings, walkthroughs, configuration } = manifest.contributes;
    const named = new Set(commands.map(({ command }) => command));
    const used = [...Object.values(menus).flat(), ...keybindings];
    for (const { command, when } of used) {
      expect(named, command).toContain(command);
      expect(when, command).not.toBe('');
    }
    // What can be chosen anywhere is what makes sense anywhere.
    const anywhere = [...named].filter((command) => !menus.commandPalette.some((item) => item.command === command));
    expect(anywhere).toEqual(['storypole.newProject']);
    for (const { id, media, completionEvents } of walkthroughs.flatMap(({ steps }) => steps)) {
      expect(media.altText.length, id).toBeGreaterThan(20);
      expect(completionEvents.length, id).toBeGreaterThan(0);
    }
    for (const [name, setting] of Object.entries(configuration.properties))
      expect('description' in setting || 'markdownDescription' in setting, name).toBe(true);
  });

  it('draws the pictures of its walkthrough in the colours of the theme', () => {
    for (const { media } of manifest.contributes.walkthroughs.flatMap(({ steps }) => steps)) {
      const svg = read(media.svg).toString();
      expect(svg, media.svg).toContain('var(--vscode-');
      expect(svg, media.svg).toMatch(/<title>[^<]+<\/title>/);
    }
  });

  it('says in the README which snippets and keys there are', () => {
    const readme = read('README.md').toString();
    for (const label of snippetLabels) expect(readme).toContain(`\`${label}\``);
    for (const { key, command } of manifest.contributes.keybindings) {
      const title = manifest.contributes.commands.find((one) => one.command === command)?.title ?? '';
      const row = readme.split('\n').find((line) => line.split('|')[1]?.trim() === title);
      expect(row?.toLowerCase(), title).toContain(key);
    }
  });

  it('ships what the README shows and links to', () => {
    const links = [
      ...read('README.md')
        .toString()
        .matchAll(/\]\(([^)#]+)\)/g),
    ].map(([, to = '']) => to);
    const here = links.filter((to) => !to.includes('://'));
    expect(here).toContain('client/media/editor.png');
    for (const to of here) {
      const shipped = manifest.files.some((glob) => path.matchesGlob(to, glob) || glob.startsWith(`${to}/`));
      const within = manifest.files.some((glob) => path.matchesGlob(`${to}/a/b.closet`, glob));
      expect(shipped || within, to).toBe(true);
      expect(existsSync(path.join(root, to)), to).toBe(true);
    }
  });

  it('takes whole names and whole quantities for words', () => {
    const { pattern, flags } = JSON.parse(read('client/language-configuration.json').toString()).wordPattern;
    const words = (text: string) => text.match(new RegExp(pattern, `${flags}g`));
    expect(words('unit A-101-bedroom reach-in')).toEqual(['unit', 'A-101-bedroom', 'reach-in']);
    expect(words('width back.length - 21-3/4in')).toEqual(['width', 'back', 'length', '21-3/4in']);
    expect(words('board white-12; kerf 0.72 kPa')).toEqual(['board', 'white-12', 'kerf', '0.72', 'kPa']);
  });

  it.each([
    ['template reach-in {', true],
    ['  wall left { length 25in', true],
    ['template a { // with a word', true],
    ['  wall left { length 25in }', false],
    ['// a brace { in a comment', false],
    ['project "a brace {"', false],
    ['  length 25in', false],
  ])('indents after %j: %s', (line, expected) => {
    const { increaseIndentPattern } = JSON.parse(
      read('client/language-configuration.json').toString(),
    ).indentationRules;
    expect(new RegExp(increaseIndentPattern).test(line)).toBe(expected);
  });

  it('carries no download address in the lockfile', () => {
    expect(read('package-lock.json').toString()).not.toContain('"resolved"');
  });
});
