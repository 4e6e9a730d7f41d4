/** The second half of the verifier: a plan's totals and its bound. */

import type { MaterialTotals, Pattern, StockLength } from './types.ts';
import { type Case, total } from './verify-case.ts';

/** Every material of which boards are taken has its totals, and they add up. */
export function checkTotals(examined: Case): void {
  const { plan, report } = examined;
  const materials = new Set(plan.patterns.map((pattern) => pattern.material));
  for (const material of materials) {
    const stated = plan.totals.filter((entry) => entry.material === material);
    if (stated.length !== 1) report('totals', `material ${material}`, `it has ${stated.length} entries, not one`);
  }
  for (const stated of plan.totals) {
    if (materials.has(stated.material)) checkMaterialTotals(examined, stated);
    else report('totals', `material ${stated.material}`, 'no board of it is taken');
  }
}

function checkMaterialTotals(examined: Case, stated: MaterialTotals): void {
  const { request, plan, taken, report } = examined;
  const where = `material ${stated.material}`;
  const stock = request.stock.filter((board) => board.material === stated.material);
  const patterns = plan.patterns.filter((pattern) => pattern.material === stated.material);
  const same = (found: number | undefined, expected: bigint | undefined, what: string) => {
    if (String(found) !== String(expected)) report('totals', where, `${what}: ${expected}, not ${found}`);
  };
  const overBoards = (figure: (pattern: Pattern) => bigint) => total(patterns, (p) => figure(p) * BigInt(p.times));
  const overStock = (figure: (board: StockLength) => bigint) =>
    total(stock, (board) => figure(board) * (taken.get(board.id) ?? 0n));

  const listed = new Map(stated.boards.map((entry) => [entry.stock, entry]));
  if (listed.size !== stated.boards.length) report('totals', where, 'a stock is listed twice');
  for (const { stock: id } of stated.boards) {
    if (!stock.some((board) => board.id === id)) report('totals', where, `stock "${id}" is not of this material`);
  }
  for (const board of stock) {
    const count = taken.get(board.id) ?? 0n;
    const entry = listed.get(board.id);
    if (count > 0n || entry) same(entry?.count, count === 0n ? undefined : count, `boards of stock "${board.id}"`);
    if (entry) same(entry.length, BigInt(board.length), `the length of stock "${board.id}"`);
  }

  const priced = isPriced(stock);
  const bought = overStock((board) => (board.offcut ? 0n : BigInt(board.length)));
  const price = overStock((board) => BigInt(board.price ?? 0));
  same(
    stated.boardCount,
    overBoards(() => 1n),
    'boards',
  );
  same(
    stated.pieceCount,
    overBoards((p) => total(p.cuts, (cut) => BigInt(cut.quantity))),
    'pieces',
  );
  same(stated.price, priced ? price : undefined, 'price');
  same(stated.boughtLength, bought, 'length bought');
  same(
    stated.stockLength,
    overStock((board) => BigInt(board.length)),
    'length of boards',
  );
  same(
    stated.usedLength,
    overBoards((p) => BigInt(p.used)),
    'length used',
  );
  same(
    stated.trimLoss,
    overBoards(() => 2n * BigInt(request.saw.trim ?? 0)),
    'loss to trims',
  );
  same(
    stated.kerfLoss,
    overBoards((p) => BigInt(p.kerfLoss)),
    'loss to the kerf',
  );
  same(
    stated.keptCount,
    overBoards((p) => (p.keep ? 1n : 0n)),
    'offcuts kept',
  );
  same(
    stated.keptLength,
    overBoards((p) => (p.keep ? BigInt(p.offcut) : 0n)),
    'length of offcuts kept',
  );
  same(
    stated.waste,
    overBoards((p) => (p.keep ? 0n : BigInt(p.offcut))),
    'waste',
  );
  checkBound(examined, patterns, stock, stated, priced ? price : bought);
}

/** The bound must follow from the lengths, by the argument that it names, and be no more than the plan itself. */
function checkBound(
  { request, report }: Case,
  patterns: readonly Pattern[],
  stock: readonly StockLength[],
  { material, bound, boardCount }: MaterialTotals,
  cost: bigint,
): void {
  const where = `material ${material}`;
  const priced = isPriced(stock);
  const measure = priced ? 'price' : 'length';
  if (bound.measure !== measure) report('bound', where, `plans are judged by ${measure}, not by ${bound.measure}`);
  if (bound.proof !== 'length') report('bound', where, `the proof "${bound.proof}" is not known`);

  const kerf = BigInt(request.saw.kerf);
  const trims = 2n * BigInt(request.saw.trim ?? 0);
  const cuts = patterns.flatMap((pattern) => pattern.cuts);
  const shortest = cuts.reduce((least, cut) => Math.min(least, cut.length), Infinity);
  const need = total(patterns, (pattern) => {
    const board = total(pattern.cuts, (cut) => (BigInt(cut.length) + kerf) * BigInt(cut.quantity));
    return board * BigInt(pattern.times);
  });
  const rows = stock.map((board) => ({
    room: BigInt(board.length) - trims + kerf,
    price: priced ? BigInt(board.price ?? 0) : board.offcut ? 0n : BigInt(board.length),
    count: board.count,
  }));
  const useful = rows.filter((row) => row.room - kerf >= BigInt(shortest));
  // Whole boards come to a multiple of whatever divides all their prices.
  let step = 0n;
  for (const row of useful) for (let price = row.price; price !== 0n; ) [step, price] = [price, step % price];
  const parts = proportionalCost(useful, need);
  const provable = {
    cost: step === 0n ? parts : parts + ((step - (parts % step)) % step),
    boards: proportionalCost(
      useful.map((row) => ({ ...row, price: 1n })),
      need,
    ),
  };
  for (const figure of ['cost', 'boards'] as const) {
    const reached = figure === 'cost' ? cost : BigInt(boardCount);
    const claimed = bound[figure];
    if (!Number.isSafeInteger(claimed)) report('bound', where, `${figure} at least ${claimed} is not a whole number`);
    else if (BigInt(claimed) > provable[figure]) report('bound', where, `${figure} at least ${claimed} is not proven`);
    else if (BigInt(claimed) > reached)
      report('bound', where, `${figure} at least ${claimed}, but the plan takes ${reached}`);
  }
}

/** The least price, rounded up, of `need` ticks of room when rows may be bought in parts, cheapest first. */
function proportionalCost(
  rows: readonly { room: bigint; price: bigint; count: number | undefined }[],
  need: bigint,
): bigint {
  const cheapest = [...rows].sort((a, b) => Number(a.price * b.room - b.price * a.room));
  let price = 0n;
  let open = need;
  for (const row of cheapest) {
    const held = row.count === undefined ? open : BigInt(row.count) * row.room;
    const part = held < open ? held : open;
    // Only the last row is taken in part, so only there can the division leave a remainder.
    price += (part * row.price + row.room - 1n) / row.room;
    open -= part;
    if (open === 0n) break;
  }
  return price;
}

function isPriced(stock: readonly StockLength[]): boolean {
  const bought = stock.filter((board) => !board.offcut);
  return stock.some((board) => board.price !== undefined) && bought.every((board) => board.price !== undefined);
}
