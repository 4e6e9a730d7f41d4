/** Whatever is offered is taken by the checker where it is put, for every word of the language at every place in its head. */
import { describe, expect, it } from 'vitest';
import { spanOf } from '../../grammar/tree.ts';
import { completionsAt } from '../../server/language/completion.ts';
import { located } from '../../server/language/locate.ts';
import type { Completion } from '../../server/language/offer.ts';
import { placeOfWord } from '../../server/language/parameters.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { matchPhrase, slotsOf } from '../../server/model/phrase.ts';
import { vocabulary, wordIn, wordsIn } from '../../server/model/vocabulary.ts';
import type { BlockPlace, WordEntry } from '../../server/model/words/entry.ts';
import { setInProject } from '../grammar/places.ts';
import { workspaceOf } from '../model/support.ts';

const file = '/p/main.closet';

/** A statement in a text: its head is typed anew. */
interface Typed {
  readonly what: string;
  readonly text: string;
  readonly head: string;
  readonly at: number;
}

const parameters = `
  parameter a-length: length = 30in
  parameter a-count: count = 2
  parameter an-angle: angle = 5deg
  parameter a-board: board = white-12
  parameter a-rod: rod = chrome
  parameter a-garment: garment = shirt
  parameter a-hardware: hardware = end-cup
  parameter a-text: text = "as drawn"
`;

const more = `
template wider extends linen { wall right { length 24in; height 96in } }
unit A-103 wider mirrored { floor 2 }
unit A-104 linen { count 2 }
policy strict extends everyday { limit rod-height at most 80in }
`;

/** Each word by its own example, in a project that has something of every kind to offer. */
function wordsInPlace(): Typed[] {
  return vocabulary.flatMap((entry) =>
    entry.places.map((place) => {
      const whole = setInProject(entry, place).replaceAll(/template (?:t|linen) \{/g, `$&${parameters}`) + more;
      return typed(`${entry.word} in ${place}`, whole, entry.example, whole.lastIndexOf(entry.example));
    }),
  );
}

function typed(what: string, text: string, example: string, at: number): Typed {
  const open = example.indexOf('{');
  return { what, text, at, head: (open < 0 ? example : example.slice(0, open)).trimEnd() };
}

const everything = `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/16in }
hardware rear-clip { is support }
hardware end-cup { is cup; takes 3/8in for "the cup" }
template big {${parameters}  wall left { length 24in; height 96in }
  wall back { length 94in; height 96in }
  opening door on left { width 20in; height 80in }
  fixture outlet on back { from left 60in; height 16in }
  zone z on back {
    width 48in
    board white-12
    pole chrome
    panels
    shelf high { at 84in }
    shelf low { at 20in }
    shelf mid { at 60in }
    rod r { under high by 3in }
    drawers d { count 2; at 4in; height 6in; depth 10in }
    shelves row between low and high { count 2 }
  }
  gap rest on back after z { width fill }
}
`;

const overridden: Readonly<Partial<Record<BlockPlace, string>>> = {
  wall: 'back',
  opening: 'door',
  fixture: 'outlet',
  zone: 'z',
  gap: 'rest',
  shelf: 'z.mid',
  'hanging-rod': 'z.r',
  drawers: 'z.d',
  panels: 'z.panels',
  shelves: 'z.row',
};

/** What a mirrored unit overrides of everything. */
function overrides(): Typed[] {
  return Object.entries(overridden).flatMap(([place, path]) =>
    wordsIn(place as BlockPlace)
      .filter(({ block }) => block === undefined)
      .map(({ word, example }) => {
        const start = `${everything}unit A-101 big mirrored { override ${path} { `;
        return typed(`${word} in an override of ${path}`, `${start}${example} } }\n`, example, start.length);
      }),
  );
}

const given = [
  'a-length 30in',
  'a-count 3',
  'an-angle 4deg',
  'a-board white-12',
  'a-rod chrome',
  'a-garment shirt',
  'a-hardware end-cup',
  'override z.high',
];

/** What a unit gives its template. */
function args(): Typed[] {
  const start = `${everything}unit A-101 big mirrored { `;
  return given.map((statement) => typed(statement, `${start}${statement} }\n`, statement, start.length));
}

/** What a test of a template gives and expects, the other way round. */
function tested(): Typed[] {
  const start = everything.replace(/\}\n$/, '  test "x" mirrored { ');
  return ['a-length 30in', 'a-board white-12', 'expect z.high at 84in', 'finds rod-near-wall at z.r'].map((statement) =>
    typed(`${statement} in a test`, `${start}${statement} }\n}\n`, statement, start.length),
  );
}

const all = [...wordsInPlace(), ...overrides(), ...args(), ...tested()];

function tokensOf(head: string): { readonly start: number; readonly end: number }[] {
  return [...head.matchAll(/"[^"]*"|[\p{L}\p{N}_./-]+|\S/gu)].map((m) => ({
    start: m.index,
    end: m.index + m[0].length,
  }));
}

class Editor {
  private readonly project;

  constructor(text: string) {
    const project = workspaceOf({ [file]: text }).projectOf(file)?.project;
    if (!project) throw new Error('the text was not read');
    this.project = project;
  }

  write(text: string): Snapshot {
    this.project.setFile(file, text);
    this.project.refreshNow();
    const source = this.project.sources.get(file);
    if (!source) throw new Error('the text was not read');
    return { project: this.project, source, path: file };
  }

  /** What is wrong with how it is written, not with what is built: names, words, quantities; with where it stands. */
  wrong(): { readonly said: string; readonly rule: string; readonly start: number; readonly end: number }[] {
    return this.project.findings().flatMap(({ rule, message, severity, place }) => {
      const isOfWriting = ['text', 'words', 'names', 'quantities'].includes(rule.family) && severity === 'error';
      return isOfWriting ? [{ said: `${rule.id}: ${message}`, rule: rule.id, ...spanOf(place) }] : [];
    });
  }
}

/** Findings that say that more has to come, or that a number is too great, find no fault with what was chosen. */
const unfinished =
  /^(?:number-out-of-bounds|block-missing|[a-z-]+: This is not complete|.* is given no value|.* does not say )/;

/** What is said twice is offered last, and a word of the language that may go on as `at least` is no name. */
function isExcused({ kind, rank }: Completion, rule: string): boolean {
  return (kind === 'word' && rank >= 8) || (kind === 'literal' && rule === 'name-not-known');
}

/** There are so many rules and limits, all alike. */
const mostOfOne = 30;

describe('what is offered', () => {
  it('is taken where the rest of the head is still to be written', () => {
    const refused: string[] = [];
    for (const { what, text, head, at } of all) {
      const editor = new Editor(text);
      for (const { start } of tokensOf(head)) {
        const cut = text.slice(0, at + start) + text.slice(at + head.length);
        const offers = completionsAt(editor.write(cut), at + start).filter(({ kind }) => kind !== 'snippet');
        const before = new Set(editor.wrong().map(({ said }) => said));
        for (const offer of offers.slice(0, mostOfOne)) {
          editor.write(cut.slice(0, offer.start) + offer.text + cut.slice(offer.end));
          for (const { said, rule, ...span } of editor.wrong()) {
            const isThere = span.start < offer.start + offer.text.length && span.end > offer.start;
            if (!isThere && rule !== 'name-circle') continue;
            if (before.has(said) || unfinished.test(said) || isExcused(offer, rule)) continue;
            refused.push(`${what}: ${head.slice(0, start)}|${offer.label} — ${said}`);
          }
        }
      }
    }
    expect(refused).toEqual([]);
  });

  it('is what the examples have there: words of the language, and names that are not their own', () => {
    const missing: string[] = [];
    for (const { what, text, head, at } of all) {
      const snapshot = new Editor(text).write(text);
      for (const { start, end } of tokensOf(head)) {
        const label = head.slice(start, end);
        if (!isOffered(snapshot, at, start, label)) continue;
        const labels = completionsAt(snapshot, at + start).map((offer) => offer.label);
        // A path is offered from its beginning.
        if (!labels.some((one) => label === one || label.startsWith(`${one}.`)))
          missing.push(`${what}: ${head.slice(0, start)}|${head.slice(start)}`);
      }
    }
    expect(missing).toEqual([]);
  });
});

/** The first word of a statement, a literal, or a reference. */
function isOffered(snapshot: Snapshot, at: number, start: number, label: string): boolean {
  if (start === 0) return true;
  const found = snapshot.source.statementAt(at + 1);
  const { place, statement, trail, base } = located(found as NonNullable<typeof found>, at + 1);
  const entry: WordEntry | undefined = place && wordIn(placeOfWord(snapshot, trail, place), statement.word.text);
  const item = statement.items.find((one) => base + one.start === at + start);
  if (!entry || item?.kind !== 'path') return false;
  const { slots, literals } = matchPhrase(entry.phrase, statement.items);
  const slot = slotsOf(entry.phrase).find(({ name }) => slots[name]?.includes(item));
  return literals.includes(item) || slot?.type.kind === 'ref' || (slot?.type.kind === 'quantity' && label !== '');
}
