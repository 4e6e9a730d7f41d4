/** Formatting changes nothing that is computed from a text. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { formatted } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { lex } from '../../grammar/tokens.ts';
import { advisedPlan } from '../../server/checks/analysis.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { closetFiles, examples } from '../examples/load.ts';
import { workspaceOf } from './support.ts';

/** All of it that people are told. Columns move, and a quantity is shown as it is written. */
function modelOf(texts: Readonly<Record<string, string>>): unknown {
  const workspace = workspaceOf({ ...texts });
  return workspace.projects.map(({ root, project }) => {
    const findings = [...project.findings(), ...advisedPlan(project).findings];
    return {
      root,
      units: [...project.units()].map(({ name, count, resolved }) => ({
        name,
        count,
        parts: resolved?.layout.parts.map(({ path, length }) => [path, length]),
        zones: resolved?.layout.zones.map((z) => [
          z.path,
          z.from.value,
          z.width.value,
          z.fittings.map((f) => [f.path, f.kind, f.at.value]),
        ]),
      })),
      findings: findings
        .map((f) => [f.rule.id, f.severity, f.message.replaceAll(/\s/g, ''), f.reach])
        .map((f) => JSON.stringify(f))
        .sort(),
    };
  });
}

/** Numbers as if by chance, the same ones every time. */
function dice(seed: number): (sides: number) => number {
  let state = seed;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

/**
 * The same text as somebody in a hurry leaves it: space where it may be, and line ends where they may be. What begins in
 * column 0 goes on doing so: where a brace is missing, that is where its block ends.
 */
function untidied(text: string, seed: number): string {
  const roll = dice(seed);
  const { tokens, comments } = lex(text);
  const marks = [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset);
  let result = '';
  let at = 0;
  for (const { startOffset, image } of marks) {
    const gap = text.slice(at, startOffset);
    const lines = gap.split('\n').length - 1;
    if (lines > 0)
      result +=
        ['', ' ', ';', ' ; '][roll(2)] + '\n'.repeat(lines + roll(2)) + ' '.repeat(gap.endsWith('\n') ? 0 : roll(7));
    else if (gap !== '') result += [' ', '  ', '\t', gap][roll(4)];
    if (image === '{' && roll(4) === 0) result += `${image}\n`;
    else if (image === ';') result += [';', ' ;\n', ';;', '; '][roll(4)];
    else if (image === '}' && roll(4) === 0) result += `\n${image}`;
    else result += image;
    at = startOffset + image.length;
  }
  return result + text.slice(at);
}

const files = closetFiles(examples).filter((file) => !file.endsWith('latin-1.closet'));
const folders = [
  ...Map.groupBy(files, (file) =>
    file
      .split('/')
      .slice(0, file.startsWith('mistakes/') ? 2 : 1)
      .join('/'),
  ),
];

describe('formatting leaves as it was what is computed of', () => {
  it.each(folders)('%s', (folder, names) => {
    const texts = Object.fromEntries(names.map((name) => [`/${name}`, readFileSync(`${examples}/${name}`, 'utf8')]));
    for (const seed of folder.startsWith('mistakes/') ? [1, 2, 3] : [1]) {
      const untidy = mapped(texts, (text, i) => untidied(text, seed * 1000 + i));
      const tidy = mapped(untidy, (text) => formatted(new Source('a', text, topWords)));
      expect(tidy).not.toEqual(untidy);
      expect(modelOf(tidy)).toEqual(modelOf(untidy));
    }
    // What was compared is something.
    expect(JSON.stringify(modelOf(texts))).toMatch(
      folder === 'quarry-lane' ? /"parts":\[\[/ : /"units":\[\{|"findings":\["/,
    );
  });
});

function mapped(texts: Record<string, string>, change: (text: string, i: number) => string): Record<string, string> {
  return Object.fromEntries(Object.entries(texts).map(([path, text], i) => [path, change(text, i)]));
}
