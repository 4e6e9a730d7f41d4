/** Findings that came and went between two states: those of units, and those that are of no unit. */
import type { Finding } from '../../model/finding.ts';
import type { Layout } from '../../model/layout.ts';
import { memo } from '../../model/memo.ts';
import type { Project, Unit } from '../../model/project.ts';
import type { Change } from './changes.ts';
import type { Counterparts } from './counterparts.ts';
import { renamedPaths } from './pairs.ts';

interface Differing {
  readonly added: readonly Finding[];
  readonly gone: readonly Finding[];
}

/** How a finding of before is found again afterwards, though something has another name. */
interface Way {
  /** What the one that is sought has as `keyOf`; undefined where there is none. */
  readonly soughtOf: (before: Finding) => unknown;
  readonly keyOf: (after: Finding) => unknown;
  readonly areAlike: (before: Finding, after: Finding) => boolean;
}

/**
 * Findings that a unit has got or lost, by their rule and what they are about: their numbers may be others, and so may
 * the name of what they are about. Of those that do not say, as of a name that is not known, the statement decides.
 */
export function unitFindings(a: Unit, b: Unit, counterparts: () => Counterparts): Change[] {
  const keyOf = ({ severity, rule, about, message }: Finding): string =>
    [severity, rule.id, ...(about === undefined ? ['', message] : [about])].join(' ');
  const [before, after] = [a.resolved?.layout, b.resolved?.layout];
  const ways: Way[] = [
    {
      soughtOf: ({ about = '' }) => before && after && pathsIn(before, after).get(about),
      keyOf: ({ about }) => about,
      areAlike: () => true,
    },
    // What no layout has by its name.
    byCounterpart(counterparts, ({ about = '' }) => about),
  ];
  const { added, gone } = withoutRenamed(differing(findingsOf(a), findingsOf(b), keyOf), ways);
  const change = (f: Finding, when: 'before' | 'after'): Change => ({
    kind: 'finding',
    of: f.about ?? '',
    what: `${f.severity} ${f.rule.id}`,
    [when]: { text: f.message },
  });
  return [...added.map((f) => change(f, 'after')), ...gone.map((f) => change(f, 'before'))];
}

/** Of stock, names, settings, and of templates that no unit has: what units have for themselves is told with them. */
export function looseFindings(before: Project, after: Project, counterparts: () => Counterparts): Differing {
  const keyOf = ({ rule, message }: Finding): string => `${rule.id} ${message}`;
  const loose = (project: Project): Finding[] => {
    const own = new Set([...project.units()].flatMap(findingsOf).map(keyOf));
    return project.findings().filter((f) => f.reach.length === 0 && !own.has(keyOf(f)));
  };
  return withoutRenamed(differing(loose(before), loose(after), keyOf), [
    byCounterpart(counterparts, ({ message }) => message),
  ]);
}

/** By the statement, under whatever name; of that by a text of its own, which may have other names in it. */
function byCounterpart(counterparts: () => Counterparts, textOf: (f: Finding) => string): Way {
  return {
    soughtOf: ({ place }) => counterparts().of(place.statement),
    keyOf: ({ place }) => place.statement,
    areAlike: (f, g) => counterparts().areAlike(textOf(f), textOf(g)),
  };
}

/** Those of its layout are among `checked`, as the policy in force has them. */
function findingsOf({ findings, checked }: Unit): Finding[] {
  return [...findings, ...checked];
}

/** As many of a key as there are more on the one side. Of those the ones whose very words are on both sides are the same. */
function differing(before: readonly Finding[], after: readonly Finding[], keyOf: (f: Finding) => string): Differing {
  const wordsOf = (f: Finding): string => `${keyOf(f)}\n${f.message}`;
  const first = leftOver(before, after, wordsOf);
  return leftOver(first.gone, first.added, keyOf);
}

function leftOver(before: readonly Finding[], after: readonly Finding[], keyOf: (f: Finding) => string): Differing {
  const waiting = Map.groupBy(after, keyOf);
  const gone = before.filter((f) => waiting.get(keyOf(f))?.shift() === undefined);
  const still = new Set([...waiting.values()].flat());
  return { added: after.filter((f) => still.has(f)), gone };
}

function withoutRenamed({ added, gone }: Differing, ways: readonly Way[]): Differing {
  const left = new Set(added);
  let still = gone;
  for (const { soughtOf, keyOf, areAlike } of ways) {
    if (still.length === 0 || left.size === 0) break;
    const byKey = Map.groupBy(left, keyOf);
    still = still.filter((f) => {
      const sought = soughtOf(f);
      const others = sought === undefined ? [] : (byKey.get(sought) ?? []);
      const same = others.find(
        (g) => left.has(g) && g.rule.id === f.rule.id && g.severity === f.severity && areAlike(f, g),
      );
      return same === undefined || !left.delete(same);
    });
  }
  return { added: added.filter((f) => left.has(f)), gone: still };
}

/** Units that are alike share their layouts. */
const known = new WeakMap<Layout, WeakMap<Layout, ReadonlyMap<string, string>>>();

function pathsIn(before: Layout, after: Layout): ReadonlyMap<string, string> {
  const own = memo(known, before, () => new WeakMap<Layout, ReadonlyMap<string, string>>());
  return memo(own, after, () => renamedPaths(before, after));
}
