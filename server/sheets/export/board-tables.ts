/** What the plan takes from the yard and the rack, and how each board is cut. */
import type { Planned } from '../../checks/analysis.ts';
import type { Origin } from '../../cutting/demand.ts';
import type { PlanRequest, StockLength } from '../../cutting/types.ts';
import type { Exported } from './exported.ts';
import { type Cell, type Column, type Table, tableOf } from './table.ts';

export const boardColumns: readonly Column[] = [
  { id: 'have', title: 'have', type: 'box' },
  { id: 'material', title: 'material', type: 'text' },
  { id: 'from', title: 'from', type: 'text' },
  { id: 'length', title: 'length', type: 'length' },
  { id: 'quantity', title: 'boards', type: 'count', total: true },
  { id: 'each', title: 'price of one', type: 'money' },
  { id: 'price', title: 'price', type: 'money', how: { kind: 'product', of: ['quantity', 'each'] }, total: true },
];

/**
 * Boards that the plan takes, and those to buy beyond what was counted where it does not hold the pieces: the cheapest
 * way that was found, or the least.
 */
export function boardsTable({ planned }: Pick<Exported, 'planned'>): Table {
  return tableOf('boards', 'Boards and rods', boardColumns, planned ? boardRows(planned) : []);
}

function* boardRows({ demand, plan, advice }: Planned): Generator<Record<string, Cell>> {
  const stock = byId(demand.request);
  const row = (material: string, id: string, length: number, quantity: number, from?: string): Record<string, Cell> => {
    const board = stock.get(id);
    return {
      have: false,
      material,
      from: from ?? (board?.offcut ? 'rack' : 'stock'),
      length,
      quantity,
      each: board?.offcut ? (board.price ?? 0) : board?.price,
    };
  };
  for (const { material, boards } of plan?.totals ?? [])
    for (const { stock: id, length, count } of boards) yield row(material, id, length, count);
  for (const { material, shortfall } of advice?.materials ?? []) {
    const purchases = shortfall?.purchases ?? [];
    const best = purchases.find(({ aims }) => aims.includes('cheapest')) ?? purchases[0];
    for (const { stock: id, length, count } of best?.boards ?? [])
      yield row(material, id, length, count, 'to buy beyond the count');
  }
}

export const planColumns: readonly Column[] = [
  { id: 'cut', title: 'cut', type: 'box' },
  { id: 'pattern', title: 'pattern', type: 'count' },
  { id: 'material', title: 'material', type: 'text' },
  { id: 'from', title: 'from', type: 'text' },
  { id: 'board', title: 'board', type: 'length' },
  { id: 'boards', title: 'boards cut this way', type: 'count' },
  { id: 'piece', title: 'piece', type: 'length' },
  { id: 'each', title: 'pieces a board', type: 'count' },
  {
    id: 'quantity',
    title: 'pieces',
    type: 'count',
    how: { kind: 'product', of: ['boards', 'each'] },
    total: true,
  },
  { id: 'left', title: 'left of a board', type: 'length' },
  { id: 'keep', title: 'keep', type: 'yes' },
  { id: 'for', title: 'for', type: 'text' },
];

/** A row for each kind of piece in each way to cut a board, in the order of the plan and of the cuts. */
export function planTable({ planned }: Pick<Exported, 'planned'>): Table {
  return tableOf('cutting-plan', 'Cutting plan', planColumns, planned ? planRows(planned) : []);
}

function* planRows({ demand, plan }: Planned): Generator<Record<string, Cell>> {
  const stock = byId(demand.request);
  for (const [index, pattern] of (plan?.patterns ?? []).entries()) {
    const board = stock.get(pattern.stock);
    for (const cut of [...pattern.cuts, ...(pattern.spares ?? [])]) {
      const origins = demand.origins.get(cut.piece);
      yield {
        cut: false,
        pattern: index + 1,
        material: pattern.material,
        from: board?.offcut ? 'rack' : 'stock',
        board: board?.length,
        boards: pattern.times,
        piece: cut.length,
        each: cut.quantity,
        left: pattern.offcut,
        keep: pattern.keep,
        for: origins ? originsText(origins) : `${cut.piece}, from what is left over`,
      };
    }
  }
}

function byId({ stock }: PlanRequest): Map<string, StockLength> {
  return new Map(stock.map((board) => [board.id, board]));
}

const mostNamed = 3;

/** `coats.top in A-101-bedroom and 11 like it; main.top in A-101-linen`. */
function originsText(origins: readonly Origin[]): string {
  const named = origins
    .slice(0, mostNamed)
    .map(({ path, unit }) => (path === unit ? unit : `${path} in ${unit}`))
    .join('; ');
  const more = origins.length - mostNamed;
  return more > 0 ? `${named}; and in ${more} other places` : named;
}
