/** What a plan leads to as JSON: what is short and who waits, what to buy, and what nearly saves stock. */
import type { Advice } from '../cutting/advice.ts';
import type { Demand, Origin } from '../cutting/demand.ts';
import type { LeverOrigin, Levers } from '../cutting/levers.ts';
import type { NearMiss, Saving } from '../cutting/near-miss.ts';
import type { Purchase, Shortfall } from '../cutting/purchase.ts';
import type { Uncut } from '../cutting/types.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { ticks } from '../model/ticks.ts';
import { lengthJson, moneyJson } from './json.ts';

export function adviceJson(
  advice: Advice | undefined,
  levers: Levers | undefined,
  demand: Demand,
  settings: ProjectSettings,
): object {
  return {
    shortfalls: (advice?.materials ?? []).flatMap(({ shortfall }) =>
      shortfall ? [shortfallJson(shortfall, demand, settings)] : [],
    ),
    nearMisses: (advice?.nearMisses ?? []).flatMap((miss) => {
      const origin = levers?.origins.get(miss.lever);
      return origin ? [nearMissJson(miss, origin, settings)] : [];
    }),
  };
}

export function originJson({ unit, units, path, quantity }: Origin): object {
  return { unit, units, path, quantity };
}

function shortfallJson(shortfall: Shortfall, demand: Demand, settings: ProjectSettings): object {
  const waits = ({ piece, length, quantity }: Uncut): object => ({
    piece,
    length: lengthJson(length, settings.show),
    quantity,
    for: (demand.origins.get(piece) ?? []).map(originJson),
  });
  return {
    material: shortfall.material,
    proven: shortfall.proven,
    waiting: shortfall.waiting.map(waits),
    unbuyable: shortfall.unbuyable.map(waits),
    purchases: shortfall.purchases.map((purchase) => purchaseJson(purchase, settings)),
  };
}

function purchaseJson(purchase: Purchase, { show, currency }: ProjectSettings): object {
  const { aims, proven, boards, boardCount, length, price, totals } = purchase;
  return {
    aims,
    proven,
    boards: boards.map((board) => ({ ...board, length: lengthJson(ticks(board.length), show) })),
    boardCount,
    length: lengthJson(ticks(length), show),
    price: price === undefined ? null : moneyJson(price, currency),
    with: {
      boardCount: totals.boardCount,
      price: totals.price === undefined ? null : moneyJson(totals.price, currency),
      boughtLength: lengthJson(totals.boughtLength, show),
    },
  };
}

function nearMissJson(miss: NearMiss, { kind, name, parts }: LeverOrigin, settings: ProjectSettings): object {
  const { show } = settings;
  return {
    dimension: kind,
    name,
    by: lengthJson(ticks(miss.by), show),
    saves: savingJson(miss.saves, settings),
    further: miss.further
      ? { by: lengthJson(ticks(miss.further.by), show), saves: savingJson(miss.further.saves, settings) }
      : null,
    parts: parts.map(({ unit, units, path, quantity, material, length }) => ({
      unit,
      units,
      path,
      quantity,
      material,
      length: lengthJson(length, show),
    })),
  };
}

function savingJson({ boards, price, length, pieces, atLeast }: Saving, { show, currency }: ProjectSettings): object {
  return {
    boards,
    price: price > 0 ? moneyJson(price, currency) : null,
    length: length > 0 ? lengthJson(ticks(length), show) : null,
    pieces,
    atLeast,
  };
}
