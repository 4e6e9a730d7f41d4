/** Numbers that follow from what is written, shown where they follow: widths, heights, cut lengths, values, defaults. */
import { type Expression, type Item, offsetOf, type Range, type Statement } from '../../grammar/tree.ts';
import { plainContext } from '../model/context.ts';
import type { FittingLayout, Layout, Part, ZoneLayout } from '../model/layout.ts';
import { memo } from '../model/memo.ts';
import { money } from '../model/money.ts';
import { calledInProject } from '../model/names.ts';
import { isExpression, slotsOf } from '../model/phrase.ts';
import { dotted, pathIn, type Reading, readingAt } from '../model/reading.ts';
import { type Show, showLength, showRange } from '../model/show.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { Trace } from '../model/trace.ts';
import { evaluate, type Scope, type Value } from '../model/values.ts';
import { type BlockPlace, wordIn } from '../model/vocabulary.ts';
import { partCaution } from './caution.ts';
import { factsOf } from './facts.ts';
import { spanned } from './markdown.ts';
import type { Snapshot } from './snapshot.ts';
import { standsFor } from './stands.ts';

export type HintKind = 'width' | 'height' | 'cut' | 'value' | 'default';

export interface Hint {
  readonly at: number;
  readonly kind: HintKind;
  readonly label: string;
  /** Where the number comes from, as Markdown. Costly: asked when somebody looks. */
  readonly why: () => string;
}

/** So many heights of a row are named. */
const mostHeights = 5;

/** The hints of some kinds in a stretch of a file, which is up to date. */
export function hintsIn(snapshot: Snapshot, range: Range, kinds: ReadonlySet<HintKind>): Hint[] {
  const hints: Hint[] = [];
  for (const segment of snapshot.source.segmentsIn(range)) {
    for (const top of segment.statements) {
      const start = segment.offset + top.offset;
      if (start > range.end || start + top.text.length < range.start) continue;
      hints.push(...hintsOf(snapshot, top, range, kinds));
    }
  }
  return hints.filter(({ at, kind }) => kinds.has(kind) && range.start <= at && at <= range.end);
}

function hintsOf(snapshot: Snapshot, top: Statement, range: Range, kinds: ReadonlySet<HintKind>): Hint[] {
  const { project } = snapshot;
  const { show, currency } = project.settings;
  const stands = standsFor(snapshot, top);
  const unit = project.unitAt(top);
  const facts = (statement: Statement): string[] => [
    ...partCaution(project, statement, unit),
    ...factsOf(snapshot, statement, unit),
  ];
  const plain: readonly Scope[] = [plainContext(project.names, new Trace(), () => undefined)];
  const scopes = stands.all.length > 0 ? stands.all.map((s) => s.scope) : plain;
  const indexes = stands.all.map(({ layout }) => indexOf(layout));
  const hints: Hint[] = [];

  const visit = (statement: Statement, base: number, place: BlockPlace | undefined): void => {
    if (base > range.end || base + statement.text.length < range.start) return;
    const reading = place && readingAt(statement, place);
    const add: Add = (kind, at, label, why) => {
      if (!kinds.has(kind)) return;
      hints.push({ kind, at: base + at, label, why: () => [stands.where, ...why()].filter(Boolean).join('\n\n') });
    };
    if (place === 'unit' && !reading) addGiven(statement, add);
    else if (place === 'override') for (const item of statement.items) addValue(statement, item, scopes, add);
    else if (reading) {
      addWidth(statement, add);
      addHeight(reading, add);
      addCut(statement, reading, add);
      addValues(reading, add);
      if (statement === top && reading.word === 'unit') addDefaults(statement, add);
    }
    const inside =
      reading?.entry.block ?? (place === undefined ? undefined : wordIn(place, statement.word.text)?.block);
    for (const child of statement.block?.children ?? []) visit(child, base + child.offset, inside);
  };
  visit(top, offsetOf(top), 'file');
  return hints;

  function addWidth(statement: Statement, add: Add): void {
    const zones = indexes.flatMap((i) => i.widths.get(statement) ?? []).filter((z) => z.settled !== 'fixed');
    if (zones.length === 0) return;
    add('width', statement.head.end, `= ${spread(zones.map((z) => z.width.value))}`, () =>
      facts((zones[0] as ZoneLayout).place.statement),
    );
  }

  function addHeight({ statement, word, slots }: Reading, add: Add): void {
    // A height that is written is seen already; one that is computed is told as a value.
    if (word === 'at' && slots.value) return;
    if (word === 'shelves') {
      const at = ['pitch', 'count'].flatMap((w) => statement.block?.children.find((c) => c.word.text === w) ?? [])[0];
      const row = indexes[0]?.fittings.get(statement) ?? [];
      if (row.length === 0) return;
      const end = at ? at.offset + at.head.end : statement.head.end;
      const heights = row.map((f) => showLength(f.at.value, show));
      const named = heights.slice(0, mostHeights).join(', ');
      const more = heights.length > mostHeights ? ', ...' : '';
      add('height', end, `at ${named}${more}`, () => rowFacts(row));
      return;
    }
    const set = indexes.flatMap((i) => i.heights.get(statement) ?? []);
    const [first] = set;
    if (!first || first.place.statement === statement) return;
    add('height', statement.head.end, `at ${spread(set.map((f) => f.at.value))}`, () => facts(first.place.statement));
  }

  function rowFacts(row: readonly FittingLayout[]): string[] {
    const [first] = row;
    const steps = row.slice(1).map(({ at }, i) => ticks(at.value - (row[i] as FittingLayout).at.value));
    const pitch = steps.length > 0 ? [`Pitch ${spread(steps)}.`] : [];
    const undersides = 'Undersides of the shelves, from the finished floor.';
    return [undersides, ...pitch, ...(first ? facts(first.place.statement) : [])];
  }

  function addCut(statement: Statement, reading: Reading, add: Add): void {
    const isOverride = reading.word === 'override';
    const path = isOverride ? pathIn(reading, 'thing') : undefined;
    const byLayout = indexes.map((i) => (path ? i.paths.get(dotted(path)) : i.parts.get(statement)) ?? []);
    const parts = byLayout.flat();
    const [first] = parts;
    if (!first || (!isOverride && reading.entry.block === undefined)) return;
    const count = Math.max(...byLayout.map((own) => own.length));
    const times = count > 1 ? `${count} × ` : '';
    add('cut', statement.head.end, `cut ${times}${spread(parts.map((p) => p.length))}`, () =>
      facts(first.place.statement),
    );
  }

  function addValues({ statement, entry, slots }: Reading, add: Add): void {
    for (const { name, type } of slotsOf(entry.phrase)) {
      if (type.kind !== 'quantity' && type.kind !== 'value') continue;
      for (const item of slots[name] ?? []) addValue(statement, item, scopes, add);
    }
  }

  /** A single name that a unit gives is that of a material. */
  function addGiven(statement: Statement, add: Add): void {
    for (const item of statement.items) if (item.kind !== 'path') addValue(statement, item, plain, add);
  }

  function addValue(statement: Statement, item: Item, among: readonly Scope[], add: Add): void {
    if (!isExpression(item) || isPlain(item)) return;
    const values = among.flatMap((scope) => evaluate(item, statement, scope) ?? []);
    const text = values.length === among.length ? valueText(values) : undefined;
    if (text === undefined) return;
    const written = statement.text.slice(item.start, item.end);
    add('value', item.end, `= ${text}`, () => [`${spanned(written)} comes to ${text}.`]);
  }

  function valueText(values: readonly Value[]): string | undefined {
    const lengths = values.flatMap((v) => (v.kind === 'length' ? [v.ticks] : []));
    if (lengths.length === values.length) return spread(lengths);
    const amounts = values.flatMap((v) => (v.kind === 'number' ? [v] : []));
    const [first] = amounts;
    if (!first || amounts.length < values.length) return undefined;
    const [least, most] = [Math.min(...amounts.map((a) => a.amount)), Math.max(...amounts.map((a) => a.amount))];
    const one = (amount: number): string | undefined => {
      if (first.dimension === 'money') return money(Math.round(amount), currency);
      return first.dimension === 'count' ? String(Math.round(amount * 1000) / 1000) : undefined;
    };
    const [from, to] = [one(least), one(most)];
    return from === undefined || from === to ? from : `${from} to ${to}`;
  }

  function addDefaults(statement: Statement, add: Add): void {
    if (!unit?.info || !unit.given) return;
    for (const [name, value] of unit.info.defaults) {
      if (unit.given.statements.has(name)) continue;
      const { reading } = unit.info.parameters.get(name) as { reading: Reading };
      const written = reading.slots.default?.[0];
      const text = shownDefault(value) ?? (written && reading.statement.text.slice(written.start, written.end));
      if (text === undefined) continue;
      const template = calledInProject(unit.info.declared);
      add('default', statement.head.end, `${name} = ${text}`, () => [
        `The unit does not give \`${name}\`; the default of template \`${template}\` is taken.`,
      ]);
    }
  }

  function shownDefault(value: Value): string | undefined {
    if (value.kind === 'length') return showLength(value.ticks, show);
    return value.kind === 'name' ? calledInProject(value) : undefined;
  }

  function spread(lengths: readonly Ticks[]): string {
    return rangeText(lengths, show);
  }
}

type Add = (kind: HintKind, at: number, label: string, why: () => readonly string[]) => void;

function rangeText(lengths: readonly Ticks[], show: Show): string {
  return showRange(ticks(Math.min(...lengths)), ticks(Math.max(...lengths)), show);
}

/** Shows its value as it stands. */
function isPlain(e: Expression): boolean {
  if (e.kind === 'negation') return isPlain(e.operand);
  if (e.kind === 'group') return isPlain(e.inner);
  return e.kind === 'number' || e.kind === 'missing';
}

/** What came out of each statement, by that statement. */
interface Index {
  readonly widths: Map<Statement, ZoneLayout[]>;
  readonly heights: Map<Statement, FittingLayout[]>;
  readonly fittings: Map<Statement, FittingLayout[]>;
  readonly parts: Map<Statement, Part[]>;
  readonly paths: Map<string, Part[]>;
}

const kept = new WeakMap<Layout, Index>();

function indexOf(layout: Layout): Index {
  return memo(kept, layout, () => {
    const fittings = layout.zones.flatMap((z) => z.fittings);
    return {
      widths: Map.groupBy(layout.zones, (z) => z.widthPlace.statement),
      heights: Map.groupBy(
        // Those of a row are told together.
        fittings.filter((f) => f.kind !== 'panel' && !(f.kind === 'shelf' && f.inRow !== undefined)),
        (f) => f.atPlace.statement,
      ),
      fittings: Map.groupBy(fittings, (f) => f.place.statement),
      parts: Map.groupBy(layout.parts, (p) => p.place.statement),
      paths: Map.groupBy(layout.parts, (p) => p.path),
    };
  });
}
