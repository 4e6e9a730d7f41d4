/** The one shape of everything that is reported, wherever it is found. */
import { type Place, type Statement, segmentOf, spanOf } from '../../grammar/tree.ts';
import { memo } from './memo.ts';
import type { Rule, Severity } from './rule.ts';
import type { Ticks } from './ticks.ts';

/** One line of how a result came about, as people read it: `moment of inertia`, `0.422 in4`, `b t3 / 12`. */
export interface Working {
  readonly what: string;
  readonly value: string;
  readonly how?: string;
}

/** A number that was compared: a length in ticks, a plain count, or an amount of a unit of measure as it is shown. */
export type Compared =
  | { readonly ticks: Ticks }
  | { readonly count: number }
  | { readonly amount: number; readonly unit: string };

/** `what` was `measured`, and should be `relation` `limit`. */
export interface Comparison {
  readonly what: string;
  readonly measured: Compared;
  readonly relation: 'at least' | 'at most' | 'equal to';
  readonly limit: Compared;
}

export interface Related {
  readonly place: Place;
  readonly message: string;
}

/** A change of text that would mend it. `place` is replaced by `text`. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly { readonly place: Place; readonly text: string }[];
  /**
   * Made only where somebody chooses it: its numbers are samples, it decides about the design, it takes away what somebody
   * wrote, or it guesses: at a digit, at a unit of measure, at one of several names.
   */
  readonly byHand?: boolean;
  /** What is written lacks a fact from site, and an error there says so until somebody fills it in. Then it is made by hand. */
  readonly gap?: boolean;
}

export interface Finding {
  readonly rule: Rule;
  readonly severity: Severity;
  /** What is wrong, with the numbers compared. Whole sentences. */
  readonly message: string;
  /** How to mend it. */
  readonly advice?: string;
  readonly place: Place;
  readonly related: readonly Related[];
  readonly comparison?: Comparison;
  /** Every number on the way to the result, in its order. */
  readonly working?: readonly Working[];
  readonly fixes: readonly Fix[];
  /** What is not known by its name, in the words of its message: `board or rod`. */
  readonly sought?: string;
  /** The lengths in its advice and fixes are examples, in inches: a project says them in its own system. */
  readonly examples?: true;
  /** Names of the units it reaches, where it is in a template. */
  readonly reach: readonly string[];
  /**
   * In a unit's result: the path of the thing it is about (`shirts.upper`), which `accept` names, and
   * the parameters and survey that the numbers came from, which decide where it is shown.
   */
  readonly about?: string;
  readonly causes?: Causes;
}

export interface Causes {
  readonly parameters: readonly string[];
  readonly survey: boolean;
}

export interface FindingDetails {
  readonly severity?: Severity;
  readonly advice?: string;
  readonly related?: readonly Related[];
  readonly comparison?: Comparison;
  readonly working?: readonly Working[];
  readonly fixes?: readonly Fix[];
  readonly sought?: string;
  readonly examples?: true;
  readonly about?: string;
  readonly causes?: Causes;
}

export function finding(rule: Rule, place: Place, message: string, details: FindingDetails = {}): Finding {
  const { severity = rule.severity, related = [], fixes = [], ...rest } = details;
  return { rule, severity, message, place, related, fixes, reach: [], ...rest };
}

/** The same thing found twice at the same place is said once: by what stands first in the text, however it was come by. */
export function unique(findings: readonly Finding[]): Finding[] {
  // Most statements have one finding, and nothing that it could be the same as.
  const first = new Map<Statement, number>();
  const seen = new Map<Statement, Map<string, number>>();
  const kept: Finding[] = [];
  for (const f of findings) {
    const { statement } = f.place;
    const before = first.get(statement);
    if (before === undefined) {
      first.set(statement, kept.push(f) - 1);
      continue;
    }
    const places = memo(seen, statement, () => new Map([[identityOf(kept[before] as Finding), before]]));
    const key = identityOf(f);
    const same = places.get(key);
    if (same === undefined) places.set(key, kept.push(f) - 1);
    else if (comparePlaces(f, kept[same] as Finding) < 0) kept[same] = f;
  }
  return kept;
}

/** By the places that they are related to; of equal ones, by the units that they reach; then by all else that is shown of them. */
function comparePlaces(a: Finding, b: Finding): number {
  for (const [i, { place }] of a.related.entries()) {
    const other = b.related[i]?.place;
    if (!other) return 1;
    const order = compareInText(place, other);
    if (order !== 0) return order;
  }
  if (a.related.length < b.related.length) return -1;
  return (
    compareTexts(a.reach.join(), b.reach.join()) ||
    rank[a.severity] - rank[b.severity] ||
    // Whoever can offer something goes before whoever cannot.
    b.fixes.length - a.fixes.length ||
    compareFixes(a, b) ||
    compareTexts(a.advice ?? '', b.advice ?? '') ||
    compareTexts(a.about ?? '', b.about ?? '')
  );
}

const rank: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compareFixes(a: Finding, b: Finding): number {
  const editsOf = ({ fixes }: Finding): Fix['edits'] => fixes.flatMap(({ edits }) => edits);
  const [own, others] = [editsOf(a), editsOf(b)];
  for (const [i, { place, text }] of own.entries()) {
    const other = others[i];
    if (!other) return -1;
    const order = compareInText(place, other.place) || compareTexts(text, other.text);
    if (order !== 0) return order;
  }
  return own.length - others.length;
}

/** By file, then by place: the same whichever way round something is built. */
export function compareInText(a: Place, b: Place): number {
  const [file, other] = [segmentOf(a.statement).source.id, segmentOf(b.statement).source.id];
  return file === other ? spanOf(a).start - spanOf(b).start : file < other ? -1 : 1;
}

function identityOf({ rule, place, message }: Finding): string {
  return `${rule.id} ${place.start} ${place.end} ${message}`;
}
