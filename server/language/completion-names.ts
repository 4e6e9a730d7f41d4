/** Names that may be written at a place: declarations by kind, things of the template, dimensions that exist. */

import type { Statement } from '../../grammar/tree.ts';
import { defaultLimits } from '../checks/defaults.ts';
import { rules } from '../checks/table.ts';
import type { Declared, DeclaredKind } from '../model/names.ts';
import { parameterTypes } from '../model/parameter.ts';
import type { RefKind } from '../model/phrase.ts';
import { child, dotted, nameIn, pathIn, type Reading } from '../model/reading.ts';
import { code } from './hover.ts';
import { commented } from './markdown.ts';
import type { Offer } from './offer.ts';
import { parametersAt } from './parameters.ts';
import { limitText, ruleText } from './rule-text.ts';
import type { Snapshot } from './snapshot.ts';
import { descend, kindsOf, lineageAt, zonesAround } from './target.ts';

/** What a reference can name. `typed` is what is written of a path before the cursor. */
export function refOffers(snapshot: Snapshot, trail: readonly Statement[], to: RefKind, typed = ''): Offer[] {
  const kinds = kindsOf(to);
  if (kinds.length > 0) return [...declaredOffers(snapshot, trail, kinds), ...parametersOfKind(snapshot, trail, kinds)];
  const lineage = lineageAt(snapshot, trail).map((d) => d.reading);
  switch (to) {
    case 'rule':
      return rules.map((r) => ({
        ...named(r.id, r.title),
        doc: () => ruleText(r.id, snapshot.project.settings.show),
      }));
    case 'limit':
      return defaultLimits.map((l) => ({
        ...named(l.name, l.doc),
        doc: () => limitText(l.name, snapshot.project.settings.show),
      }));
    case 'wall':
    case 'opening':
      return unique(lineage.flatMap((t) => t.children.filter((c) => c.word === to).flatMap((c) => ofReading(c))));
    case 'zone':
    case 'fitting': {
      const around = zonesAround(trail);
      const words = to === 'zone' ? zoneWords : fittingWords;
      const own = ownName(trail, words);
      const found = lineage.flatMap((t) => descend(t, around)?.children ?? []);
      return unique(found.filter((r) => words.has(r.word) && nameIn(r)?.text !== own).flatMap((r) => ofReading(r)));
    }
    case 'thing':
      return trail[0]?.word.text === 'unit' || trail[0]?.word.text === 'template'
        ? unique(lineage.flatMap((t) => thingsIn(t)).flatMap(({ path, reading }) => ofReading(reading, path)))
        : acceptedOffers(snapshot, typed);
    default:
      return [];
  }
}

/** Declarations by their names, but for the one that is being written. */
export function declaredOffers(
  { project: { names } }: Snapshot,
  trail: readonly Statement[],
  kinds: readonly DeclaredKind[],
): Offer[] {
  const roles = kinds.includes('hardware') ? rolesFor(trail.at(-1)) : undefined;
  return kinds.flatMap((kind) =>
    names.namesOf(kind).flatMap((n) => {
      const found = names.find(kind, n);
      if (found && found.statement === trail[0]) return [];
      const offer = named(n, found ? headText(found.statement) : kind, found?.statement);
      return [roles && found ? byRole(offer, found, roles) : offer];
    }),
  );
}

/** The name of the thing that is being written: what extends a template says things of the same name again. */
function ownName(trail: readonly Statement[], words: ReadonlySet<string>): string | undefined {
  const own = trail.slice(-2).findLast((s) => words.has(s.word.text) || s.word.text === 'shelves');
  const name = own?.items[0];
  return name?.kind === 'path' ? dotted(name) : undefined;
}

/** A unit or a template, and behind its dot what is in it: `u.a`, `u.a.top`. */
function acceptedOffers(snapshot: Snapshot, typed: string): Offer[] {
  const { names } = snapshot.project;
  const [head = '', ...rest] = typed.split('.');
  const found = rest.length === 0 ? [] : [names.find('unit', head), names.find('template', head)];
  const things = found.flatMap((declared) =>
    declared ? lineageAt(snapshot, [declared.statement]).flatMap((d) => thingsIn(d.reading, `${head}.`)) : [],
  );
  if (things.length > 0) return unique(things.flatMap(({ path, reading }) => ofReading(reading, path).map(byDepth)));
  return [...names.namesOf('unit'), ...names.namesOf('template')].map((n) => named(n, 'start of a path'));
}

/** Zones before what is in them. */
function byDepth(offer: Offer): Offer {
  return { ...offer, rank: offer.label.split('.').length - 1 };
}

/** A parameter that is a board stands where a board is named. */
function parametersOfKind(snapshot: Snapshot, trail: readonly Statement[], kinds: readonly string[]): Offer[] {
  if (trail[0]?.word.text !== 'template' || trail.length < 2) return [];
  return parametersAt(snapshot, trail).flatMap(({ name, reading, statement, text }): Offer[] => {
    const type = pathIn(reading, 'type');
    if (!type || !kinds.includes(dotted(type))) return [];
    return [
      {
        kind: 'parameter',
        label: name,
        text: name,
        detail: text,
        doc: () => statement.doc && commented(statement.doc),
        rank: 1,
      },
    ];
  });
}

/** The parts that hardware can play behind a word. */
function rolesFor(statement: Statement | undefined): ReadonlySet<string> | undefined {
  return statement && roles[statement.word.text];
}

const roles: Readonly<Record<string, ReadonlySet<string>>> = {
  held: new Set(['cup', 'support', 'pin']),
  ends: new Set(['cup', 'support', 'pin']),
  carried: new Set(['support', 'bracket', 'hook', 'tie', 'pin', 'cup']),
  anchor: new Set(['anchor']),
};

/** What plays the part comes first, then what does not say its part. */
function byRole(offer: Offer, { reading }: Declared, wanted: ReadonlySet<string>): Offer {
  const role = child(reading, 'is')?.literals[0]?.words[0]?.text;
  const rank = role === undefined ? 2 : wanted.has(role) ? 1 : 4;
  return { ...offer, rank, detail: role === undefined ? offer.detail : `${offer.detail}: ${role}` };
}

/** Parameters to compute with, and dimensions that are given as a length: `back.length`. */
export function valueOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const parameters = parametersAt(snapshot, trail).filter(({ reading }) => {
    const type = pathIn(reading, 'type');
    return !type || numeric.has(dotted(type));
  });
  return [
    ...parameters.map(
      ({ name, statement }): Offer => ({
        kind: 'parameter',
        label: name,
        text: name,
        detail: headText(statement),
        doc: () => statement.doc && commented(statement.doc),
        rank: 2,
      }),
    ),
    ...dimensionOffers(snapshot, trail),
  ];
}

const numeric = new Set<string>(parameterTypes.filter((t) => t === 'length' || t === 'count' || t === 'angle'));

const dimensions: Readonly<Record<string, readonly string[]>> = {
  wall: ['length', 'height'],
  opening: ['width', 'height'],
  zone: ['width'],
  gap: ['width'],
};

/** Statements whose lengths go up from the floor; those of all others mostly lie along a wall. */
const upright: ReadonlySet<string> = new Set(['at', 'height', 'above', 'under', 'between', 'pitch']);

/** Not the one that is being written, nor those that the chain of zones has still to find. */
function dimensionOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const writing = trail.at(-1);
  return unique(
    lineageAt(snapshot, trail).flatMap(({ reading: template }) =>
      template.children.flatMap((thing) => {
        const name = nameIn(thing)?.text;
        return (dimensions[thing.word] ?? []).flatMap((property): Offer[] => {
          const given = child(thing, property);
          if (name === undefined || !given?.slots.value?.length || given.statement === writing) return [];
          const label = `${name}.${property}`;
          const detail = `${thing.word} ${name} { ${headText(given.statement)} }`;
          // A height beside heights, a width beside widths; the others can still be meant.
          const isAlike = (property === 'height') === upright.has(writing?.word.text ?? '');
          return [{ kind: 'dimension', label, text: label, detail, rank: isAlike ? 3 : 4 }];
        });
      }),
    ),
  );
}

const zoneWords = new Set(['zone', 'gap']);
/** What another fitting can be above or under: a row of shelves has no height of its own. */
const fittingWords = new Set(['shelf', 'rod', 'drawers']);
const thingWords = new Set([
  'wall',
  'opening',
  'fixture',
  'zone',
  'gap',
  'shelf',
  'rod',
  'shelves',
  'drawers',
  'panels',
]);

/** Everything in a template that has a path: `shirts`, `shirts.upper`. */
function thingsIn(reading: Reading, prefix = ''): { readonly path: string; readonly reading: Reading }[] {
  return reading.children.flatMap((inner) => {
    const name = thingWords.has(inner.word) ? nameIn(inner)?.text : undefined;
    if (name === undefined) return [];
    return [{ path: prefix + name, reading: inner }, ...thingsIn(inner, `${prefix}${name}.`)];
  });
}

function ofReading(r: Reading, label = nameIn(r)?.text): Offer[] {
  return label === undefined ? [] : [named(label, headText(r.statement), r.statement)];
}

function named(label: string, detail: string, statement?: Statement): Offer {
  return {
    kind: 'name',
    label,
    text: label,
    detail,
    rank: 1,
    ...(statement && { doc: () => declarationDoc(statement) }),
  };
}

/** At most so many lines of a declaration are shown beside its name. */
const mostLines = 12;

/** Its documentation comment, and the declaration itself where it is short. */
function declarationDoc({ doc, text, word }: Statement): string {
  const own = text.slice(word.start);
  const lines = own.split(/\r\n|\n|\r/);
  return [...(doc !== undefined ? [commented(doc)] : []), ...(lines.length <= mostLines ? [code(own)] : [])].join(
    '\n\n',
  );
}

function unique(offers: readonly Offer[]): Offer[] {
  return [...new Map(offers.map((o) => [o.label, o])).values()];
}

export function headText(statement: Statement): string {
  return statement.text.slice(statement.head.start, statement.head.end);
}
