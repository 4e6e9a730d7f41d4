/**
 * The example building with one token left out, written twice or taken for another, all through its files: one mistake
 * is told as one. What is counted are the findings that the building does not have without it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { allFindings, memoryFiles, told } from './support.ts';

const folder = join(import.meta.dirname, '../../examples/quarry-lane');
const files = Object.fromEntries(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.closet'))
    .sort()
    .map((name) => [`/p/${name.replaceAll('\\', '/')}`, readFileSync(join(folder, name), 'utf8')]),
);

interface Token {
  readonly file: string;
  readonly start: number;
  readonly text: string;
}

const pattern = /\/\/[^\n]*|"[^"\n]*"|[A-Za-z_][\w-]*|\d+(?:-\d+\/\d+|\/\d+|\.\d+)?[a-z]*\d?|[{};,:=.]/g;
const tokens: Token[] = Object.entries(files).flatMap(([file, text]) =>
  [...text.matchAll(pattern)]
    .filter(([token]) => !token.startsWith('//'))
    .map(({ 0: token, index: start }) => ({ file, start, text: token })),
);

/** Every so manieth token, begun somewhere else for each kind of mistake. */
function some(count: number, first: number): Token[] {
  const step = Math.floor(tokens.length / count);
  return tokens.filter((_, i) => i % step === first % step).slice(0, count);
}

const workspace = createWorkspace(memoryFiles(files), []);
for (const [file, text] of Object.entries(files)) workspace.openDocument(file, text);

function found(): string[] {
  const [loaded] = workspace.projects;
  if (!loaded) return [];
  loaded.project.refreshNow();
  return allFindings(loaded.project).map((f) => `${told(f).file} ${f.rule.id}: ${f.message}`);
}

const sound = found();

/** What is told once a token is written as something else, and was not before. */
function changed({ file, start, text }: Token, to: string): { told: string[]; at: string } {
  workspace.editDocument(file, [{ start, end: start + text.length, text: to }]);
  const left = [...sound];
  const fresh = found().filter((one) => {
    const same = left.indexOf(one);
    if (same >= 0) left.splice(same, 1);
    return same < 0;
  });
  workspace.editDocument(file, [{ start, end: start + to.length, text }]);
  return { told: fresh, at: `${file}:${start} ${text} => ${to}` };
}

/** Those of which more is told than one finding. */
function several(count: number, first: number, to: (token: Token, i: number) => string): string[][] {
  return some(count, first)
    .map((token, i) => changed(token, to(token, i)))
    .filter((one) => one.told.length > 1)
    .map((one) => [one.at, ...one.told]);
}

describe('of one mistake in the example building', { timeout: 120_000 }, () => {
  it('a token that is left out, one finding is told', () => {
    expect(several(60, 3, () => '').filter((_, i) => i >= 2)).toEqual([]);
  });

  it('a token that stands twice, one finding is told', () => {
    expect(several(60, 11, ({ text }) => `${text} ${text}`).filter((_, i) => i >= 1)).toEqual([]);
  });

  it('a token that is another one, mostly one finding is told', () => {
    const other = ({ file }: Token, i: number): string => {
      const same = tokens.filter((t) => t.file === file && !/[{}]/.test(t.text));
      return (same[(i * 37) % same.length] as Token).text;
    };
    const more = several(60, 7, other);
    expect(more.length).toBeLessThan(18);
    expect(more.filter((one) => one.length > 7)).toEqual([]);
  });

  it('nothing is left of it once it is mended', () => {
    expect(found().sort()).toEqual(sound.toSorted());
  });
});
