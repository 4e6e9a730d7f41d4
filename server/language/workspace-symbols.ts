/** Declarations and things by a part of their name, best first, in all projects. */
import type { Source } from '../../grammar/source.ts';
import type { Range, Statement } from '../../grammar/tree.ts';
import { nameOf } from '../model/files.ts';
import { limits } from '../model/limits.ts';
import type { Declared } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import type { Reading } from '../model/reading.ts';
import { sourceOf } from './diagnostics.ts';
import { nameRangeOf } from './name-range.ts';
import { contentsOf } from './things.ts';

export interface FoundSymbol extends Range {
  /** The word that declares it. */
  readonly word: string;
  readonly name: string;
  /** The path of what it stands in, or the file. */
  readonly container: string;
  readonly source: Source;
}

interface Scored {
  readonly score: number;
  readonly name: string;
  readonly word: string;
  readonly container: string;
  readonly statement: Statement;
}

const { most } = limits.mostSymbols;

/** `query` is a part of the name, or letters of it in their order; small letters stand for capitals too. */
export function symbolsNamed(projects: readonly Project[], query: string, limit: number = most): FoundSymbol[] {
  const wanted = query.replaceAll(/\s/g, '');
  const best = new Best(limit);
  for (const project of projects) {
    for (const declared of project.names.everything()) {
      if (declared.kind === 'project' || declared.kind === 'accept') continue;
      best.offer(wanted, declared.kind, declared.name, '', declared.statement);
      if (declared.kind === 'template') offerThings(best, wanted, declared.reading, declared.name);
    }
  }
  return best.sorted().map(({ name, word, container, statement }) => {
    const source = sourceOf({ statement, start: 0, end: 0 });
    return { name, word, container: container || nameOf(source.id), source, ...nameRangeOf(statement) };
  });
}

function offerThings(best: Best, wanted: string, reading: Declared['reading'], container: string): void {
  for (const [thing, name] of contentsOf(reading).names) {
    best.offer(wanted, thing.word, name, container, thing.statement);
    if (isZone(thing)) offerThings(best, wanted, thing, `${container}.${name}`);
  }
}

function isZone({ word }: Reading): boolean {
  return word === 'zone';
}

/** The best of many, without ever sorting all of them. */
class Best {
  private readonly limit: number;
  private kept: Scored[] = [];
  /** What is worse than this need not be looked at. */
  private least = Number.NEGATIVE_INFINITY;

  constructor(limit: number) {
    this.limit = Math.max(1, limit);
  }

  offer(wanted: string, word: string, name: string, container: string, statement: Statement): void {
    const score = scoreOf(wanted, name);
    if (score === undefined || score < this.least) return;
    this.kept.push({ score, name, word, container, statement });
    if (this.kept.length >= this.limit * 8) this.cut();
  }

  sorted(): Scored[] {
    this.cut();
    return this.kept;
  }

  private cut(): void {
    this.kept.sort(
      (a, b) =>
        b.score - a.score || compare(a.name, b.name) || compare(a.container, b.container) || compare(a.word, b.word),
    );
    this.kept = this.kept.slice(0, this.limit);
    if (this.kept.length === this.limit) this.least = this.kept.at(-1)?.score ?? this.least;
  }
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * How well letters fit a name they stand in, in their order: those that follow each other, that begin a word of it,
 * and that stand near its beginning count for more; a short name for more than a long one. Undefined where they do not.
 */
export function scoreOf(wanted: string, name: string): number | undefined {
  if (wanted.length > name.length) return undefined;
  const [w, n] = [wanted.toLowerCase(), name.toLowerCase()];
  const whole = n.indexOf(w);
  if (whole >= 0) {
    const exact = n === w ? 1000 : 0;
    const begins = whole === 0 ? 400 : startsWord(name, whole) ? 300 : 200;
    return exact + begins + (wanted === name.slice(whole, whole + wanted.length) ? 1 : 0) - name.length / 100;
  }
  let score = 0;
  let at = -1;
  for (const letter of w) {
    const next = n.indexOf(letter, at + 1);
    if (next < 0) return undefined;
    score += next === at + 1 ? 2 : startsWord(name, next) ? 2 : 0;
    at = next;
  }
  return score - name.length / 100;
}

function startsWord(name: string, at: number): boolean {
  return (
    at === 0 || '-_.'.includes(name[at - 1] ?? '') || (/\d/.test(name[at] ?? '') && !/\d/.test(name[at - 1] ?? ''))
  );
}
