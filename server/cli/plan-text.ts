/** A cutting plan as it is read at the yard and at the saw. */
import type { Planned } from '../checks/analysis.ts';
import { boardWord } from '../checks/stock-purchase.ts';
import type { Demand } from '../cutting/demand.ts';
import { overLimits } from '../cutting/patterns/figures.ts';
import { sparesCut } from '../cutting/spares.ts';
import { judgedBy } from '../cutting/totals.ts';
import type { Cut, MaterialTotals, Pattern, Plan, SawLimits, Spare, StockLength, Uncut } from '../cutting/types.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { showLength, showRange } from '../model/show.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { boardDrawing } from '../sheets/board-drawing.ts';
import { tableLines } from '../sheets/text-table.ts';
import { offcutsKept } from './json-plan.ts';
import { shortfallTexts, waitingText } from './shortfall-text.ts';
import { type Paint, plain } from './style.ts';
import { counted, grouped, listed, money, printable } from './words.ts';

/** What the sections of a plan share. */
interface View {
  readonly settings: ProjectSettings;
  readonly paint: Paint;
  readonly stock: ReadonlyMap<string, StockLength>;
  readonly limits: SawLimits | undefined;
  readonly shown: (length: Ticks) => string;
  /** How many runs a matched set has, by its id. */
  readonly runs: ReadonlyMap<string, number>;
  /** `board`, or `rod` for what is declared as one. */
  readonly kindOf: (material: string) => string;
}

/** A section for each material, then what is not cut. With a line end at its end. */
export function planText({ plan, demand, advice }: Planned, settings: ProjectSettings, paint: Paint = plain): string {
  if (!plan) return `${demand.request.pieces.length === 0 ? 'Nothing is to be cut.' : noPlan}\n`;
  const view: View = {
    settings,
    paint,
    stock: new Map(demand.request.stock.map((board) => [board.id, board])),
    runs: new Map(demand.request.sets?.map((set) => [set.id, set.runs.length])),
    limits: demand.request.limits,
    shown: (length) => showLength(length, settings.show),
    kindOf: (material) => boardWord(material, demand),
  };
  const sections = plan.totals.map((totals) =>
    sectionOf(
      totals,
      plan.patterns.filter(({ material }) => material === totals.material),
      view,
    ),
  );
  if (demand.request.spares) sections.push(sparesSection(demand.request.spares, plan, view));
  if (plan.uncut.length > 0) sections.push(notCut(plan.uncut, demand, view));
  sections.push(...shortfallTexts(advice, demand, settings, paint));
  const text = sections.join('\n\n');
  const rounded = text.includes('~') ? '\n\n~ stands before a length that is finer than what is shown.' : '';
  return `${text}${rounded}\n`;
}

const noPlan = 'No plan is made: more is asked for than can be added up exactly.';

function sectionOf(totals: MaterialTotals, patterns: readonly Pattern[], view: View): string {
  const { settings, paint, kindOf } = view;
  const kind = kindOf(totals.material);
  const { price: paid, keptValue, takenValue } = totals;
  const less =
    keptValue || takenValue ? `, ${money(judgedBy(totals), settings.currency)} with what offcuts are worth` : '';
  const price = paid === undefined ? '' : `, ${money(paid, settings.currency)}${less}`;
  const heading = `${printable(totals.material)}: ${counted(totals.pieceCount, 'part')} from ${counted(totals.boardCount, kind)}${price}`;
  return [
    paint('bold', heading),
    '',
    ...taken(totals, kind, view),
    '',
    ...patternLines(patterns, kind, view),
    '',
    ...drawings(patterns, view),
    '',
    ...remarks(totals, patterns, kind, view).map((line) => `  ${line}`),
  ].join('\n');
}

/** What to take from the rack and what to buy. */
function taken({ boards }: MaterialTotals, kind: string, { stock, shown, settings }: View): string[] {
  return tableLines(
    [
      { title: `  ${kind}s`, align: 'right' },
      { title: 'of', align: 'right' },
      { title: '', align: 'left' },
      { title: 'each', align: 'right' },
      { title: 'in all', align: 'right' },
    ],
    boards.map(({ stock: id, length, count }) => {
      const { price, offcut } = stock.get(id) ?? {};
      // What lies on the rack has mostly been paid for.
      const cost = (many: number): string => (price ? money(price * many, settings.currency) : '');
      return [String(count), shown(length), offcut ? 'on the rack' : 'to buy', cost(1), cost(count)];
    }),
  );
}

function patternLines(patterns: readonly Pattern[], kind: string, view: View): string[] {
  const { stock, shown } = view;
  return tableLines(
    [
      { title: '  times', align: 'right' },
      { title: kind, align: 'right' },
      { title: 'cut, the longest first', align: 'left' },
      { title: 'left over', align: 'right' },
      { title: '', align: 'left' },
    ],
    patterns.map(({ stock: id, times, cuts, spares, offcut, keep }) => [
      String(times),
      shown(stock.get(id)?.length ?? ticks(0)),
      cutsText(cuts, view) + (spares ? `; spare ${alikeText(spares, shown)}` : ''),
      shown(offcut),
      keep ? 'keep' : '',
    ]),
  );
}

/** `2 x 30in, [15in + 30in]`: what stands in brackets is one matched set. */
function cutsText(cuts: readonly Cut[], { shown, runs }: View): string {
  const parts: string[] = [];
  for (let at = 0; at < cuts.length; ) {
    const { set } = cuts[at] as Cut;
    const many = set === undefined ? 1 : (runs.get(set) ?? 1);
    const own = cuts
      .slice(at, at + many)
      .map(({ length, quantity }) => (quantity === 1 ? shown(length) : `${quantity} x ${shown(length)}`));
    parts.push(set === undefined ? own.join('') : `[${own.join(' + ')}]`);
    at += many;
  }
  return parts.join(', ');
}

/** `2 x 22-1/2in, 18in`; of one length in one go, whatever the pieces are for. */
function alikeText(cuts: readonly Pick<Cut, 'length' | 'quantity'>[], shown: View['shown']): string {
  return [...Map.groupBy(cuts, ({ length }) => length)]
    .map(([length, alike]) => {
      const quantity = alike.reduce((sum, cut) => sum + cut.quantity, 0);
      return quantity === 1 ? shown(length) : `${quantity} x ${shown(length)}`;
    })
    .join(', ');
}

/** Columns of a drawn board, its number of boards before it. */
const drawnWidth = 72;

/** Each pattern drawn to scale, in the order of the table. */
function drawings(patterns: readonly Pattern[], { stock, shown }: View): string[] {
  const times = patterns.map((pattern) => `${pattern.times} x ${shown(stock.get(pattern.stock)?.length ?? ticks(0))}`);
  const most = Math.max(0, ...times.map((text) => text.length));
  return patterns.map(({ cuts, spares = [], offcut, keep }, i) => {
    const pieces = [...cuts, ...spares].flatMap(({ length, quantity }) =>
      Array.from({ length: Math.min(quantity, drawnWidth) }, () => ({ length, label: shown(length) })),
    );
    const left = { length: offcut, label: `${shown(offcut)} keep`, keep };
    return `  ${(times[i] as string).padStart(most)}  ${boardDrawing(pieces, left, drawnWidth)}`;
  });
}

function remarks(totals: MaterialTotals, patterns: readonly Pattern[], kind: string, view: View): string[] {
  const { shown } = view;
  const { usedLength, stockLength, kerfLoss, trimLoss, waste } = totals;
  const trims = trimLoss > 0 ? ` and ${shown(trimLoss)} are trimmed off the ends` : '';
  const wasted =
    waste > 0 ? `${shown(waste)} is waste (${percent(waste, stockLength)} of the stock)` : 'nothing is waste';
  const kept = offcutsKept(patterns).map(({ length, count }) => `${count} x ${shown(length)}`);
  const matched = patterns.some(({ cuts }) => cuts.some(({ set }) => set !== undefined))
    ? ['What stands in [ ] is a matched set: cut its parts one after another, in this order.']
    : [];
  return [
    ...matched,
    `${totals.spareCount ? 'The parts and spares' : 'The parts'} come to ${shown(usedLength)}; the saw takes ${shown(kerfLoss)}${trims}; ${wasted}.`,
    ...sawWork(totals, view),
    kept.length > 0 ? `Back to the rack: ${listed(kept)}.` : 'No offcut is long enough to keep.',
    ...worthLines(totals, view),
    ...bounds(totals, kind, view),
  ];
}

function worthLines(totals: MaterialTotals, { settings }: View): string[] {
  const { price = 0, keptValue, takenValue = 0 } = totals;
  if (keptValue === undefined) return [];
  const amount = (hundredths: number): string => money(hundredths, settings.currency);
  const taken = takenValue > 0 ? ` and the offcuts taken from the rack, worth ${amount(takenValue)} there,` : '';
  const [kept, comes] = [amount(keptValue), amount(judgedBy(totals))];
  return [
    `The total of ${amount(price)}${taken} less what the kept offcuts are worth, ${kept}: the plan is judged by ${comes}.`,
  ];
}

/** How many ways to cut there are, how often the stop is set, and which limit could not be kept to. */
function sawWork(totals: MaterialTotals, { limits }: View): string[] {
  const { patternCount, stopSettings, before } = totals;
  const times = (count: number): string => (count === 1 ? 'once' : `${grouped(count)} times`);
  const first = before
    ? ` (${counted(before.patternCount, 'pattern')} and ${times(before.stopSettings)} in the first plan of this cost)`
    : '';
  const over = overLimits(totals, limits).map(({ of, limit, reached }) => {
    const allowed = counted(limit, of === 'patterns' ? 'pattern' : 'setting of the stop', allowedMany[of]);
    return `The limit of ${allowed} is not kept to: ${grouped(reached)} ${reached === 1 ? 'is' : 'are'} the fewest found at this cost.`;
  });
  return [
    `${counted(patternCount, 'pattern')}; the saw's stop is set ${times(stopSettings)} in this order, alike boards together${first}.`,
    ...over,
  ];
}

const allowedMany = { patterns: 'patterns', stopSettings: 'settings of the stop' } as const;

/** What is behind a bound, in so many words. */
const proven = {
  length: ', proven by adding up lengths',
  dual: ', proven in whole numbers that storypole plan --verify works out again',
  search: ', found by ruling out every other way to cut',
} as const;

/** How far from the best the plan can be at most. */
function bounds(totals: MaterialTotals, kind: string, view: View): string[] {
  const { bound, boardCount, price, boughtLength, keptValue } = totals;
  const by = bound.proof === 'length' ? ' by total length' : '';
  const least = `At least ${counted(bound.boards, kind)} ${bound.boards === 1 ? 'is' : 'are'} needed${by}`;
  const fewest =
    boardCount <= bound.boards
      ? `${least}, and this plan uses no more.`
      : `${least}; this plan uses ${grouped(boardCount)}.`;
  const inMoney = bound.measure === 'price';
  const spent = inMoney ? price && judgedBy(totals) : boughtLength;
  if (spent === undefined || spent === 0) return [fewest];
  const amount = inMoney ? money(bound.cost, view.settings.currency) : view.shown(ticks(bound.cost));
  const what = inMoney ? (keptValue === undefined ? 'costs' : 'comes to') : 'buys';
  if (spent <= bound.cost) return [fewest, `No plan for these parts ${what} less${proven[bound.proof]}.`];
  const over = bound.cost > 0 ? `: this one is at most ${percent(spent - bound.cost, bound.cost)} above the best` : '';
  // Spares can come out of offcuts that would have been worth something; they themselves are given no value.
  const spares =
    keptValue !== undefined && totals.spareCount
      ? ' The spares count for nothing in this, though some may be cut from what would be kept without them.'
      : '';
  return [fewest, `No plan for these parts ${what} less than ${amount}${proven[bound.proof]}${over}.${spares}`];
}

function percent(part: number, whole: number): string {
  // Rounded up, so that "at most" stays true.
  return `${(Math.ceil((part / whole) * 1000) / 10).toFixed(1)} %`;
}

/** What was wanted of what is left over, what came of it, and what found no room. */
function sparesSection(spares: readonly Spare[], plan: Plan, { shown, settings, paint }: View): string {
  const cut = sparesCut(plan);
  const lines = spares.map(({ id, quantity, least, most, material }) => {
    const lengths = plan.patterns.flatMap(({ spares: own = [], times }) =>
      own.flatMap(({ piece, length, quantity: each }) => (piece === id ? [{ length, quantity: each * times }] : [])),
    );
    const found = cut.get(id) ?? 0;
    const missing = quantity - found;
    const told =
      found === 0
        ? 'none'
        : alikeText(
            lengths.toSorted((a, b) => b.length - a.length),
            shown,
          );
    return [
      String(found),
      String(quantity),
      showRange(least, most, settings.show),
      printable(material),
      printable(id),
      told,
      missing > 0 ? `${missing} found no room` : '',
    ];
  });
  return [
    paint('bold', 'Spares from what is left over'),
    '',
    ...tableLines(
      [
        { title: '  cut', align: 'right' },
        { title: 'wanted', align: 'right' },
        { title: 'of', align: 'right' },
        { title: 'material', align: 'left' },
        { title: 'for', align: 'left' },
        { title: 'lengths', align: 'left' },
        { title: '', align: 'left' },
      ],
      lines,
    ),
  ].join('\n');
}

function notCut(uncut: readonly Uncut[], demand: Demand, { shown, paint }: View): string {
  const isFor = uncut.some(({ piece }) => demand.origins.has(piece));
  return [
    paint('bold', 'Not cut'),
    '',
    ...tableLines(
      [
        { title: '  pieces', align: 'right' },
        { title: 'of', align: 'right' },
        { title: 'material', align: 'left' },
        { title: 'why', align: 'left' },
        { title: isFor ? 'waits for it' : '', align: 'left' },
      ],
      uncut.map(({ piece, quantity, length, material, reason }) => [
        String(quantity),
        shown(length),
        printable(material),
        reason,
        waitingText(piece, quantity, demand),
      ]),
    ),
  ].join('\n');
}
