/** What every part of a template is evaluated with: lengths with where they came from, names that parameters give. */
import { headPlace, type Path } from '../../grammar/tree.ts';
import { type Context, lengthIn, namedAt, namedIn, plainContext } from './context.ts';
import { boardOf, hardwareOf, rodOf, taken } from './declared.ts';
import { type Finding, finding } from './finding.ts';
import type { Hardware } from './materials.ts';
import { dotted, nameIn, pathsIn, type Reading } from './reading.ts';
import * as rules from './rules.ts';
import { type Show, showInches, showLength, showMillimetres } from './show.ts';
import type * as S from './spec.ts';
import type { Trace } from './trace.ts';
import { beyondLikely, comparisonOf, seldom } from './unlikely.ts';
import type { Value } from './values.ts';

/** Evaluation within a template: its parameters and dimensions have values. */
export interface TemplateContext extends Context {
  /** Parameters looked up since this was last emptied. */
  used: Set<string>;
  /** A dimension of another thing was looked up. */
  reachesOut: boolean;
  readonly parameters: ReadonlyMap<string, Value | undefined>;
  /** The same, for what is evaluated by itself. */
  readonly apart: (trace: Trace, report: Context['report']) => TemplateContext;
}

/** Where no template is known. */
export function withoutParameters(plain: Context): TemplateContext {
  return {
    ...plain,
    used: new Set(),
    reachesOut: false,
    parameters: new Map(),
    apart: (trace, report) => withoutParameters(plainContext(plain.names, trace, report)),
  };
}

/** A length with its place and the parameters it came from. */
export function dim(reading: Reading | undefined, slot: string, context: TemplateContext): S.Dim | undefined {
  if (!reading) return undefined;
  const { value, parameters } = traced(context, () => lengthIn(reading, slot, context));
  if (value === undefined) return undefined;
  const found = { value, place: headPlace(reading.statement), parameters };
  const unlikely = unlikelyGiven(reading, found, context.system() === 'millimetres' ? showMillimetres : showInches);
  if (unlikely) context.report(unlikely);
  return found;
}

/** What is written there is looked at where it is read; this is for what a parameter gives. */
function unlikelyGiven({ entry, word }: Reading, { value, place, parameters }: S.Dim, show: Show): Finding | undefined {
  const beyond = parameters.length > 0 ? beyondLikely(value, entry) : undefined;
  if (!beyond) return undefined;
  return finding(
    rules.unlikelySize,
    place,
    `"${word}" comes to ${showLength(value, show)} from ${parameters.join(', ')}, and ${seldom(beyond, show)} here.`,
    {
      advice: 'See whether another unit of measure was meant.',
      comparison: comparisonOf(word, value, beyond),
      causes: { parameters, survey: false },
    },
  );
}

export function traced<T>(context: TemplateContext, compute: () => T): { value: T; parameters: string[] } {
  const outer = context.used;
  context.used = new Set();
  const value = compute();
  const parameters = [...context.used];
  context.used = outer;
  for (const p of parameters) outer.add(p);
  return { value, parameters };
}

export type Props = ReadonlyMap<string, readonly Reading[]>;
export const last = (props: Props, word: string): Reading | undefined => props.get(word)?.at(-1);

/** Leaves out what is undefined, so that laying one over another keeps what was there. */
export function defined<T extends object>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

export const parameterOf =
  (context: TemplateContext) =>
  (path: Path): Value | 'unknown' | undefined => {
    const name = dotted(path);
    if (!context.parameters.has(name)) return undefined;
    context.used.add(name);
    return context.parameters.get(name) ?? 'unknown';
  };

export function boardIn(reading: Reading | undefined, context: TemplateContext): S.Defaults['board'] {
  const declared = namedIn(reading, 'board', 'board', context, parameterOf(context));
  return declared && taken(boardOf(declared, context.names), context);
}

export function poleIn(reading: Reading | undefined, context: TemplateContext): S.Defaults['pole'] {
  const declared = namedIn(reading, 'rod', 'rod', context, parameterOf(context));
  return declared && taken(rodOf(declared, context.names), context);
}

/** The hardware named by `carried by`; undefined where nothing says. */
export function carriedBy(props: Props, context: TemplateContext): Hardware[] | undefined {
  return props.get('carried')?.flatMap((r) =>
    pathsIn(r, 'hardware').flatMap((path) => {
      const declared = namedAt(path, r, 'hardware', context, parameterOf(context));
      return declared ? [taken(hardwareOf(declared, context.names), context)] : [];
    }),
  );
}

/** The matched set that `matched` names; undefined where nothing says. */
export function matchedIn(reading: Reading | undefined): S.MatchedSpec | undefined {
  if (!reading) return undefined;
  return { set: nameIn(reading, 'set')?.text, place: headPlace(reading.statement) };
}
