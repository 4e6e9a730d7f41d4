/** What may be typed at the cursor. */
import { type Measure, measures } from '../../grammar/measures.ts';
import { type Expression, offsetOf, type Path, type Range, type Statement } from '../../grammar/tree.ts';
import { defaultLimits } from '../checks/defaults.ts';
import { rules } from '../checks/table.ts';
import { expectedAfter, isExpression, type Phrase, type RefKind, type SlotType } from '../model/phrase.ts';
import { dotted, nameIn, pathIn, type Reading, read } from '../model/reading.ts';
import { parameterTypes } from '../model/unit.ts';
import { type BlockPlace, type WordEntry, wordIn, wordsIn } from '../model/vocabulary.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import { wordText } from './hover.ts';
import { touches } from './locate.ts';
import { limitText, ruleText } from './rule-text.ts';
import type { Snapshot } from './snapshot.ts';
import { snippetOf } from './snippet.ts';
import { descend, kindsOf, lineageAt, zonesAround } from './target.ts';

export interface Completion extends Range {
  readonly kind: 'word' | 'literal' | 'name' | 'parameter' | 'measure' | 'type';
  readonly label: string;
  /** What `start` to `end` is replaced by. */
  readonly text: string;
  /** The same with places to fill in (`$1`, `${2:name}`), for editors that know them. */
  readonly snippet?: string;
  readonly detail?: string;
  /** Markdown. */
  readonly doc?: string;
  /** Lower ones come first. */
  readonly rank: number;
}

/** A completion before it is known what it replaces. */
type Offer = Omit<Completion, 'start' | 'end'>;

export function completionsAt(snapshot: Snapshot, offset: number): Completion[] {
  const cursor = cursorAt(snapshot, offset);
  if (!cursor) return [];
  if (cursor.kind === 'word') {
    const { start, end } = cursor;
    return [...givenParameters(snapshot, cursor.around), ...wordsHere(snapshot, cursor)].map((o) => ({
      ...o,
      start,
      end,
    }));
  }
  return itemsHere(snapshot, cursor, offset);
}

// First words

function wordsHere(snapshot: Snapshot, { around, place }: Extract<Cursor, { kind: 'word' }>): Offer[] {
  if (place === undefined || place === 'anything') return [];
  if (place === 'override') return wordsIn(placeOfThing(snapshot, around) ?? place).map(wordOffer);
  const said = new Set((around.at(-1)?.block?.children ?? []).map((s) => s.word.text));
  return wordsIn(place).map((entry) => {
    const offer = wordOffer(entry);
    // What is there already, and may not be said twice, comes last.
    return said.has(entry.word) && !entry.repeats ? { ...offer, rank: 9 } : offer;
  });
}

function wordOffer(entry: WordEntry): Offer {
  return {
    kind: 'word',
    label: entry.word,
    text: entry.word,
    snippet: snippetOf(entry),
    detail: entry.phrase.notation,
    doc: wordText(entry),
    rank: entry.notYet ? 6 : 3,
  };
}

/** The place whose words change a thing that a unit overrides. */
function placeOfThing(snapshot: Snapshot, around: readonly Statement[]): BlockPlace | undefined {
  const override = around.at(-1);
  const reading = override && read(override, 'unit').reading;
  const path = reading && pathIn(reading, 'thing');
  if (!path) return undefined;
  for (const { reading: template } of lineageAt(snapshot, around)) {
    const thing = descend(
      template,
      path.words.map((w) => w.text),
    );
    if (thing) return thing.entry.block;
  }
  return undefined;
}

/** In a unit, what its template asks for; what is missing comes first. */
function givenParameters(snapshot: Snapshot, around: readonly Statement[]): Offer[] {
  const [top] = around;
  if (around.length !== 1 || top?.word.text !== 'unit') return [];
  const given = new Set((top.block?.children ?? []).map((s) => s.word.text));
  return parametersAt(snapshot, around).map(({ name, statement, needed }) => ({
    kind: 'parameter',
    label: name,
    text: name,
    snippet: `${name} $0`,
    detail: headText(statement),
    ...(statement.doc !== undefined && { doc: statement.doc }),
    rank: given.has(name) ? 8 : needed ? 0 : 1,
  }));
}

function parametersAt(
  snapshot: Snapshot,
  trail: readonly Statement[],
): { readonly name: string; readonly statement: Statement; readonly needed: boolean }[] {
  const found = new Map<string, { name: string; statement: Statement; needed: boolean }>();
  for (const { reading } of lineageAt(snapshot, trail)) {
    for (const child of reading.children) {
      const name = child.word === 'parameter' ? nameIn(child)?.text : undefined;
      if (name === undefined || found.has(name)) continue;
      found.set(name, { name, statement: child.statement, needed: !child.slots.default?.length });
    }
  }
  return [...found.values()];
}

// Behind the first word

function itemsHere(snapshot: Snapshot, cursor: Extract<Cursor, { kind: 'item' }>, offset: number): Completion[] {
  const { trail, place, before, item, within } = cursor;
  const statement = trail.at(-1) as Statement;
  const base = offsetOf(statement);
  const entry = place && wordIn(wordPlace(snapshot, trail, place), statement.word.text);
  const wanted: readonly SlotType[] = entry
    ? expectedAfter(entry.phrase, before).expected.flatMap((e) => (e.kind === 'slot' ? [e.type] : []))
    : [{ kind: 'value' }];
  const number = isExpression(item) ? numberBefore(item, within) : undefined;
  if (number) {
    return measuresFor(wanted).map((o) => ({ ...o, start: base + number.start, end: base + number.end }));
  }
  const path = isExpression(item) ? pathBefore(item, within) : undefined;
  // Within an expression only values can stand, not the words of the phrase.
  const inside = item !== undefined && item.kind !== 'path' && item.kind !== 'missing';
  const literals = entry && !inside ? literalOffers(entry.phrase, before) : [];
  const offers = [...literals, ...wanted.flatMap((type) => slotOffers(snapshot, trail, type))];
  const range = path ? { start: base + path.start, end: base + path.end } : { start: offset, end: offset };
  return offers.map((o) => ({ ...o, ...range }));
}

/** The statements of an override are those of the thing it changes. */
function wordPlace(snapshot: Snapshot, trail: readonly Statement[], place: BlockPlace): BlockPlace {
  return place === 'override' ? (placeOfThing(snapshot, trail.slice(0, -1)) ?? place) : place;
}

function literalOffers(phrase: Phrase, before: Parameters<typeof expectedAfter>[1]): Offer[] {
  return expectedAfter(phrase, before).expected.flatMap((e) =>
    e.kind === 'literal' ? [{ kind: 'literal' as const, label: e.text, text: e.text, rank: 1 }] : [],
  );
}

function slotOffers(snapshot: Snapshot, trail: readonly Statement[], type: SlotType): Offer[] {
  switch (type.kind) {
    case 'ref':
      return refOffers(snapshot, trail, type.to);
    case 'type':
      return parameterTypes.map((t) => ({ kind: 'type', label: t, text: t, rank: 1 }));
    case 'quantity':
    case 'value':
      return [
        ...(trail[0]?.word.text === 'template' ? valueOffers(snapshot, trail) : []),
        ...(type.kind === 'value' && trail[0]?.word.text === 'unit' ? argumentOffers(snapshot, trail) : []),
      ];
    default:
      return [];
  }
}

/** Parameters, to compute with. */
function valueOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  return parametersAt(snapshot, trail).map(({ name, statement }) => ({
    kind: 'parameter',
    label: name,
    text: name,
    detail: headText(statement),
    rank: 2,
  }));
}

/** Names for a parameter that is a board, rod, garment or hardware. */
function argumentOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const word = trail.at(-1)?.word.text;
  const parameter = parametersAt(snapshot, trail).find((p) => p.name === word);
  const reading = parameter && read(parameter.statement, 'template').reading;
  const type = reading && pathIn(reading, 'type');
  const kind = type && dotted(type);
  return kind === 'board' || kind === 'rod' || kind === 'garment' || kind === 'hardware'
    ? refOffers(snapshot, trail, kind)
    : [];
}

function refOffers(snapshot: Snapshot, trail: readonly Statement[], to: RefKind): Offer[] {
  const { names } = snapshot.project;
  const name = (label: string, detail: string, doc?: string): Offer => ({
    kind: 'name',
    label,
    text: label,
    detail,
    rank: 1,
    ...(doc !== undefined && { doc }),
  });
  const kinds = kindsOf(to);
  if (kinds.length > 0) {
    return kinds.flatMap((kind) =>
      names.namesOf(kind).map((n) => {
        const statement = names.find(kind, n)?.statement;
        return name(n, statement ? headText(statement) : kind, statement?.doc);
      }),
    );
  }
  const lineage = lineageAt(snapshot, trail).map((d) => d.reading);
  const ofReading = (r: Reading, label = nameIn(r)?.text): Offer[] =>
    label === undefined ? [] : [name(label, headText(r.statement), r.statement.doc)];
  switch (to) {
    case 'rule':
      return rules.map((r) => name(r.id, r.title, ruleText(r.id, snapshot.project.settings.show)));
    case 'limit':
      return defaultLimits.map((l) => name(l.name, l.doc, limitText(l.name, snapshot.project.settings.show)));
    case 'wall':
      return unique(lineage.flatMap((t) => t.children.filter((c) => c.word === 'wall').flatMap((c) => ofReading(c))));
    case 'zone':
    case 'fitting': {
      const around = zonesAround(trail);
      const depth = around.length;
      const own = trail.at(-2);
      const found = lineage.flatMap((t) => descend(t, around.slice(0, depth))?.children ?? []);
      const isWanted = (r: Reading): boolean =>
        (to === 'zone' ? zoneWords : fittingWords).has(r.word) && r.statement !== own && r.statement !== trail.at(-1);
      return unique(found.filter(isWanted).flatMap((r) => ofReading(r)));
    }
    case 'thing':
      return trail[0]?.word.text === 'unit'
        ? unique(lineage.flatMap((t) => thingsIn(t)).flatMap(({ path, reading }) => ofReading(reading, path)))
        : [...names.namesOf('unit'), ...names.namesOf('template')].map((n) => name(n, 'begin of a path'));
    default:
      return [];
  }
}

const zoneWords = new Set(['zone', 'gap']);
const fittingWords = new Set(['shelf', 'rod', 'shelves']);
const thingWords = new Set(['wall', 'opening', 'fixture', 'zone', 'gap', 'shelf', 'rod', 'shelves', 'panels']);

/** Everything in a template that has a path: `shirts`, `shirts.upper`. */
function thingsIn(reading: Reading, prefix = ''): { readonly path: string; readonly reading: Reading }[] {
  return reading.children.flatMap((child) => {
    const name = thingWords.has(child.word) ? nameIn(child)?.text : undefined;
    if (name === undefined) return [];
    return [{ path: prefix + name, reading: child }, ...thingsIn(child, `${prefix}${name}.`)];
  });
}

function unique(offers: readonly Offer[]): Offer[] {
  return [...new Map(offers.map((o) => [o.label, o])).values()];
}

// Units of measure

function measuresFor(wanted: readonly SlotType[]): Offer[] {
  const dimensions = new Set(wanted.flatMap((t) => (t.kind === 'quantity' ? [t.dimension] : [])));
  const fits = ({ dimension, spelling }: Measure): boolean =>
    (dimensions.size > 0 ? dimensions.has(dimension) : dimension === 'length') && /^[a-z%]/i.test(spelling);
  return measures
    .filter(fits)
    .map((m, rank) => ({ kind: 'measure', label: m.spelling, text: m.spelling, detail: m.title, rank }));
}

/** Where the unit of a number stands, or would stand, if the cursor is right there. */
function numberBefore(e: Expression, within: number): Range | undefined {
  if (!touches(e, within)) return undefined;
  switch (e.kind) {
    case 'number': {
      const part = e.parts.find((p) => touches(p, within));
      if (!part) return undefined;
      if (part.unit) return touches(part.unit, within) ? part.unit : undefined;
      return part.end === within ? { start: within, end: within } : undefined;
    }
    default:
      return operandsOf(e)
        .map((o) => numberBefore(o, within))
        .find((r) => r !== undefined);
  }
}

function pathBefore(e: Expression, within: number): Path | undefined {
  if (!touches(e, within)) return undefined;
  if (e.kind === 'path') return e;
  return operandsOf(e)
    .map((o) => pathBefore(o, within))
    .find((p) => p !== undefined);
}

function operandsOf(e: Expression): readonly Expression[] {
  switch (e.kind) {
    case 'binary':
      return [e.left, e.right];
    case 'negation':
      return [e.operand];
    case 'group':
      return [e.inner];
    case 'call':
      return e.args;
    default:
      return [];
  }
}

function headText(statement: Statement): string {
  return statement.text.slice(statement.head.start, statement.head.end);
}
