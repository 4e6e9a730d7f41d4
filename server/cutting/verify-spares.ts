/** The part of the verifier about spares: what is cut from the boards beside the pieces that were asked for. */
import type { Cut } from './types.ts';
import { type Case, total } from './verify-case.ts';

/** A spare must be one that is wanted, of that material, and of a length in its range that the saw can be set to. */
export function checkSpareCut({ request, report }: Case, cut: Cut, material: string, where: string): void {
  const spare = request.spares?.find(({ id }) => id === cut.piece);
  if (!spare) {
    report('unknown spare', where, `no spare "${cut.piece}" is wanted`);
    return;
  }
  if (spare.material !== material)
    report('material differs', where, `spare "${spare.id}" is ${spare.material}, not ${material}`);
  if (cut.length < spare.least || cut.length > spare.most) {
    report(
      'spare out of range',
      where,
      `spare "${spare.id}" is wanted from ${spare.least} to ${spare.most} ticks long, and is ${cut.length}`,
    );
  }
  if (BigInt(cut.length) % stepOf(request.saw.step) !== 0n)
    report('spare out of range', where, `the saw cannot be set to the ${cut.length} ticks of spare "${spare.id}"`);
}

/** No more than are wanted; and as long as more are wanted, nothing that is left has room for one. */
export function checkSpares({ request, plan, report }: Case): void {
  const step = stepOf(request.saw.step);
  for (const { id, material, least, quantity } of request.spares ?? []) {
    const cut = total(plan.patterns, ({ spares = [], times }) =>
      total(spares, (spare) => (spare.piece === id ? BigInt(spare.quantity) * BigInt(times) : 0n)),
    );
    if (cut > BigInt(quantity))
      report('spare cut too often', `spare "${id}"`, `${quantity} are wanted, ${cut} are cut`);
    if (cut >= BigInt(quantity)) continue;
    const shortest = ((BigInt(least) + step - 1n) / step) * step;
    const room = plan.patterns.findIndex((board) => board.material === material && BigInt(board.offcut) >= shortest);
    if (room >= 0)
      report(
        'room for a spare',
        `spare "${id}"`,
        `${cut} of ${quantity} are cut, and what pattern ${room + 1} leaves has room for one`,
      );
  }
}

function stepOf(step: number | undefined): bigint {
  return BigInt(step ?? 1);
}
