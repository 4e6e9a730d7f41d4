/**
 * Checks a plan against what was asked for, by its own arithmetic: it shares no code with any planner,
 * so that a mistake there is not repeated here. Whole numbers of any size (BigInt) throughout.
 */

import type { Cut, Pattern, Plan, PlanRequest, Uncut, UncutReason } from './types.ts';
import { type Case, caseOf, lengthOfSet, stretchesOf, total, type Violation } from './verify-case.ts';
import { checkSpareCut, checkSpares } from './verify-spares.ts';
import { checkTotals } from './verify-totals.ts';

export type { Violation, ViolationRule } from './verify-case.ts';

/** All that is wrong with a plan; empty when it holds. The request must be free of flaws (see request.ts). */
export function verify(request: PlanRequest, plan: Plan): readonly Violation[] {
  const examined = caseOf(request, plan);
  const { violations, report } = examined;
  if (plan.version !== 1) report('version', 'plan', `version ${plan.version} is not known`);
  checkWhole(examined);
  // Sums of what is not whole mean nothing.
  if (violations.length > 0) return violations;

  plan.patterns.forEach((pattern, index) => {
    checkPattern(examined, pattern, `pattern ${index + 1}`);
  });
  checkStockCounts(examined);
  checkPieces(examined);
  checkUncutSets(examined);
  checkSpares(examined);
  plan.uncut.forEach((uncut, index) => {
    checkUncut(examined, uncut, `uncut ${index + 1}`);
  });
  // Figures of boards that do not exist cannot be added up.
  if (!violations.some(({ rule }) => rule === 'unknown stock')) checkTotals(examined);
  return violations;
}

function checkWhole({ plan: { patterns, uncut }, report }: Case): void {
  const whole = (value: number, least: number, where: string, what: string) => {
    if (!Number.isSafeInteger(value) || value < least) report('not a whole number', where, `${what} is ${value}`);
  };
  patterns.forEach(({ times, cuts, spares = [], used, kerfLoss, offcut }, index) => {
    const where = `pattern ${index + 1}`;
    whole(times, 1, where, 'times');
    whole(cuts.length, 1, where, 'the number of cuts');
    for (const figure of [used, kerfLoss, offcut]) whole(figure, 0, where, 'a length');
    for (const { piece, length, quantity } of [...cuts, ...spares]) {
      whole(length, 1, where, `the length of "${piece}"`);
      whole(quantity, 1, where, `the quantity of "${piece}"`);
    }
  });
  for (const { piece, length, quantity } of uncut) {
    whole(length, 1, `piece "${piece}"`, 'its uncut length');
    whole(quantity, 1, `piece "${piece}"`, 'its uncut quantity');
  }
}

function checkPattern(examined: Case, pattern: Pattern, where: string): void {
  const { request, report } = examined;
  const stock = examined.stock.get(pattern.stock);
  if (!stock) {
    report('unknown stock', where, `there is no stock "${pattern.stock}"`);
    return;
  }
  if (pattern.material !== stock.material) {
    report('material differs', where, `stock "${stock.id}" is ${stock.material}, not ${pattern.material}`);
  }
  pattern.cuts.forEach((cut) => {
    checkCut(examined, cut, stock.material, where);
  });
  const stretches = stretchesOf(examined, pattern.cuts, (message) => {
    report('matched set torn', where, message);
  });
  stretches.forEach(({ length }, index) => {
    const before = stretches[index - 1];
    if (before && before.length < length) report('order of cuts', where, 'a longer piece is cut after a shorter one');
  });

  const spares = pattern.spares ?? [];
  for (const cut of spares) checkSpareCut(examined, cut, stock.material, where);
  const all = [...pattern.cuts, ...spares];
  const kerf = BigInt(request.saw.kerf);
  const room = BigInt(stock.length) - 2n * BigInt(request.saw.trim ?? 0);
  const used = total(all, (cut) => BigInt(cut.length) * BigInt(cut.quantity));
  const pieces = total(all, (cut) => BigInt(cut.quantity));
  const needed = used + (pieces - 1n) * kerf;
  if (needed > room) {
    report('board overfull', where, `pieces and the cuts between them come to ${needed} ticks, the board to ${room}`);
    return;
  }
  // One more cut parts the last piece from the rest of the board, as far as there is a rest.
  const afterLast = room - needed;
  const lastCut = afterLast < kerf ? afterLast : kerf;
  const offcut = afterLast - lastCut;
  const kerfLoss = needed - used + lastCut;
  const keep = offcut > 0n && offcut >= BigInt(request.saw.keepOffcutsFrom);
  const same = (found: number, expected: bigint, what: string) => {
    if (BigInt(found) !== expected) report('board figures', where, `${what} is ${expected} ticks, not ${found}`);
  };
  same(pattern.used, used, 'the length used');
  same(pattern.kerfLoss, kerfLoss, 'the loss to the kerf');
  same(pattern.offcut, offcut, 'the offcut');
  if (pattern.keep !== keep) report('board figures', where, `the offcut is ${keep ? '' : 'not '}worth keeping`);
}

/** The piece that a cut or an uncut entry speaks of must be there, of that material and that length. */
function checkCut({ pieces, report }: Case, cut: Pick<Cut, 'piece' | 'length'>, material: string, where: string): void {
  const piece = pieces.get(cut.piece);
  if (!piece) {
    report('unknown piece', where, `there is no piece "${cut.piece}"`);
    return;
  }
  if (piece.material !== material) {
    report('material differs', where, `piece "${piece.id}" is ${piece.material}, not ${material}`);
  }
  if (piece.length !== cut.length) {
    report('length differs', where, `piece "${piece.id}" is ${piece.length} ticks long, not ${cut.length}`);
  }
}

function checkStockCounts({ request, taken, report }: Case): void {
  for (const { id, count } of request.stock) {
    const boards = taken.get(id) ?? 0n;
    if (count !== undefined && boards > BigInt(count)) {
      report('stock over count', `stock "${id}"`, `${boards} boards are taken, there are ${count}`);
    }
  }
}

function checkPieces({ request, plan, report }: Case): void {
  const found = new Map<string, bigint>();
  const add = (piece: string, quantity: bigint) => found.set(piece, (found.get(piece) ?? 0n) + quantity);
  for (const { cuts, times } of plan.patterns) {
    for (const { piece, quantity } of cuts) add(piece, BigInt(quantity) * BigInt(times));
  }
  for (const { piece, quantity } of plan.uncut) add(piece, BigInt(quantity));
  for (const { id, quantity } of request.pieces) {
    const cut = found.get(id) ?? 0n;
    const message = `${quantity} are asked for, ${cut} are cut or listed as uncut`;
    if (cut > BigInt(quantity)) report('piece cut too often', `piece "${id}"`, message);
    if (cut < BigInt(quantity)) report('piece missing', `piece "${id}"`, message);
  }
}

/** Of a matched set, as many pieces are uncut as whole sets have. */
function checkUncutSets({ request, plan, report }: Case): void {
  const uncut = new Map<string, bigint>();
  for (const { piece, quantity } of plan.uncut) uncut.set(piece, (uncut.get(piece) ?? 0n) + BigInt(quantity));
  for (const { id, runs } of request.sets ?? []) {
    const each = new Map<string, bigint>();
    for (const { piece, quantity } of runs) each.set(piece, (each.get(piece) ?? 0n) + BigInt(quantity));
    const sets = [...each].map(([piece, quantity]) => ({
      whole: (uncut.get(piece) ?? 0n) / quantity,
      over: (uncut.get(piece) ?? 0n) % quantity,
    }));
    if (sets.some(({ whole, over }) => over > 0n || whole !== sets[0]?.whole))
      report('matched set torn', `set "${id}"`, 'some of its pieces are cut and others are not');
  }
}

/** An uncut piece must be what it says, and there must be no board left for it, or for the set that it belongs to. */
function checkUncut(examined: Case, uncut: Uncut, where: string): void {
  const { request, taken, report } = examined;
  checkCut(examined, uncut, uncut.material, where);
  const ofMaterial = request.stock.filter((board) => board.material === uncut.material);
  const set = examined.setOf.get(uncut.piece);
  const length = set ? lengthOfSet(examined, set) : BigInt(uncut.length);
  const trims = 2n * BigInt(request.saw.trim ?? 0);
  const longEnough = ofMaterial.filter((board) => length + trims <= BigInt(board.length));
  const reason: UncutReason =
    ofMaterial.length === 0
      ? 'no stock of this material'
      : longEnough.length === 0
        ? 'longer than any stock'
        : 'stock used up';
  if (uncut.reason !== reason) {
    report('reason for uncut pieces', where, `"${uncut.piece}" is uncut because: ${reason}; not: ${uncut.reason}`);
  }
  const unused = longEnough.find(({ id, count }) => count === undefined || (taken.get(id) ?? 0n) < BigInt(count));
  if (unused) {
    report(
      'reason for uncut pieces',
      where,
      `"${uncut.piece}" could be cut from stock "${unused.id}", which is not used up`,
    );
  }
}
