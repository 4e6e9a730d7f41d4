/** Somebody who edits: types and mends mistakes, changes numbers, adds and takes away units, key by key. */
import type { ProtocolConnection } from 'vscode-languageserver-protocol/node';

/** A place where something was mistyped, and what stood there. */
interface Mistake {
  at: number;
  readonly bad: string;
  readonly good: string;
}

export interface Document {
  readonly file: string;
  readonly uri: string;
  text: string;
  version: number;
  mistakes: Mistake[];
  /** Units that were added, by name. */
  readonly added: string[];
}

export interface Typist {
  /** The edits that come next in a document, one after another, each made when it is asked for. */
  readonly next: (document: Document) => Generator<number, void>;
}

const kinds: readonly (readonly [pattern: RegExp, bad: (good: string, random: () => number) => string])[] = [
  [/(?<=width )\d+in/g, (good) => good.replace('in', 'ix')],
  [/(?<=width )\d+in/g, () => '480in'],
  [/(?<=\n {2})width/g, () => 'wdith'],
  [/(?<=unit u\d+ )t\d+/g, () => 't99'],
  [/(?<=\n)unit(?= u)/g, () => 'nuit'],
  [/(?<=\n)\}(?=\n)/g, () => ''],
  [/(?<=\n {2})floor \d+/g, () => '/* floor'],
  [/(?<=\n {2})flat A-\d+/g, () => 'flat "A'],
  [/(?<=at )\d+in(?= )/g, (good, random) => `${Number.parseInt(good, 10) + 1 + Math.floor(random() * 3)}in`],
  [/(?<=shelf )(?:high|low|top|shoes)/g, () => 'hgih'],
  [/(?<=under )(?:high|top)/g, () => 'nothing'],
  [/(?<=count )\d/g, () => '90'],
  [/(?<=length )[\d.]+mm(?= at 6in)/g, () => '20m'],
  [/(?<=survey )u\d+/g, () => 'u-none'],
  [/(?<=board )white-12/g, () => 'white-21'],
];

/** What is changed for good, to something that is as right. */
const changes: typeof kinds = [
  [/(?<=width )9\din/g, (_, random) => `${92 + Math.floor(random() * 7)}in`],
  [/(?<=unit u\d+ )t\d(?= )/g, (_, random) => `t${Math.floor(random() * 10)}`],
  [/(?<=length )[\d.]+mm(?= at 6in)/g, (good, random) => `${good.slice(0, 4)}.${Math.floor(random() * 90) + 10}mm`],
  [/(?<=floor )\d+/g, (_, random) => String(Math.floor(random() * 40))],
];

export function createTypist(connection: ProtocolConnection, random: () => number): Typist {
  let units = 0;

  function replace(document: Document, start: number, end: number, text: string): void {
    const range = { start: positionIn(document.text, start), end: positionIn(document.text, end) };
    document.text = document.text.slice(0, start) + text + document.text.slice(end);
    document.version++;
    const moved = text.length - (end - start);
    for (const mistake of document.mistakes) if (mistake.at > start) mistake.at += moved;
    void connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: document.uri, version: document.version },
      contentChanges: [{ range, text }],
    });
  }

  /** Takes out what stands there, and types the other letter by letter. */
  function* retype(document: Document, at: number, old: string, fresh: string): Generator<number, void> {
    let same = 0;
    while (same < old.length && old[same] === fresh[same]) same++;
    if (old.length > same) {
      replace(document, at + same, at + old.length, '');
      yield at + same;
    }
    for (let i = same; i < fresh.length; i++) {
      replace(document, at + i, at + i, fresh[i] as string);
      yield at + i + 1;
    }
  }

  /** A place of a kind that is in no mistake. */
  function find(document: Document, pattern: RegExp): { at: number; good: string } | undefined {
    const { text, mistakes } = document;
    pattern.lastIndex = Math.floor(random() * text.length);
    const found = pattern.exec(text);
    if (!found) return undefined;
    const [at, good] = [found.index, found[0]];
    const isFree = mistakes.every((m) => at + good.length < m.at || at > m.at + m.bad.length);
    return isFree ? { at, good } : undefined;
  }

  function pick<T>(list: readonly T[]): T {
    return list[Math.floor(random() * list.length)] as T;
  }

  function* makeMistake(document: Document): Generator<number, void> {
    const [pattern, bad] = pick(kinds);
    const place = find(document, pattern);
    if (!place) return;
    const mistake = { at: place.at, good: place.good, bad: bad(place.good, random) };
    yield* retype(document, place.at, place.good, mistake.bad);
    document.mistakes.push(mistake);
  }

  function* mend(document: Document): Generator<number, void> {
    const at = Math.floor(random() * document.mistakes.length);
    const [mistake] = document.mistakes.splice(at, 1);
    if (mistake) yield* retype(document, mistake.at, mistake.bad, mistake.good);
  }

  function* change(document: Document): Generator<number, void> {
    const [pattern, fresh] = pick(changes);
    const place = find(document, pattern);
    if (place) yield* retype(document, place.at, place.good, fresh(place.good, random));
  }

  function* addUnit(document: Document): Generator<number, void> {
    const name = `new${units++}`;
    const at = document.text.length;
    document.added.push(name);
    // A paste, and a little typing in it.
    replace(document, at, at, `unit ${name} t${Math.floor(random() * 10)} { width  }\n`);
    yield at;
    const inside = document.text.lastIndexOf('width ') + 6;
    yield* retype(document, inside, '', `${92 + Math.floor(random() * 7)}in`);
  }

  function* takeUnit(document: Document): Generator<number, void> {
    const name = document.added.shift();
    const start = document.text.indexOf(`unit ${name} `);
    const end = document.text.indexOf('\n', start) + 1;
    if (start < 0 || end <= 0 || document.mistakes.some((m) => m.at >= start && m.at <= end)) return;
    replace(document, start, end, '');
    yield start;
  }

  return {
    *next(document) {
      const turn = random();
      if (document.mistakes.length > 3 || (document.mistakes.length > 0 && turn < 0.35)) yield* mend(document);
      else if (turn < 0.7) yield* makeMistake(document);
      else if (turn < 0.9 || !document.file.startsWith('floors/')) yield* change(document);
      else if (document.added.length < 5) yield* addUnit(document);
      else yield* takeUnit(document);
    },
  };
}

export function positionIn(text: string, offset: number): { line: number; character: number } {
  let line = 0;
  let start = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < offset; at = text.indexOf('\n', at + 1)) {
    line++;
    start = at + 1;
  }
  return { line, character: offset - start };
}
