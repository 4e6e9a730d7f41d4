/** What a check is: a rule as data, and one pure function from a unit's geometry to findings. */
import type { Place } from '../../grammar/tree.ts';
import type { Comparison, Finding, Working } from '../model/finding.ts';
import type { Layout } from '../model/layout.ts';
import type { PolicyInForce } from '../model/materials.ts';
import type { Rule } from '../model/rule.ts';
import type { Show } from '../model/show.ts';

export interface CheckInput {
  readonly layout: Layout;
  readonly policy: PolicyInForce;
  readonly show: Show;
  /** Wants to know everything that is compared, and what could not be; undefined where nobody asks. */
  readonly record?: Recorder;
}

/** A comparison that was made, whether it holds or not. */
export interface Looked {
  readonly rule: Rule;
  /** Path of the thing it is about; empty for the unit as a whole. */
  readonly about: string;
  readonly place: Place;
  readonly comparison: Comparison;
  readonly holds: boolean;
  /** Every number on the way to it, in its order. */
  readonly working?: readonly Working[];
}

/** A comparison that could not be made, and the fact it needs. */
export interface Lacked {
  readonly rule: Rule;
  readonly about: string;
  readonly place: Place;
  /** `the stiffness of board white-12`. */
  readonly needs: string;
}

export interface Recorder {
  readonly looked: (looked: Looked) => void;
  readonly lacks: (lacked: Lacked) => void;
}

/** Findings sit on statements of the template and say what they are `about`, so that they can be accepted and shared by equal units. */
export interface Check {
  readonly rules: readonly Rule[];
  readonly run: (input: CheckInput) => Finding[];
}

/** It holds and nobody wants to know: no text needs to be made of it. */
export function passesUnheard({ record }: CheckInput, holds: boolean): boolean {
  return holds && record === undefined;
}

/** Tells whoever asked of a comparison about one fitting; says whether it holds. Long workings are made only where somebody asks. */
export function looked(
  { record }: CheckInput,
  rule: Rule,
  { path, place }: { readonly path: string; readonly place: Place },
  comparison: Comparison,
  holds: boolean,
  working?: readonly Working[] | (() => readonly Working[]),
): boolean {
  if (record) {
    const made = typeof working === 'function' ? working() : working;
    record.looked({ rule, about: path, place, comparison, holds, ...(made && { working: made }) });
  }
  return holds;
}

/** Tells whoever asked of a comparison that could not be made. */
export function lacks(
  { record }: CheckInput,
  rule: Rule,
  { path, place }: { readonly path: string; readonly place: Place },
  needs: string,
): void {
  record?.lacks({ rule, about: path, place, needs });
}
