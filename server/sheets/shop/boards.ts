/**
 * The boards of a cutting plan one by one: each has a number that it keeps through the project, written on it in chalk,
 * and each piece of it a number in the order of cutting and a part that it is for. Equal pieces are handed out to units
 * in their order, so that what belongs together comes from neighbouring boards.
 */
import { boardWord } from '../../checks/stock-purchase.ts';
import type { Demand, Origin } from '../../cutting/demand.ts';
import type { Cut, Pattern, Plan, StockLength, Uncut } from '../../cutting/types.ts';
import type { Unit } from '../../model/project.ts';
import { NONE, type Ticks, ticks } from '../../model/ticks.ts';

/** The part that a piece becomes. */
export interface PieceUse {
  /** Name of the unit, or of the loose parts. */
  readonly unit: string;
  /** Path of the fitting; the name of the loose parts once more. */
  readonly path: string;
  /** From 1, where there are several units of this name, or several loose parts. */
  readonly copy: number;
  readonly of: number;
  readonly isLoose: boolean;
}

export interface BoardPiece {
  /** From 1, in the order of cutting. */
  readonly number: number;
  /** Its left end, from the left end of the board as it comes. */
  readonly from: Ticks;
  readonly length: Ticks;
  /** What a spare, or a length of a plain list, is for is not known. */
  readonly use: PieceUse | undefined;
  /** Name of the spare that it is. */
  readonly spare: string | undefined;
  /** Name of the matched set that it is of. */
  readonly matched: string | undefined;
}

export interface CutBoard {
  /** Unlike that of any other board or rod of the project, from 1. */
  readonly number: number;
  readonly material: string;
  readonly kind: 'board' | 'rod';
  readonly stock: StockLength;
  readonly pattern: Pattern;
  /** What each end loses. */
  readonly trim: Ticks;
  readonly kerf: Ticks;
  readonly pieces: readonly BoardPiece[];
}

/** Where a part comes from. */
export interface Slot {
  readonly board: CutBoard;
  readonly piece: number;
}

export interface Boards {
  /** In the order of the plan: by material, and patterns as they are cut. */
  readonly boards: readonly CutBoard[];
  readonly uncut: readonly Uncut[];
  /** One for each unit of the name that is cut; none where it is not planned. */
  readonly slotsOf: (unit: string, path: string) => readonly Slot[];
  /** Materials that no stock is declared for. */
  readonly withoutStock: ReadonlySet<string>;
}

interface Asked {
  readonly demand: Demand;
  readonly plan: Plan | undefined;
}

/** `units` in the order in which they are built. */
export function boardsOf({ demand, plan }: Asked, units: Iterable<Unit>): Boards {
  const stock = new Map(demand.request.stock.map((board) => [board.id, board]));
  const queues = queuesOf(demand, units);
  const { kerf, trim = 0 } = demand.request.saw;
  const boards: CutBoard[] = [];
  const slots = new Map<string, Slot[]>();
  for (const pattern of plan?.patterns ?? []) {
    const length = stock.get(pattern.stock);
    if (!length) continue;
    for (let time = 0; time < pattern.times; time++) {
      const pieces: BoardPiece[] = [];
      const board: CutBoard = {
        number: boards.length + 1,
        material: pattern.material,
        kind: boardWord(pattern.material, demand) === 'rod' ? 'rod' : 'board',
        stock: length,
        pattern,
        trim: ticks(trim),
        kerf: ticks(kerf),
        pieces,
      };
      let at: number = trim;
      for (const cut of singly(pattern)) {
        const use = cut.isSpare ? undefined : queues.take(cut);
        const matched = cut.set === undefined ? undefined : (demand.matched.get(cut.set)?.name ?? cut.set);
        const spare = cut.isSpare ? cut.piece : undefined;
        pieces.push({ number: pieces.length + 1, from: ticks(at), length: cut.length, use, spare, matched });
        at += cut.length + kerf;
        if (!use) continue;
        const key = keyOf(use.unit, use.path);
        const known = slots.get(key);
        const slot = { board, piece: pieces.length };
        if (known) known.push(slot);
        else slots.set(key, [slot]);
      }
      boards.push(board);
    }
  }
  const stocked = new Set(demand.request.stock.map(({ material }) => material));
  return {
    boards,
    uncut: plan?.uncut ?? [],
    slotsOf: (unit, path) => slots.get(keyOf(unit, path)) ?? [],
    withoutStock: new Set(demand.request.pieces.map(({ material }) => material).filter((name) => !stocked.has(name))),
  };
}

function keyOf(unit: string, path: string): string {
  return `${unit}\n${path}`;
}

/** Piece by piece, spares last. */
function* singly({ cuts, spares = [] }: Pattern): Generator<Cut & { readonly isSpare: boolean }> {
  for (const cut of cuts) for (let i = 0; i < cut.quantity; i++) yield { ...cut, isSpare: false };
  for (const cut of spares) for (let i = 0; i < cut.quantity; i++) yield { ...cut, isSpare: true };
}

/** Parts that wait for pieces, by piece; those of matched sets one set after the other. */
interface Queues {
  readonly take: (cut: Cut) => PieceUse | undefined;
}

function queuesOf(demand: Demand, units: Iterable<Unit>): Queues {
  const order = new Map<string, { readonly at: number; readonly count: number }>();
  for (const { name, count } of units) order.set(name, { at: order.size, count });
  const { sets = [] } = demand.request;
  const inSets = new Set(sets.flatMap(({ runs }) => runs.map(({ piece }) => piece)));
  const queues = new Map<string, PieceUse[]>();
  for (const [id, origins] of demand.origins) {
    const set = sets.find((one) => one.id === id);
    if (inSets.has(id)) continue;
    const groups = set ? together(set, origins, demand) : origins.map((origin) => [{ origin, each: 1 }]);
    const waiting = groups.flatMap((members) => waitingFor(members, order));
    waiting.sort((a, b) => a.at - b.at);
    queues.set(
      id,
      // The last one is the next.
      waiting.flatMap(({ uses }) => uses).reverse(),
    );
  }
  return { take: ({ piece, set }) => queues.get(set ?? piece)?.pop() };
}

interface Member {
  readonly origin: Origin;
  /** How many of it one after another. */
  readonly each: number;
}

/** The parts of each matched set, in their order: together they are as many as its runs say. */
function together(
  { runs }: { readonly runs: readonly { readonly quantity: number; readonly piece: string }[] },
  origins: readonly Origin[],
  demand: Demand,
): Member[][] {
  const many = runs.reduce((sum, { quantity }) => sum + quantity, 0);
  const pieces = new Set(runs.map(({ piece }) => piece));
  const eachOf = (origin: Origin): number => {
    for (const piece of pieces)
      for (const own of demand.origins.get(piece) ?? [])
        if (own.place === origin.place && own.unit === origin.unit && own.path === origin.path)
          return Math.max(1, Math.round(own.quantity / Math.max(1, origin.quantity)));
    return 1;
  };
  const groups: Member[][] = [];
  let group: Member[] = [];
  let held = 0;
  for (const origin of origins) {
    const each = eachOf(origin);
    group.push({ origin, each });
    held += each;
    if (held < many) continue;
    groups.push(group);
    [group, held] = [[], 0];
  }
  return group.length > 0 ? [...groups, group] : groups;
}

/** Every unit that the members speak of, with the parts that it waits for; units in no order. */
function waitingFor(
  members: readonly Member[],
  order: ReadonlyMap<string, { readonly at: number; readonly count: number }>,
): { readonly at: number; readonly uses: readonly PieceUse[] }[] {
  const [first] = members;
  if (!first) return [];
  const { units, quantity } = first.origin;
  const counted = units.reduce((sum, name) => sum + (order.get(name)?.count ?? 0), 0);
  // What is no unit, or only named like one, is loose.
  const isLoose = counted !== quantity || (units.length === 1 && first.origin.path === units[0]);
  if (isLoose)
    return [
      {
        at: order.size,
        uses: Array.from({ length: quantity }, (_, copy) =>
          members.flatMap(({ origin, each }) =>
            Array.from({ length: each }, (_, i): PieceUse => {
              const own = { unit: origin.unit, path: origin.path, isLoose: true };
              return { ...own, copy: copy * each + i + 1, of: quantity * each };
            }),
          ),
        ).flat(),
      },
    ];
  return units.flatMap((name) => {
    const { at, count } = order.get(name) ?? { at: order.size, count: 0 };
    return Array.from({ length: count }, (_, copy) => ({
      at,
      uses: members.map(({ origin }): PieceUse => {
        return { unit: name, path: origin.path, copy: copy + 1, of: count, isLoose: false };
      }),
    }));
  });
}

/** What of a board no piece takes, beside the trims and what the saw takes. */
export function offcutOf({ pattern }: CutBoard): { readonly length: Ticks; readonly keep: boolean } {
  return { length: pattern.offcut, keep: pattern.keep };
}

/** What the cut behind each piece takes: the last one only as much as is left. */
export function kerfsOf({ pieces, kerf, pattern }: CutBoard): Ticks[] {
  let left: number = pattern.kerfLoss;
  return pieces.map(() => {
    const own = Math.min(kerf, left);
    left -= own;
    return own <= 0 ? NONE : ticks(own);
  });
}

/** `board 12, piece 3`; of several units `boards 12, 14 and 2 more`. */
export function slotsText(slots: readonly Slot[], most = 4): string {
  const [first] = slots;
  if (!first) return '';
  if (slots.length === 1) return `${first.board.kind} ${first.board.number}, piece ${first.piece}`;
  const named = slots.slice(0, most).map(({ board, piece }) => `${board.number} (piece ${piece})`);
  const more = slots.length > most ? ` and ${slots.length - most} more` : '';
  return `${first.board.kind}s ${named.join(', ')}${more}`;
}
