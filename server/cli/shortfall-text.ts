/** What is short, who waits for it, and what to buy: below the plan. */
import { boardWord, howGood } from '../checks/stock-purchase.ts';
import type { Advice } from '../cutting/advice.ts';
import type { Demand } from '../cutting/demand.ts';
import type { Purchase, Shortfall } from '../cutting/purchase.ts';
import { counted, money } from '../model/money.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { showLength } from '../model/show.ts';
import { ticks } from '../model/ticks.ts';
import { tableLines } from '../sheets/text-table.ts';
import type { Paint } from './style.ts';
import { capital, printable, someOf } from './words.ts';

/** At most so many units, and places in each, are named on a line. */
const mostUnits = 3;
const mostPlaces = 3;

/** `2 in A-101 (top, low)`; where others of the same length are cut, that it is some of them. */
export function waitingText(piece: string, quantity: number, { origins, request }: Demand): string {
  const own = origins.get(piece) ?? [];
  if (own.length === 0) return '';
  const asked = request.pieces.find(({ id }) => id === piece)?.quantity ?? quantity;
  const places = [...Map.groupBy(own, ({ unit }) => unit)].map(([unit, at]) => {
    const paths = at.filter(({ path }) => path !== unit).map(({ path }) => printable(path));
    return paths.length > 0 ? `${printable(unit)} (${someOf(paths, mostPlaces)})` : printable(unit);
  });
  return `${quantity < asked ? `${quantity} of the ${asked} in ` : ''}${someOf(places, mostUnits)}`;
}

/** A section for each material of which the counts do not do. */
export function shortfallTexts(
  advice: Advice | undefined,
  demand: Demand,
  settings: ProjectSettings,
  paint: Paint,
): string[] {
  return (advice?.materials ?? []).flatMap(({ shortfall }) =>
    shortfall && shortfall.purchases.length > 0 ? [shortfallText(shortfall, demand, settings, paint)] : [],
  );
}

function shortfallText(shortfall: Shortfall, demand: Demand, settings: ProjectSettings, paint: Paint): string {
  const { material, purchases, proven } = shortfall;
  const name = printable(material);
  const why = proven
    ? `That the counts of ${name} do not hold all parts is proven in whole numbers.`
    : `No plan was found that does with the counts of ${name}; that there is none is not proven.`;
  return [
    paint('bold', `To buy beyond the counts: ${name}`),
    ...purchases.flatMap((one) => ['', ...purchaseLines(one, boardWord(material, demand), settings)]),
    '',
    `  ${why}`,
  ].join('\n');
}

function purchaseLines(purchase: Purchase, kind: string, { show, currency }: ProjectSettings): string[] {
  const { boards, boardCount, price, length, aims, totals } = purchase;
  const cost = price === undefined ? showLength(ticks(length), show) : money(price, currency);
  const aim = aims.length > 1 ? 'the least, and the cheapest' : aims[0] === 'least' ? 'the least' : 'the cheapest';
  const total = totals.price === undefined ? '' : `, ${money(totals.price, currency)} in all`;
  return [
    `  ${capital(aim)}: ${counted(boardCount, kind)}, ${cost}; ${howGood(purchase)}.`,
    ...tableLines(
      [
        { title: '', align: 'right' },
        { title: '', align: 'left' },
      ],
      boards.map((board) => [`    ${board.count}`, `of ${showLength(ticks(board.length), show)}`]),
    ).slice(1),
    `  With it the ${counted(totals.pieceCount, 'part')} come from ${counted(totals.boardCount, kind)}${total}.`,
  ];
}
