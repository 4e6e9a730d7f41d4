/** The second part of the verifier: a plan's totals. */

import type { MaterialTotals, Pattern, StockLength } from './types.ts';
import { checkBound, isPriced } from './verify-bound.ts';
import { type Case, lossOnRack, statedWorth, total, worthOfOffcut } from './verify-case.ts';

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
  const spares = overBoards((p) => total(p.spares ?? [], (cut) => BigInt(cut.quantity)));
  same(stated.spareCount, spares === 0n ? undefined : spares, 'spares');
  const { ways, settings } = sawWork(patterns);
  same(stated.patternCount, ways, 'different patterns');
  same(stated.stopSettings, settings, 'settings of the stop');
  // What was before is not in the plan; that it was not better is all that can be said of it.
  const { before } = stated;
  const isCount = (figure: number) => Number.isSafeInteger(figure) && figure > 0;
  if (before && !(isCount(before.stopSettings) && isCount(before.patternCount) && before.patternCount >= ways)) {
    report('totals', where, `there were ${before.patternCount} different patterns before, fewer than there are now`);
  }
  same(stated.price, priced ? price : undefined, 'price');
  const worth = statedWorth(examined, stated.material);
  const kept = overBoards((p) => worthOfOffcut(examined, worth, BigInt(p.offcut)));
  const lost = overStock((board) => lossOnRack(examined, worth, board));
  same(stated.keptValue, worth && kept, 'value of offcuts kept');
  same(stated.takenValue, worth && lost, 'value of offcuts taken from the rack');
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
  checkBound(examined, patterns, stock, stated, priced ? price + lost - kept : bought);
}

/**
 * Different patterns, and how often the stop is set: once for each length of a pattern, unless it stands there,
 * or the pattern before gives just the same.
 */
function sawWork(patterns: readonly Pattern[]): { readonly ways: bigint; readonly settings: bigint } {
  const ways = new Set<string>();
  let settings = 0n;
  let stop: number | undefined;
  let before = '';
  for (const { stock, cuts } of patterns) {
    // Cuts of one length that follow each other; a matched set is cut in its own order and may come back to a length.
    const runs: { readonly length: number; count: bigint }[] = [];
    for (const { length, quantity } of cuts) {
      const last = runs.at(-1);
      if (last?.length === length) last.count += BigInt(quantity);
      else runs.push({ length, count: BigInt(quantity) });
    }
    const gives = runs.map(({ length, count }) => `${count} x ${length}`).join(', ');
    ways.add(JSON.stringify([stock, gives]));
    if (gives !== before) {
      for (const { length } of runs) {
        if (length !== stop) settings += 1n;
        stop = length;
      }
    }
    before = gives;
  }
  return { ways: BigInt(ways.size), settings };
}
