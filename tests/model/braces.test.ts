/** One brace too few or too many, at each place of a text: one finding, which says where, and what is around it is read as if it were in order. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withEdits } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { type Statement, spanOf } from '../../grammar/tree.ts';
import type { Finding } from '../../server/model/finding.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { allFindings, cuts, told, workspaceOf } from './support.ts';

const spread = `project "Quarry Lane" {
  kerf 1/8in
}

board white-12 {
  depth 12in
  thickness 3/4in
}

rod chrome {
  diameter 1-1/4in
  ends take 3/8in for "the cup"
}

stock white-12 {
  length 8ft
}

stock chrome {
  length 8ft
}

garment shirt {
  hang 36in
  hanger 17in
}

policy everyday {
  limit rod-height at most 84in
}

/// Two zones.
template linen {
  parameter width: length = 60in from 40in to 70in
  board white-12
  pole chrome
  wall back {
    // Measured from the plan.
    length width
    height 96in
  }
  zone main on back {
    width 30in
    shelf top {
      at 78in
    }
    shelf low {
      at 18in
      load 20 lbf/ft2
    }
  }
  zone coats on back after main {
    width fill
    rod long {
      at 60in
      for shirt
    }
  }
  test "as drawn" {
    expect main.low at 18in
    expect main.top at 78in
  }
}

unit a linen {
  floor 1
  width 64in
  override main.top {
    at 74in
  }
}

survey a {
  wall back {
    length 63-7/8in
  }
}

extra spare {
  board white-12
  length 24in
  count 3
}
`;

/** Each block whose lines hold no block on one line. */
const joined = spread.replace(/\{\n([^{}]*?)\n *\}/g, (all, inside: string) =>
  inside.includes('//') ? all : `{ ${inside.trim().replace(/\n */g, '; ')} }`,
);
/** The declarations whose blocks are two deep on one line too. */
const flat = joined
  .replace(
    /( *)zone (\w+) on ([\w ]+) \{\n([\s\S]*?)\n\1\}/g,
    (_, indent: string, name: string, on: string, inside: string) =>
      `${indent}zone ${name} on ${on} { ${inside.trim().replace(/\n */g, '; ')} }`,
  )
  .replace(
    /(unit|survey) (a[\w ]*) \{\n([\s\S]*?)\n\}/g,
    (_, word: string, head: string, inside: string) => `${word} ${head} { ${inside.trim().replace(/\n */g, '; ')} }`,
  );

const files = (text: string): Record<string, string> => ({ '/p/main.closet': text });

function foundIn(text: string): { findings: Finding[]; parts: string[] } {
  const project = workspaceOf(files(text)).projects[0]?.project;
  if (!project) return { findings: [], parts: [] };
  return { findings: allFindings(project), parts: cuts(project, 'a') };
}

/** Told of what the text with the brace did not have, and whether the unit is as it was. */
function toldOf(text: string, sound: ReturnType<typeof foundIn>): { said: string[]; same: boolean; mended: string[] } {
  const { findings, parts } = foundIn(text);
  const before = sound.findings.map((f) => `${f.rule.id} ${f.message}`);
  const fresh = findings.filter((f) => !before.includes(`${f.rule.id} ${f.message}`));
  return {
    said: fresh.map((f) => `${told(f).line} ${f.rule.id}`),
    same: parts.join() === sound.parts.join(),
    mended: fresh.flatMap((f) =>
      f.fixes.slice(0, 1).map(({ edits }) =>
        withEdits(
          text,
          edits.map(({ place, text: written }) => ({ ...spanOf(place), text: written })),
        ),
      ),
    ),
  };
}

const spaceless = (text: string): string => text.replace(/\s+/g, '');
const lineOf = (text: string, at: number): number => text.slice(0, at).split('\n').length;
const places = (text: string, sign: string): number[] =>
  [...text.matchAll(new RegExp(`\\${sign}`, 'g'))].map((m) => m.index);

describe.each([
  ['each on a line of its own', spread],
  ['the inner blocks on one line', joined],
  ['blocks in blocks on one line', flat],
])('braces, %s', (_, text) => {
  const sound = foundIn(text);

  it('that all stand where they should are told nothing of', () => {
    expect(sound.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(sound.parts.length).toBe(3);
  });

  it.each(places(text, '{').map((at) => [lineOf(text, at), at]))('without the { in line %i', (line, at) => {
    const without = text.slice(0, at) + text.slice(at + 1);
    const { said, same, mended } = toldOf(without, sound);
    expect({ said, same }).toEqual({ said: [`${line} block-not-opened`], same: true });
    expect(mended.map(spaceless)).toEqual([spaceless(text)]);
  });

  it.each(places(text, '}').map((at) => [lineOf(text, at), at]))('without the } in line %i', (_line, at) => {
    const { said, same, mended } = toldOf(text.slice(0, at) + text.slice(at + 1), sound);
    expect({ said: said.map((s) => s.split(' ')[1]), same }).toEqual({ said: ['block-not-closed'], same: true });
    expect(mended.map(spaceless)).toEqual([spaceless(text)]);
  });

  it.each(places(text, '{').map((at) => [lineOf(text, at), at]))('with two { in line %i', (line, at) => {
    const { said, same, mended } = toldOf(`${text.slice(0, at)}{ ${text.slice(at)}`, sound);
    expect({ said, same }).toEqual({ said: [`${line} brace-without-block`], same: true });
    expect(mended.map(spaceless)).toEqual([spaceless(text)]);
  });

  it.each(places(text, '}').map((at) => [lineOf(text, at), at]))('with two } in line %i', (line, at) => {
    const { said, same, mended } = toldOf(`${text.slice(0, at)}} ${text.slice(at)}`, sound);
    expect({ said, same }).toEqual({ said: [`${line} brace-without-block`], same: true });
    expect(mended.map(spaceless)).toEqual([spaceless(text)]);
  });
});

/** All that is known of a statement and of those in it. */
function shape(statement: Statement): unknown {
  const { offset, text, head, block, problems } = statement;
  const inside = block && [block.open, block.close, block.children.map(shape)];
  return [offset, text, head.start, head.end, inside, problems.map((p) => [p.code, p.start, p.end, p.message])];
}

function shapes(source: Source): unknown[] {
  return source.segments.flatMap(({ offset, statements }) => [offset, ...statements.map(shape)]);
}

describe('braces that come and go', { timeout: 60_000 }, () => {
  it('leave the text read as it is read afresh', () => {
    const sign = fc.constantFrom('{', '}', '', '', '\n', '  ', ';', 'shelf s ');
    const edit = fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), cut: fc.boolean(), sign });
    fc.assert(
      fc.property(
        fc.constantFrom(spread, joined, flat),
        fc.array(edit, { minLength: 1, maxLength: 8 }),
        (text, edits) => {
          const source = new Source('a', text, topWords);
          for (const { at, cut, sign: written } of edits) {
            const braces = [...source.text.matchAll(/[{};]/g)].map(({ index }) => index);
            const start = braces[Math.floor(at * (braces.length - 1))] ?? 0;
            source.edit({ start, end: cut ? start + 1 : start, text: written });
            expect(shapes(source)).toEqual(shapes(new Source('a', source.text, topWords)));
          }
        },
      ),
      { numRuns: 150 },
    );
  });
});
