/** A template as merged statements: what it extends first, then its own, things of the same name laid over each other. */

import { headPlace, type Place, placeOf } from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { nameNotKnown } from './context.ts';
import { freeName } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { type LimitName, limits } from './limits.ts';
import type { Declared } from './names.ts';
import { dotted, nameIn, pathIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import { tooMany } from './too-many.ts';
import type { Trace } from './trace.ts';

/** A thing: its statements (the farthest base first), its properties and the things in it. */
export interface Blueprint {
  readonly word: string;
  readonly name: string;
  /** The last one is the template's own. */
  readonly heads: readonly Reading[];
  readonly props: ReadonlyMap<string, readonly Reading[]>;
  readonly things: readonly Blueprint[];
}

/** Words that name a thing rather than a property, by the place they stand in. */
const thingWords: Readonly<Record<string, ReadonlySet<string>>> = {
  template: new Set(['parameter', 'wall', 'corner', 'opening', 'fixture', 'zone', 'gap', 'test']),
  zone: new Set(['zone', 'gap', 'shelf', 'rod', 'panels', 'shelves', 'drawers']),
};

/** Things whose names must differ from each other within one block, by what they are together. */
export type NameGroup = 'zone' | 'fitting' | 'wall' | 'parameter' | 'opening' | 'fixture';

const groups: Readonly<Record<string, NameGroup>> = {
  zone: 'zone',
  gap: 'zone',
  shelf: 'fitting',
  rod: 'fitting',
  panels: 'fitting',
  shelves: 'fitting',
  drawers: 'fitting',
  wall: 'wall',
  parameter: 'parameter',
  opening: 'opening',
  fixture: 'fixture',
};

/** Undefined for what has no name among others: a corner, a test, a property. */
export function groupOf(word: string): NameGroup | undefined {
  return Object.hasOwn(groups, word) ? groups[word] : undefined;
}

/** How many there may be of each group in one block. */
const mostOf: Readonly<Record<string, { readonly limit: LimitName; readonly what: string }>> = {
  zone: { limit: 'mostZones', what: 'zones and gaps' },
  fitting: { limit: 'mostFittings', what: 'fittings' },
  wall: { limit: 'mostWalls', what: 'walls' },
  corner: { limit: 'mostWalls', what: 'corners' },
  parameter: { limit: 'mostParameters', what: 'parameters' },
  opening: { limit: 'mostOnWalls', what: 'openings' },
  fixture: { limit: 'mostOnWalls', what: 'fixtures' },
};

/** The templates that one is built on, itself last. A circle is reported whole and cut, and so is a chain that is too long. */
export function lineageOf(declared: Declared, trace: Trace, report: (f: Finding) => void): Declared[] {
  const chain: Declared[] = [declared];
  for (let current = declared; ; ) {
    const base = pathIn(current.reading, 'base');
    if (!base) break;
    const next = current.home.find('template', dotted(base), trace);
    if (!next) {
      report(nameNotKnown(base, ['template'], current.statement, current.home));
      break;
    }
    const seen = chain.findIndex((d) => d.statement === next.statement);
    if (seen >= 0) {
      // The circle, from the first of it on; each of its templates reports it once, at its own head.
      const circle = chain.slice(seen);
      if (circle.some((d) => d.statement === declared.statement)) report(circleFinding(declared, circle));
      break;
    }
    if (chain.length >= limits.longestChain.most) {
      report(longChain(declared));
      break;
    }
    chain.push(next);
    current = next;
  }
  return chain.reverse();
}

/** Told of each that stands at the end of such a chain; what lies beyond is not read. */
export function longChain({ kind, name, statement }: Declared): Finding {
  return tooMany('longestChain', headPlace(statement), {
    who: `${capital(kind)} "${name}" is built on`,
    count: limits.longestChain.most + 1,
    isLeast: true,
    what: `${kind === 'policy' ? 'policies' : `${kind}s`}, itself counted`,
    advice: 'Write some of them into one.',
  });
}

function circleFinding(declared: Declared, circle: readonly Declared[]): Finding {
  const from = circle.findIndex((d) => d.statement === declared.statement);
  const ordered = [...circle.slice(from), ...circle.slice(0, from)];
  const names = [...ordered, declared].map((d) => `"${d.name}"`);
  const itself = ordered.length === 1;
  return finding(
    rules.nameCircle,
    headPlace(declared.statement),
    itself ? `${capital(declared.kind)} ${names[0]} extends itself.` : `A circle: ${names.join(' extends ')}.`,
    {
      advice: 'Take one `extends` out of the circle.',
      related: ordered.slice(1).map((d) => ({
        place: headPlace(d.statement),
        message: `${capital(d.kind)} "${d.name}" is part of the circle.`,
      })),
    },
  );
}

export { circleFinding };

export function blueprintOf(lineage: readonly Declared[], report: (f: Finding) => void): Blueprint {
  return merged(
    'template',
    'template',
    lineage.at(-1)?.name ?? '',
    lineage.map((d) => d.reading),
    report,
  );
}

function merged(
  place: string,
  word: string,
  name: string,
  heads: readonly Reading[],
  report: (f: Finding) => void,
): Blueprint {
  const props = new Map<string, readonly Reading[]>();
  const things = new Map<string, { word: string; name: string; heads: Reading[] }>();
  const isThing = thingWords[place] ?? new Set();
  const counts = new Map<string, { count: number; beyond?: Reading }>();
  for (const head of heads) {
    const own = new Map<string, Reading[]>();
    const taken = new Map<string, Reading>();
    const unnamed = new Map<string, number>();
    for (const childReading of head.children) {
      if (!isThing.has(childReading.word)) {
        const list = own.get(childReading.word);
        if (list) list.push(childReading);
        else own.set(childReading.word, [childReading]);
        continue;
      }
      const thing = thingName(childReading, unnamed);
      if (thing === undefined) continue;
      const group = groupOf(childReading.word);
      const key = `${group} ${thing}`;
      const first = group ? taken.get(key) : undefined;
      if (first) {
        report(
          duplicate(
            childReading,
            first,
            thing,
            freeName(thing, [...head.children.map((r) => nameIn(r)?.text), ...[...things.values()].map((t) => t.name)]),
          ),
        );
        continue;
      }
      taken.set(key, childReading);
      const known = things.get(key);
      if (known && known.word === childReading.word) known.heads.push(childReading);
      else if (isWithin(counts, childReading))
        things.set(key, { word: childReading.word, name: thing, heads: [childReading] });
    }
    for (const [propWord, readings] of own) {
      // What is written later stands for every other way of saying it.
      for (const other of readings[0]?.entry.otherWays ?? []) props.delete(other);
      props.set(propWord, readings);
    }
  }
  for (const [group, { count, beyond }] of counts) {
    const known = mostOf[group];
    if (!beyond || !known) continue;
    report(
      tooMany(known.limit, headPlace(beyond.statement), {
        who: `${capital(word)} "${name}" has`,
        count,
        what: known.what,
        advice: `Those from this one on are not built. Divide the ${word}.`,
      }),
    );
  }
  return {
    word,
    name,
    heads,
    props,
    things: [...things.values()].map((t) => merged(t.word === 'gap' ? 'gap' : t.word, t.word, t.name, t.heads, report)),
  };
}

/** Counts a thing; false where there are as many of its group as are taken on. */
function isWithin(counts: Map<string, { count: number; beyond?: Reading }>, reading: Reading): boolean {
  const group = groupOf(reading.word) ?? reading.word;
  const own = counts.get(group) ?? { count: 0 };
  counts.set(group, own);
  own.count++;
  const known = mostOf[group];
  if (!known || own.count <= limits[known.limit].most) return true;
  own.beyond ??= reading;
  return false;
}

function duplicate(second: Reading, first: Reading, name: string, free: string): Finding {
  const at: Place = headPlace(second.statement);
  const own = nameIn(second);
  return finding(rules.nameTaken, at, `"${name}" is defined twice here.`, {
    advice: 'Give one of them another name; the first one is used.',
    related: [{ place: headPlace(first.statement), message: 'It is defined here first.' }],
    // Whoever names it means the first one, so that nothing else changes; but then there are two, and both are built.
    fixes: own
      ? [
          {
            title: `Write ${free} instead of ${name}`,
            edits: [{ place: placeOf(second.statement, own), text: free }],
            byHand: true,
          },
        ]
      : [],
  });
}

/** The name of a thing; those without one are named by their kind and written order. */
export function thingName(reading: Reading, unnamed: Map<string, number>): string | undefined {
  const given = nameIn(reading)?.text;
  if (given !== undefined) return given;
  if (reading.word === 'corner') {
    const a = pathIn(reading, 'a');
    const b = pathIn(reading, 'b');
    return a && b ? `${dotted(a)}-${dotted(b)}` : undefined;
  }
  const kind = reading.word === 'fixture' ? fixtureKind(reading) : reading.word === 'panels' ? 'panels' : undefined;
  if (kind === undefined) return undefined;
  const count = (unnamed.get(kind) ?? 0) + 1;
  unnamed.set(kind, count);
  return count === 1 ? kind : `${kind}-${count}`;
}

export function fixtureKind(reading: Reading): string | undefined {
  return kinds.find((kind) => says(reading, kind));
}

const kinds = [
  'outlet',
  'switch',
  'panel',
  'vent',
  'sprinkler',
  'light',
  'hatch',
  'appliance',
  'baseboard',
  'slope',
] as const;

export function prop(blueprint: Blueprint, word: string): Reading | undefined {
  return blueprint.props.get(word)?.at(-1);
}

export function propsOf(blueprint: Blueprint, word: string): readonly Reading[] {
  return blueprint.props.get(word) ?? [];
}

export function thingsOf(blueprint: Blueprint, ...words: string[]): Blueprint[] {
  return blueprint.things.filter((t) => words.includes(t.word));
}

export function headReading(blueprint: Blueprint): Reading {
  return blueprint.heads.at(-1) as Reading;
}

/** The last head that says a slot: `zone tower` that extends one keeps its wall. */
export function headWith(blueprint: Blueprint, slot: string): Reading | undefined {
  return blueprint.heads.findLast(
    (h) => h.slots[slot] !== undefined && (h.slots[slot] as readonly unknown[]).length > 0,
  );
}
