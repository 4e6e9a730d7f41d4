/** Things of a template that may be named at a place, as they are called there: in a mirrored unit, left is right. */
import type { Statement } from '../../grammar/tree.ts';
import type { NameGroup } from '../model/blueprint.ts';
import { otherSide, otherWall } from '../model/mirror.ts';
import type { Declared, Names } from '../model/names.ts';
import { child, dotted, pathIn, readingAt } from '../model/reading.ts';
import { fittingsBeyond, zonesFrom } from './completion-circles.ts';
import { headText, named } from './completion-offer.ts';
import { heightFittings, isMirrored, zoneOfFitting } from './meaning.ts';
import type { Offer } from './offer.ts';
import type { Snapshot } from './snapshot.ts';
import { standsFor } from './stands.ts';
import { lineageAt, zonesAround } from './target.ts';
import { type Content, lineageFrom, thingAt, thingsWithin } from './things.ts';

/** The walls, or the openings. */
export function onWallOffers(snapshot: Snapshot, trail: readonly Statement[], group: 'wall' | 'opening'): Offer[] {
  const mirrored = isMirrored(snapshot.project.names, trail);
  return thingsWithin(lineageAt(snapshot, trail), [])
    .filter((thing) => thing.group === group)
    .map((thing) => offered(onSite(thing, mirrored)));
}

/** A zone inside a zone stands on the wall of that. */
export function outerWallOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const outer = trail[1]?.items[0];
  const zone = outer?.kind === 'path' && thingAt(lineageAt(snapshot, trail), [dotted(outer)], 'zone');
  const walls = zone ? zone.heads.flatMap((head) => pathIn(head, 'wall') ?? []).map(dotted) : [];
  return onWallOffers(snapshot, trail, 'wall').filter(({ label }) => walls.includes(label));
}

/** Behind the first wall of a corner, those that meet it. */
export function meetingOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const [first] = trail.at(-1)?.items ?? [];
  const name = first?.kind === 'path' ? dotted(first) : '';
  const mirrored = isMirrored(snapshot.project.names, trail);
  const meeting = wallsMeeting(lineageAt(snapshot, trail), mirrored ? otherWall(name) : name);
  return onWallOffers(snapshot, trail, 'wall').filter(({ label }) => meeting.has(mirrored ? otherWall(label) : label));
}

/** A corner is owned by one of its two walls. */
export function ownerOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const walls = (trail.at(-2)?.items ?? []).flatMap((item) => (item.kind === 'path' ? [dotted(item)] : []));
  return onWallOffers(snapshot, trail, 'wall').filter(({ label }) => walls.includes(label));
}

/** As one comes to them with a wall at the left hand. */
const aroundRoom = ['left', 'back', 'right', 'front'];

/** Those before and behind a wall: in a room by their names, in any other each after the one that is written before it. */
function wallsMeeting(lineage: readonly Declared[], name: string): ReadonlySet<string> {
  const written = thingsWithin(lineage.toReversed(), []).flatMap((thing) =>
    thing.group === 'wall' ? [thing.name] : [],
  );
  const byName = written.every((wall) => aroundRoom.includes(wall));
  const order = byName ? aroundRoom : written;
  const at = order.indexOf(name);
  const [first = ''] = order;
  const isRound = byName || thingAt(lineage, [first], 'wall')?.heads.some((head) => child(head, 'turns'));
  const beside = [at - 1, at + 1].flatMap((i) => (isRound ? order.at(i % order.length) : order[i]) ?? []);
  return new Set(at < 0 ? [] : beside.filter((wall) => wall !== name));
}

/** Zones beside the one that is being written. */
export function zoneOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const own = ownName(trail) ?? '';
  const zones = zonesAround(trail);
  const lineage = lineageAt(snapshot, trail);
  const all = thingsWithin(lineage, zones).filter(({ group }) => group === 'zone');
  const names = all.map(({ name }) => name);
  const from = zonesFrom(lineage, zones, names, own);
  return all.filter(({ name }) => !from.has(name)).map(offered);
}

/** Fittings that another one can be above or under, or a row between: those of its zone, as far as they have one height. */
export function fittingOffers(snapshot: Snapshot, trail: readonly Statement[], slot: string): Offer[] {
  const zone = zoneOfFitting(trail);
  // Without a zone around, there is none either of a fitting that is overridden.
  if (zone.length === 0) return [];
  const own = ownName(trail) ?? '';
  const beyond = slot === 'upper' ? lowerOfRow(trail.at(-1)) : fittingsBeyond(snapshot, trail, zone, own);
  return thingsWithin(lineageAt(snapshot, trail), zone)
    .filter(({ group, reading }) => group === 'fitting' && heightFittings.has(reading.word))
    .filter(({ name }) => name !== own && !beyond.has(name))
    .map(offered);
}

/** What a row of shelves begins at, and so does not end at. */
function lowerOfRow(row: Statement | undefined): ReadonlySet<string> {
  const reading = row && readingAt(row, 'zone');
  const lower = reading && pathIn(reading, 'lower');
  return new Set(lower ? [dotted(lower)] : []);
}

/** Everything that has a path in the template or unit around: what can be overridden, or spoken of in a test. */
export function pathOffers({ project }: Snapshot, trail: readonly Statement[]): Offer[] {
  return pathsOf(project.names, trail);
}

/** `names`: those that the statements mean. */
function pathsOf(names: Names, trail: readonly Statement[]): Offer[] {
  return paths(lineageFrom(names, trail[0]), isMirrored(names, trail)).map(offered);
}

/** What a test can expect something of: zones and what is built in them, each panel by itself. */
export function builtOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const [template] = trail;
  const mirrored = isMirrored(snapshot.project.names, trail);
  const found = paths(lineageAt(snapshot, trail), mirrored).filter(
    ({ group, reading }) => group === 'zone' || heightFittings.has(reading.word),
  );
  const offers = new Map(found.map((thing) => [thing.name, offered(thing)]));
  for (const { layout } of template ? standsFor(snapshot, template).all : [])
    for (const { kind, path, place } of layout.zones.flatMap(({ fittings }) => fittings)) {
      const label = mirrored && kind === 'panel' ? otherPanel(path) : path;
      // The shelves of a row have numbers, which are no names.
      if (!offers.has(label) && !/\.\d+$/.test(label))
        offers.set(label, named(label, headText(place.statement), place.statement));
    }
  return [...offers.values()];
}

/** `tower.sides.right` for `tower.sides.left`. */
function otherPanel(path: string): string {
  return path.replace(/(?<=\.)(left|right)$/, (side) => otherSide(side as 'left' | 'right'));
}

/** A unit or a template, and behind its dot what is in it: `u.a`, `u.a.top`. */
export function acceptedOffers(snapshot: Snapshot, typed: string): Offer[] {
  const { names } = snapshot.project;
  const words = typed.split('.');
  const length = names.libraries.has(words[0] ?? '') ? 2 : 1;
  const head = words.slice(0, length).join('.');
  const heads =
    words.length <= length ? [] : (['unit', 'template'] as const).flatMap((kind) => names.find(kind, head) ?? []);
  const offers = heads.flatMap(({ home, statement }) => pathsOf(home, [statement]).map((offer) => within(head, offer)));
  if (offers.length > 0) return [...new Map(offers.map((offer) => [offer.label, offer])).values()];
  const units = names.written('unit');
  const own = [...units, ...names.written('template')].map(({ name }) => name);
  // Of a library's templates, those that are built here.
  const built = units.flatMap(({ reading }) => {
    const template = pathIn(reading, 'template');
    return template && template.words.length > 1 ? [dotted(template)] : [];
  });
  return [...new Set([...own, ...built])].map((name) => named(name, 'start of a path'));
}

/** Zones before what is in them. */
function within(head: string, offer: Offer): Offer {
  const label = `${head}.${offer.label}`;
  return { ...offer, label, text: label, rank: label.split('.').length - 1 };
}

/** In the order in which the model looks for what a path means. */
const inOrder: readonly NameGroup[] = ['zone', 'fitting', 'wall', 'opening', 'fixture'];

/** Everything with a path, which is its name here, once each: of several with one path, that which it means. */
function paths(lineage: readonly Declared[], mirrored: boolean): Content[] {
  const meant = new Map<string, Content>();
  for (const found of pathsWithin(lineage, [])) {
    const thing = onSite(found, mirrored);
    const known = meant.get(thing.name);
    if (!known || inOrder.indexOf(thing.group) < inOrder.indexOf(known.group)) meant.set(thing.name, thing);
  }
  return [...meant.values()];
}

function* pathsWithin(lineage: readonly Declared[], zone: readonly string[]): Generator<Content> {
  for (const thing of thingsWithin(lineage, zone)) {
    if (!inOrder.includes(thing.group)) continue;
    const path = [...zone, thing.name];
    yield { ...thing, name: path.join('.') };
    if (thing.group === 'zone') yield* pathsWithin(lineage, path);
  }
}

/** By the name that it has where it stands: walls and openings change sides in a mirror. */
function onSite(thing: Content, mirrored: boolean): Content {
  const turns = mirrored && (thing.group === 'wall' || thing.group === 'opening');
  return turns ? { ...thing, name: otherWall(thing.name) } : thing;
}

function offered({ name, reading: { statement } }: Content): Offer {
  return named(name, headText(statement), statement);
}

/** Statements whose own name is none that they can name. */
const ownWords: ReadonlySet<string> = new Set(['zone', 'gap', 'shelf', 'rod', 'drawers', 'shelves', 'override']);

/** The name of the thing that is being written: what extends a template says things of the same name again. */
function ownName(trail: readonly Statement[]): string | undefined {
  const own = trail.slice(-2).findLast(({ word }) => ownWords.has(word.text));
  const name = own?.items[0];
  return name?.kind === 'path' ? name.words.at(-1)?.text : undefined;
}
