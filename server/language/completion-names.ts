/** Names that may be written at a place: declarations by kind, rules and limits; things of a template are in completion-things.ts. */

import type { Statement } from '../../grammar/tree.ts';
import { defaultLimits } from '../checks/defaults.ts';
import { rules } from '../checks/table.ts';
import type { Declared, DeclaredKind, Names } from '../model/names.ts';
import type { RefKind } from '../model/phrase.ts';
import { child, dotted, pathIn } from '../model/reading.ts';
import { headText, named } from './completion-offer.ts';
import {
  acceptedOffers,
  builtOffers,
  fittingOffers,
  meetingOffers,
  onWallOffers,
  outerWallOffers,
  ownerOffers,
  pathOffers,
  zoneOffers,
} from './completion-things.ts';
import { commented } from './markdown.ts';
import type { Offer } from './offer.ts';
import { parametersAt } from './parameters.ts';
import { limitText, ruleText } from './rule-text.ts';
import type { Snapshot } from './snapshot.ts';
import { kindsOf } from './target.ts';

/** What a reference in a slot can name. `typed` is what is written of a path before the cursor. */
export function refOffers(
  snapshot: Snapshot,
  trail: readonly Statement[],
  { name, to }: { readonly name: string; readonly to: RefKind },
  typed = '',
): Offer[] {
  const word = trail.at(-1)?.word.text;
  const kinds = kindsOf(to);
  if (kinds.length > 0) return [...declaredOffers(snapshot, trail, kinds), ...parametersOfKind(snapshot, trail, kinds)];
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
      if (word === 'corner' && name === 'b') return meetingOffers(snapshot, trail);
      if ((word === 'zone' || word === 'gap') && trail.length > 2) return outerWallOffers(snapshot, trail);
      return word === 'owner' ? ownerOffers(snapshot, trail) : onWallOffers(snapshot, trail, to);
    case 'opening':
      return onWallOffers(snapshot, trail, to);
    case 'zone':
      return zoneOffers(snapshot, trail);
    case 'fitting':
      return fittingOffers(snapshot, trail, name);
    case 'thing':
      if (trail[0]?.word.text === 'accept') return acceptedOffers(snapshot, typed);
      return word === 'expect' ? builtOffers(snapshot, trail) : pathOffers(snapshot, trail);
    default:
      return [];
  }
}

/** Declarations by their names, but for those that cannot be meant: the one that is being written, and what rests on it. */
export function declaredOffers(
  { project: { names } }: Snapshot,
  trail: readonly Statement[],
  kinds: readonly DeclaredKind[],
): Offer[] {
  const roles = kinds.includes('hardware') ? rolesFor(trail.at(-1)) : undefined;
  const [top] = trail;
  return kinds.flatMap((kind) =>
    names.namesOf(kind).flatMap((n) => {
      const found = names.find(kind, n);
      if (found && top && (restsOn(found, top) || isSaid(names, found, n, top))) return [];
      const offer = named(n, found ? headText(found.statement) : kind, found?.statement);
      return [roles && found ? byRole(offer, found, roles) : offer];
    }),
  );
}

/** A template or policy that extends another, hardware that is anchored by other, directly or through others; and everything itself. */
function restsOn(declared: Declared, top: Statement): boolean {
  const seen = new Set<Declared>();
  for (let next: Declared | undefined = declared; next && !seen.has(next); next = baseOf(next)) {
    if (next.statement === top) return true;
    seen.add(next);
  }
  return false;
}

function baseOf({ kind, reading, home }: Declared): Declared | undefined {
  const anchor = kind === 'hardware' ? child(reading, 'anchor') : undefined;
  const base = anchor ? pathIn(anchor, 'hardware') : pathIn(reading, 'base');
  return base && home.find(kind, dotted(base));
}

/** There is one survey of a unit, which is of the project and stands for itself alone, and one stock of a material. */
function isSaid(names: Names, { kind, reading }: Declared, name: string, top: Statement): boolean {
  const word = top.word.text;
  if (word === 'survey' && kind === 'unit' && (name.includes('.') || child(reading, 'count') !== undefined))
    return true;
  if (word !== 'survey' && word !== 'stock') return false;
  return names.declarations(word, name).some((said) => said.statement !== top);
}

/** A parameter that is a board stands where a board is named: in its template, and where a unit overrides it. */
function parametersOfKind(snapshot: Snapshot, trail: readonly Statement[], kinds: readonly string[]): Offer[] {
  const top = trail[0]?.word.text;
  if (!(top === 'template' && trail.length > 1) && !(top === 'unit' && trail.length > 2)) return [];
  // What hardware is anchored by is declared; what holds a part may be a parameter.
  if (kinds.includes('hardware') && !/^(?:held|carried)$/.test(trail.at(-1)?.word.text ?? '')) return [];
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
